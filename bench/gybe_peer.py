"""Booms caught aback and held by a preventer, by scipy and by numpy: the peer of
BenchmarkGybe.

    python3 gybe_peer.py CASES.json [--repeat 3]

Reads a list of cases as the gybe engine takes them (one preventer to port with
friction nowhere, a straight stretch law) and writes, for each, the runs of
"settles" and "stops": both ends of the wind, half, once and twice the
stiffness, both ends of the slack. A way that scipy goes (a scan for the first
crossing in quarter degrees, then brentq) and one that numpy goes over all cases
at once (the same scan, then bisection) must agree; the times of both are
written too, the best of the repeats.
"""

import argparse
import json
import time

import numpy as np
from scipy.optimize import brentq

STEP = np.pi / 720


def runs_of(case):
    """One row for each run: the same order as the engine's."""
    boom, sail, p = case["boom"], case["sail"], case["preventers"][0]
    wind, slack = case["wind_m_s"], p["slack_m"]
    turns = np.array([[t["spot"][k] for k in "xyz"] for t in p["turns"]])
    tail = np.linalg.norm(np.diff(turns, axis=0), axis=1).sum()
    steep = boom.get("rise_m", 0.0) / boom["length_m"]
    goose = np.array([boom["gooseneck"][k] for k in "xyz"])
    out = []
    for v in (wind["low"], wind["high"]):
        moment = 0.5 * 1.225 * v * v * sail["area_m2"] * sail["force_coefficient"] * sail["aft_m"]
        for k in (0.5, 1, 2):
            for s in (slack["low"], slack["high"]):
                out.append((moment, k * p["line"]["stiffness_n"], s, boom["out_rad"], p["at_m"], steep, *goose, *turns[0], tail))
    return np.array(out)


def pose(r, b):
    """Length of the way, and lever of the pull, at boom angles b (runs along the last axis but one)."""
    at, steep, gx, gy, gz, tx, ty, tz, tail = r[4:]
    flat = np.sqrt(1 - steep * steep)
    sin, cos = np.sin(b), np.cos(b)
    dx, dy, dz = tx - gx + at * flat * cos, ty - gy - at * flat * sin, tz - gz - at * steep
    leg = np.sqrt(dx * dx + dy * dy + dz * dz)
    return leg + tail, at * flat * (dx * sin + dy * cos) / leg


def functions(r):
    moment, ea, slack, out = r[:4]
    own = pose(r, out)[0] + slack

    def settle(b):
        length, lever = pose(r, b)
        return ea * np.maximum(length / own - 1, 0) * lever - moment

    def stop(b):
        stretch = np.maximum(pose(r, b)[0] - own, 0)
        return ea * stretch * stretch / (2 * own) - moment * (out - b)

    def tension(b):
        return ea * np.maximum(pose(r, b)[0] / own - 1, 0)

    return settle, stop, tension


def by_scipy(cases):
    """A run at a time: scan, then brentq. nan where the boom is not held."""
    answers = []
    for case in cases:
        rows = []
        for r in runs_of(case):
            settle, stop, tension = functions(r)
            grid = np.append(np.arange(r[3], -r[3], -STEP), -r[3])
            lever = pose(r, grid)[1]
            end = np.argmax(lever <= 0) if (lever <= 0).any() else len(grid)
            row = []
            for f in (settle, stop):
                on = f(grid[1:end]) >= 0
                if not on.any():
                    row += [np.nan, np.nan]
                    continue
                i = np.argmax(on) + 1
                b = brentq(f, grid[i - 1] if f is settle or i > 1 else grid[i - 1] - 1e-9, grid[i], xtol=1e-14)
                row += [b, float(tension(b))]
            rows.append(row)
        answers.append(rows)
    return np.array(answers)


def by_numpy(cases, block=1200):
    """All runs of a block at once: the scan as one array, then 60 halvings."""
    rows = np.concatenate([runs_of(c) for c in cases])
    parts = [solve_block(rows[i:i + block].T[:, :, None]) for i in range(0, len(rows), block)]
    return np.concatenate(parts).reshape(len(cases), -1, 4)


def solve_block(r):
    settle, stop, tension = functions(r)
    out = r[3]
    n = int(np.ceil(2 * out.max() / STEP)) + 1
    grid = np.maximum(out - STEP * np.arange(n), -out)
    alive = np.logical_and.accumulate(pose(r, grid)[1] > 0, axis=1)
    result = np.empty((grid.shape[0], 4))
    for j, f in enumerate((settle, stop)):
        on = (f(grid) >= 0) & alive
        on[:, 0] = False
        i = np.maximum(np.argmax(on, axis=1), 1)
        a, b = (np.take_along_axis(grid, (i - k)[:, None], 1) for k in (1, 0))
        for _ in range(60):
            mid = (a + b) / 2
            held = f(mid) >= 0
            a, b = np.where(held, a, mid), np.where(held, mid, b)
        found = on.any(axis=1)
        result[:, 2 * j] = np.where(found, b[:, 0], np.nan)
        result[:, 2 * j + 1] = np.where(found, tension(b)[:, 0], np.nan)
    return result


def main():
    args = argparse.ArgumentParser()
    args.add_argument("cases")
    args.add_argument("--repeat", type=int, default=1)
    args = args.parse_args()
    with open(args.cases) as f:
        cases = json.load(f)
    report = {}
    for name, way in (("scipy", by_scipy), ("numpy", by_numpy)):
        best = np.inf
        for _ in range(args.repeat):
            began = time.perf_counter()
            answers = way(cases)
            best = min(best, time.perf_counter() - began)
        report[name] = {"seconds": best, "runs": np.where(np.isnan(answers), None, answers).tolist()}
    print(json.dumps(report))


if __name__ == "__main__":
    main()
