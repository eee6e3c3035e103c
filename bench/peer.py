"""The forecast of a network of steps by numpy: the peer of BenchmarkForecast.

    python3 peer.py CASE.json [--forward] [--trials N] [--chunk N] [--group N]
                              [--processes N] [--repeat N] [--out RESULT.json]

Time runs in slots of half an hour. In each trial a step takes a lognormal length
at its trade's pace, waits a while when all that it follows is finished, and then
starts. Every calendar has a table from slots to work and one back; where the
case has one calendar alone, work is compared with work and no table is read
before the end. A chunk of trials passes together, on all processes; steps are
drawn and counted in groups, and rows of finishes are used again after the last
step that follows, so that they stay in the cache. Where points hang on a step,
it is passed once more without the waits.

Outputs: P10, P50 and P90 of every start and finish, counted in bins laid over a
pilot's trials; how often a step lies on the chain that drives the launch; the
launch; by when each point must be decided. Forward alone: the launch.
"""

import argparse
import json
import mmap
import multiprocessing
import time

import numpy as np

BINS, PILOT = 512, 256
QUANTILES = (0.1, 0.5, 0.9)


class Network:
    def __init__(self, case):
        steps = case["steps"]
        self.n = len(steps)
        self.mu = np.log(np.array([s["median"] for s in steps], np.float32))
        self.sigma = np.array([s["sigma"] for s in steps], np.float32)
        self.trade = np.array([s["trade"] for s in steps])
        self.calendar = [s["calendar"] for s in steps]
        self.after = [s["after"] or [] for s in steps]
        self.pace = np.log(np.array(case["paces"], np.float32))
        self.wait = np.array(case["waits"], np.float32)  # mean, in days
        self.waits = bool(self.wait.any())
        self.day = np.array([case["day"][s["calendar"]] for s in steps], np.float32)  # slots of work
        self.points = {p["covers"]: (i, p["lead"], p["calendar"]) for i, p in enumerate(case["points"])}
        self.one = len(case["calendars"]) == 1
        self.worked, self.latest, self.earliest = [], [], []
        for days in case["calendars"]:  # of each day the slots that are worked: from and to
            slots = np.zeros((len(days), 48), bool)
            for day, (first, last) in zip(slots, days):
                day[first:last] = True
            at = np.flatnonzero(slots)
            self.worked.append(np.concatenate(([0], np.cumsum(slots))))
            self.latest.append(at)  # the slot in which work goes on after so much of it
            self.earliest.append(np.concatenate(([0], at + 1)))  # by the end of which so much is done
        self.lay_rows()
        self.early = [False] * self.n  # a point hangs on it
        todo = list(self.points)
        while todo:
            j = todo.pop()
            if not self.early[j]:
                self.early[j] = True
                todo += self.after[j]

    def lay_rows(self):
        last = list(range(self.n))
        for j, after in enumerate(self.after):
            for p in after:
                last[p] = j
        self.open = [last[j] == j for j in range(self.n)]  # nothing follows
        over = [[] for _ in range(self.n)]
        for j in range(self.n):
            over[last[j]].append(j)
        free, self.row, self.rows = [], [], 0
        for j in range(self.n):
            if not free:
                free.append(self.rows)
                self.rows += 1
            self.row.append(free.pop())
            free += [self.row[e] for e in over[j]]


