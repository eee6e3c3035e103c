"""The same equilibria by numpy: all cases at once.

Reads lines of "ax ay az bx by bz rest at ea fx fy fz" (a span in space, a hook
that grips it, a load), turns each into the plane of chord and load, solves them
by Newton's method with shortened steps, batched, what has converged leaving the
batch, and turns them back; and solves them again in space, without that turn,
with numpy's own solver for the three equations of each. Prints seconds of
processor time, the best of five: of all of the first, of its plane part alone,
of the second; then "x y z ta tb" and the loads on both ends of each.
"""
import sys
import time

import numpy as np


def pull(x, y, rest, ea):
    r = np.hypot(x, y)
    t = np.maximum(0.0, ea * (r / rest - 1.0))
    k = np.where(t > 0, ea / rest, 0.0)
    nx, ny, across = x / r, y / r, t / r
    return t, t * nx, t * ny, across + (k - across) * nx * nx, (k - across) * nx * ny, across + (k - across) * ny * ny


def gradient(c, x, y):
    chord, a, b, ea, fx, fy = c
    ta, ax, ay, axx, axy, ayy = pull(x, y, a, ea)
    tb, bx, by, bxx, bxy, byy = pull(x - chord, y, b, ea)
    return ta, tb, ax + bx - fx, ay + by - fy, axx + bxx, axy + bxy, ayy + byy


def solve(cases):
    chord, a, b, ea, fx, fy = cases
    f = np.hypot(fx, fy)
    xi = a / (a + b)
    slack = np.maximum(0.0, (a + b) ** 2 - chord**2)
    s = np.cbrt(f / ea)
    y = np.sqrt((slack + (s * chord) ** 2) * xi * (1 - xi))
    x, y = chord * xi + 0.5 * y * fx / f, y * fy / f + 1e-3 * chord
    out = np.empty((4, len(f)))
    live = np.arange(len(f))
    c = cases
    g = gradient(c, x, y)
    for _ in range(100):
        done = np.abs(g[2]) + np.abs(g[3]) <= 1e-9 * (np.hypot(c[4], c[5]) + g[0] + g[1])
        if done.any():
            out[:, live[done]] = x[done], y[done], g[0][done], g[1][done]
            keep = ~done
            live, c, x, y = live[keep], c[:, keep], x[keep], y[keep]
            g = tuple(v[keep] for v in g)
        if not len(live):
            return out
        _, _, gx, gy, xx, xy, yy = g
        det = xx * yy - xy * xy
        soft = np.where(det <= 1e-14 * (xx + yy) ** 2, 1e-7 * (xx + yy) + 1.0, 0.0)
        xx, yy = xx + soft, yy + soft
        det = xx * yy - xy * xy
        dx, dy = (xy * gy - yy * gx) / det, (xy * gx - xx * gy) / det
        slope = gx * dx + gy * dy
        t = np.ones(len(live))
        for _ in range(20):
            n = gradient(c, x + t * dx, y + t * dy)
            new = n[2] * dx + n[3] * dy
            over = new > -0.9 * slope
            if not over.any():
                break
            t = np.where(over, t * np.maximum(slope / (slope - new), 0.1), t)
        x, y, g = x + t * dx, y + t * dy, n
    raise SystemExit("%d cases did not converge" % len(live))


def whole(c):
    a, b, f = c[0:3], c[3:6], c[9:12]
    rest, at, ea = c[6], c[7], c[8]
    along = b - a
    chord = np.sqrt((along * along).sum(0))
    along /= chord
    fx = (f * along).sum(0)
    across = f - fx * along
    fy = np.sqrt((across * across).sum(0))
    across /= fy
    x, y, ta, tb = solve(np.stack([chord, at * rest, (1 - at) * rest, ea, fx, fy]))
    p = a + x * along + y * across
    to_a, to_b = p - a, p - b
    ra, rb = np.sqrt((to_a * to_a).sum(0)), np.sqrt((to_b * to_b).sum(0))
    ends = np.concatenate([ta / ra * to_a, tb / rb * to_b])
    energy = ta * ta * at * rest / (2 * ea) + tb * tb * (1 - at) * rest / (2 * ea)
    return np.concatenate([p, [ta, tb], ends, [energy]]), (chord, at * rest, (1 - at) * rest, ea, fx, fy)


def leg(p, end, rest, ea):
    d = p - end
    r = np.sqrt((d * d).sum(1))
    n = d / r[:, None]
    t = np.maximum(0.0, ea * (r / rest - 1.0))
    k = np.where(t > 0, ea / rest, 0.0)
    nn = n[:, :, None] * n[:, None, :]
    across = t / r
    return t, t[:, None] * n, across[:, None, None] * (np.eye(3) - nn) + k[:, None, None] * nn


def space(c):
    a, b, f = c[0:3].T.copy(), c[3:6].T.copy(), c[9:12].T.copy()
    la, lb, ea = c[7] * c[6], (1 - c[7]) * c[6], c[8]
    size = np.sqrt((f * f).sum(1))
    p = a + c[7][:, None] * (b - a) + 0.3 * f / size[:, None]
    out = np.empty((len(f), 3))
    live = np.arange(len(f))

    def balance(p):
        ta, ga, ha = leg(p, a, la, ea)
        tb, gb, hb = leg(p, b, lb, ea)
        return ta + tb, ga + gb - f, ha + hb

    t, g, h = balance(p)
    for _ in range(100):
        done = np.abs(g).sum(1) <= 1e-9 * (size + t)
        if done.any():
            out[live[done]] = p[done]
            keep = ~done
            live, p, a, b, f, la, lb, ea, size, g, h = (v[keep] for v in (live, p, a, b, f, la, lb, ea, size, g, h))
        if not len(live):
            return out
        d = np.linalg.solve(h + 1e-3 * np.eye(3), -g[:, :, None])[:, :, 0]
        slope = (g * d).sum(1)
        step = np.ones(len(live))
        for _ in range(20):
            t, n, hn = balance(p + step[:, None] * d)
            new = (n * d).sum(1)
            over = new > -0.9 * slope
            if not over.any():
                break
            step = np.where(over, step * np.maximum(slope / (slope - new), 0.1), step)
        p, g, h = p + step[:, None] * d, n, hn
    raise SystemExit("%d cases did not converge" % len(live))


def timed(f, *args):
    best = float("inf")
    for _ in range(5):
        began = time.process_time()
        out = f(*args)
        best = min(best, time.process_time() - began)
    return best, out


def main():
    cases = np.loadtxt(sys.stdin, ndmin=2).T.copy()
    best, (out, plane) = timed(whole, cases)
    flat, _ = timed(solve, np.stack(plane))
    third, places = timed(space, cases)
    apart = np.abs(places - out[0:3].T).max()
    if apart > 1e-6:
        raise SystemExit("the two ways of the peer are %g m apart" % apart)
    print(float(best), float(flat), float(third))
    np.savetxt(sys.stdout, out.T, fmt="%.15g")


main()