class Block:
    """A chunk of trials, passed through the network together."""

    def __init__(self, net, chunk, group, full):
        self.net, self.chunk, self.group, self.full = net, chunk, group, full
        self.finish = np.empty((net.rows, chunk), np.intp)
        self.calm = np.empty((net.rows, chunk), np.intp)  # without the waits
        self.z = np.empty((group, chunk), np.float32)
        self.length = np.empty((group, chunk), np.intp)
        self.pause = np.empty((group, chunk), np.intp)
        self.work = np.empty((2 * group, chunk), np.intp)  # of starts and finishes in turn
        self.moment, self.bare = np.empty(chunk, np.intp), np.empty(chunk, np.intp)
        self.later = np.empty(chunk, bool)
        self.launch, self.drives = np.empty(chunk, np.intp), np.empty(chunk, np.intp)
        if full:
            self.second = np.empty((net.n, chunk), bool)
            self.critical = np.empty((net.n, chunk), bool)

    def play(self, rng, first, counted=None, covered=None):
        """Passes trials from first on; counted and covered are called with each
        group of steps, and with the start of each step on which a point hangs."""
        net = self.net
        draws = np.arange(first, first + self.chunk) % len(net.pace)
        pace, wait = np.ascontiguousarray(net.pace[draws].T), net.wait[draws]
        self.launch[:] = 0
        self.drives[:] = 0
        for g in range(0, net.n, self.group):
            m = min(self.group, net.n - g)
            self.draw(rng, g, m, pace, wait)
            for i in range(m):
                j = g + i
                start, finish = self.work[2 * i], self.work[2 * i + 1]
                self.step(j, self.finish, start, finish, self.length[i], self.pause[i])
                if self.full and net.waits and net.early[j]:
                    self.step(j, self.calm, self.bare, self.moment, self.length[i], None)
                    start = self.bare
                if covered and j in net.points:
                    covered(j, start)
            if counted:
                counted(g, m)

    def draw(self, rng, g, m, pace, wait):
        net, z = self.net, self.z[:m]
        rng.standard_normal(out=z, dtype=np.float32)
        z *= net.sigma[g : g + m, None]
        z += net.mu[g : g + m, None]
        z += pace[net.trade[g : g + m]]
        np.exp(z, out=z)
        np.add(z, 0.5, out=self.length[:m], casting="unsafe")
        if net.waits:
            rng.standard_exponential(out=z, dtype=np.float32)
            z *= net.day[g : g + m, None]
            np.multiply(z, wait, out=self.pause[:m], casting="unsafe")

    def ready(self, own, finish, out):
        """What is worked on a calendar by the finish of a step on any."""
        if self.net.one:
            out[:] = finish
        else:
            np.take(self.net.worked[own], finish, out=out, mode="clip")

    def step(self, j, rows, start, finish, length, pause):
        """Passes a step: with its waits, and noting what drives it, or without."""
        net = self.net
        after, own, out = net.after[j], net.calendar[j], rows[net.row[j]]
        note = self.full and pause is not None
        if not after:
            start[:] = 0
        else:
            self.ready(own, rows[net.row[after[0]]], start)
        if len(after) == 2:
            b = rows[net.row[after[1]]]
            if not net.one:
                b = np.take(net.worked[own], b, out=self.moment, mode="clip")
            if note:
                np.greater(b, start, out=self.second[j])
            np.maximum(start, b, out=start)
        if pause is not None and net.waits:
            start += pause
        np.add(start, length, out=finish)
        if net.one:
            out[:] = finish
        else:
            np.take(net.earliest[own], finish, out=out, mode="clip")
        if net.open[j] and pause is not None:
            if self.full:
                np.greater(out, self.launch, out=self.later)
                np.copyto(self.drives, j, where=self.later)
            np.maximum(self.launch, out, out=self.launch)

    def trace(self):
        """How often each step lies on the chain that drives the launch."""
        crit, t = self.critical, self.later
        crit[:] = False
        crit[self.drives, np.arange(self.chunk)] = True
        for j in range(self.net.n - 1, -1, -1):
            after = self.net.after[j]
            if len(after) == 1:
                a = crit[after[0]]
                np.logical_or(a, crit[j], out=a)
            elif after:
                a, b = crit[after[0]], crit[after[1]]
                np.logical_and(crit[j], self.second[j], out=t)
                np.logical_or(b, t, out=b)
                np.greater(crit[j], self.second[j], out=t)
                np.logical_or(a, t, out=a)
        return np.count_nonzero(crit, axis=1)


def shared(shape, dtype):
    size = int(np.prod(shape)) * np.dtype(dtype).itemsize
    return np.frombuffer(mmap.mmap(-1, size), dtype).reshape(shape)


class Run:
    def __init__(self, net, args):
        self.net, self.args = net, args
        self.launch = shared(args.trials, np.intp)
        if not args.forward:
            self.lo, self.shift = shared(2 * net.n, np.intp), shared(2 * net.n, np.intp)
            self.counts = shared((args.processes, 2 * net.n, BINS), np.int32)
            self.critical = shared((args.processes, net.n), np.intp)
            self.decide = shared((max(len(net.points), 1), args.trials), np.intp)
        self.tasks, self.done = multiprocessing.SimpleQueue(), multiprocessing.SimpleQueue()
        self.workers = [multiprocessing.Process(target=self.work, args=(p,), daemon=True) for p in range(args.processes)]
        for w in self.workers:
            w.start()

    def stop(self):
        for _ in self.workers:
            self.tasks.put(None)
        for w in self.workers:
            w.join()

    def once(self, seed):
        """The result, and the processor time that it took on all cores."""
        spent = -time.process_time()
        if not self.args.forward:
            self.counts[:] = 0
            self.critical[:] = 0
            self.pilot(seed)
        chunks = range(0, self.args.trials, self.args.chunk)
        for first in chunks:
            self.tasks.put((seed, first))
        for _ in chunks:
            spent += self.done.get()
        result = self.result()
        return result, spent + time.process_time()

    def pilot(self, seed):
        lo, hi = np.empty(2 * self.net.n, np.intp), np.empty(2 * self.net.n, np.intp)
        b = Block(self.net, PILOT, self.args.group, True)

        def note(g, m):
            lo[2 * g : 2 * (g + m)] = b.work[: 2 * m].min(axis=1)
            hi[2 * g : 2 * (g + m)] = b.work[: 2 * m].max(axis=1)

        b.play(np.random.Generator(np.random.SFC64([seed, 1 << 20])), 0, note)
        pad = (hi - lo + 3) // 4
        lo -= pad
        hi += pad
        self.shift[:] = np.ceil(np.log2(np.maximum((hi - lo + 1) / BINS, 1))).astype(np.intp)
        self.lo[:] = lo

    def work(self, number):
        args, net = self.args, self.net
        b = Block(net, args.chunk, args.group, not args.forward)
        offset = (np.arange(2 * args.group) * BINS)[:, None]

        def count(g, m):
            at, w = slice(2 * g, 2 * (g + m)), b.work[: 2 * m]
            w -= self.lo[at, None]
            w >>= self.shift[at, None]
            np.clip(w, 0, BINS - 1, out=w)
            w += offset[: 2 * m]
            self.counts[number, at] += np.bincount(w.ravel(), minlength=2 * m * BINS).reshape(2 * m, BINS)

        def point(j, start):
            i, lead, on = net.points[j]
            if on != net.calendar[j]:
                start = net.worked[on][net.latest[net.calendar[j]][start]]
            self.decide[i, first : first + args.chunk] = net.latest[on][np.maximum(start - lead, 0)]

        while (task := self.tasks.get()) is not None:
            seed, first = task
            spent = -time.process_time()
            rng = np.random.Generator(np.random.SFC64([seed, first]))
            if args.forward:
                b.play(rng, first)
            else:
                b.play(rng, first, count, point)
                self.critical[number] += b.trace()
            self.launch[first : first + args.chunk] = b.launch
            self.done.put(spent + time.process_time())

    def result(self):
        net, trials = self.net, self.args.trials
        ranks = [int(np.ceil(q * trials)) for q in QUANTILES]
        launch = np.sort(self.launch)
        if net.one:
            launch = net.earliest[0][launch]
        out = {"launch": [int(launch[r - 1]) for r in ranks]}
        if self.args.forward:
            return out
        sums = np.cumsum(self.counts.sum(axis=0), axis=1)
        rows, dates = np.arange(2 * net.n), np.empty((2 * net.n, len(ranks)), np.intp)
        for i, rank in enumerate(ranks):
            at = np.argmax(sums >= rank, axis=1)
            before = np.where(at > 0, sums[rows, np.maximum(at - 1, 0)], 0)
            width = 1 << self.shift
            dates[:, i] = self.lo + at * width + (2 * (rank - before) - 1) * width // (2 * (sums[rows, at] - before))
        calendars = np.array(net.calendar)
        for c in range(len(net.worked)):
            own = np.flatnonzero(calendars == c)
            dates[2 * own] = net.latest[c][dates[2 * own]]
            dates[2 * own + 1] = net.earliest[c][dates[2 * own + 1]]
        decide = np.sort(self.decide, axis=1)
        return out | {
            "start": dates[::2].tolist(),
            "finish": dates[1::2].tolist(),
            "criticality": (self.critical.sum(axis=0) / trials).tolist(),
            "decide": decide[:, [r - 1 for r in ranks]].tolist(),
        }


def main():
    p = argparse.ArgumentParser(description=__doc__.split("\n")[0])
    p.add_argument("case")
    p.add_argument("--forward", action="store_true", help="lengths and dates to the launch, and no more")
    p.add_argument("--trials", type=int, default=10000)
    p.add_argument("--chunk", type=int, default=5000, help="trials together; divides the trials")
    p.add_argument("--group", type=int, default=16, help="steps drawn and counted together")
    p.add_argument("--processes", type=int, default=2)
    p.add_argument("--repeat", type=int, default=3, help="the best of so many")
    p.add_argument("--out", help="where the result is written")
    args = p.parse_args()
    if args.trials % args.chunk:
        p.error("the chunk must divide the trials")
    with open(args.case) as f:
        net = Network(json.load(f))
    run, best, least = Run(net, args), float("inf"), float("inf")
    for seed in range(args.repeat):
        began = time.perf_counter()
        result, spent = run.once(seed)
        best, least = min(best, time.perf_counter() - began), min(least, spent)
    run.stop()
    if args.out:
        with open(args.out, "w") as f:
            json.dump(result, f)
    each = 1e9 / net.n / args.trials
    print(json.dumps({"seconds": best, "ns_per_step_trial": best * each, "core_ns_per_step_trial": least * each}))


if __name__ == "__main__":
    main()
