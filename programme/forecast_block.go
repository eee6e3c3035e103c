package programme

import (
	"math/bits"
	"slices"
)

// words hold a bit for each trial of a block.
const words = block / 64

// bitset has a bit for each trial of a block.
type bitset [words]uint64

var everyBit = func() (all bitset) {
	for i := range all {
		all[i] = ^uint64(0)
	}
	return all
}()

// worker passes blocks of trials. Its rows hold a start or a finish of a place
// for each trial of the block, as work of the place's clock.
type worker struct {
	m       *model
	n       int      // trials of the block
	real    rows     // as it comes
	calm    rows     // without the waiting: from these points take their dates
	factors *factors // of the block
	length  []int64
	pause   []int64
	lower   []uint32   // halves of draws that lengths do not use
	begin   []int64    // of a place whose start nobody asks for
	finish  []int64    // the same
	need    [3][]int64 // what links ask for
	was     [2][]int64
	held    [][]int64 // by hold: how long it waited for the visit
	mask    []bitset  // by link: where it drives
	crit    []bitset  // by place
	tally   *tally
}

// rows hold starts and finishes.
type rows struct{ start, end [][]int64 }

func (m *model) newRows(n int32) [][]int64 {
	all, out := make([]int64, int(n)*m.block), make([][]int64, n)
	for i := range out {
		out[i] = all[i*m.block : (i+1)*m.block]
	}
	return out
}

func (m *model) newWorker() *worker {
	scratch := m.newRows(9)
	w := &worker{
		m: m, real: rows{m.newRows(m.starts), m.newRows(m.ends)}, factors: newFactors(len(m.factors.of), m.block),
		length: scratch[0], pause: scratch[1], begin: scratch[2], finish: scratch[3], need: [3][]int64(scratch[4:7]), was: [2][]int64(scratch[7:]),
		held: m.newRows(int32(len(m.holds))), mask: make([]bitset, m.links), crit: make([]bitset, len(m.places)),
		lower: make([]uint32, m.block),
	}
	w.calm = w.real
	if !m.calm {
		w.calm = rows{m.newRows(m.starts), m.newRows(m.ends)}
	}
	return w
}

// run passes and counts n trials, the first of them from.
func (w *worker) run(from, n int) error {
	finish := w.count
	if w.m.launchOnly {
		finish = w.add
	}
	if err := w.pass(from, n, finish); err != nil {
		return err
	}
	w.countLaunch(from)
	w.tally.trials += n
	if !w.m.launchOnly {
		w.trace()
		w.countPoints(from)
	}
	return nil
}

// pass passes a block. finish is called with each place, its starts, and the row
// into which it is to put its finishes: starts and lengths. A network with loops
// is swept until nothing moves.
func (w *worker) pass(from, n int, finish func(j int32, start, end []int64)) error {
	m := w.m
	w.n = n
	w.factors.take(m.factors, from, n)
	if m.net.loop != nil {
		if err := w.sweep(from); err != nil {
			return err
		}
	}
	for _, j := range m.order {
		w.place(j, from, finish)
	}
	return nil
}

// sweep passes a network with loops until no start moves: from where nothing is
// later than it may be.
func (w *worker) sweep(from int) error {
	m := w.m
	for _, set := range [2]rows{w.real, w.calm} {
		for _, j := range m.order {
			p := &m.places[j]
			for b := range w.n {
				set.start[p.start][b], set.end[p.end][b] = p.base, p.base
			}
		}
	}
	for k := range m.net.mostSweeps() + 1 {
		changed := k == 0 // finishes come in with the first
		for _, j := range m.order {
			r := m.places[j].start
			copy(w.was[0], w.real.start[r])
			copy(w.was[1], w.calm.start[r])
			w.place(j, from, w.add)
			changed = changed || !slices.Equal(w.was[0], w.real.start[r]) || !slices.Equal(w.was[1], w.calm.start[r])
		}
		if !changed {
			return nil
		}
	}
	return newPass(m.net).endless(m.net.loop[0])
}

// place passes one place.
func (w *worker) place(j int32, from int, finish func(j int32, start, end []int64)) {
	p := &w.m.places[j]
	w.length = w.length[:w.n]
	if p.wait {
		w.pause = w.pause[:w.n]
		p.draw(from, w.factors, w.length, w.lower[:w.n])
		w.m.pauses(p, w.factors, w.lower[:w.n], w.pause)
	} else {
		p.draw(from, w.factors, w.length, nil)
	}
	finish(j, w.starts(p, &w.real, true), w.row(w.real.end, p.end, w.finish))
	if !w.m.calm && p.early {
		w.add(j, w.starts(p, &w.calm, false), w.row(w.calm.end, p.end, w.finish))
	}
}

// row is a row of the set, or, where a place has none, one to forget.
func (w *worker) row(set [][]int64, i int32, forget []int64) []int64 {
	if i >= 0 {
		return set[i][:w.n]
	}
	return forget[:w.n]
}

// add puts the finishes of a place into end.
func (w *worker) add(_ int32, start, end []int64) { sum(end, start, w.length) }

// sum puts the sums of a and b into out.
func sum(out, a, b []int64) {
	a, b = a[:len(out)], b[:len(out)]
	for i := range out {
		out[i] = a[i] + b[i]
	}
}

// starts returns the starts of a place: it may be the row of finishes that it
// follows.
func (w *worker) starts(p *place, at *rows, real bool) []int64 {
	own := w.row(at.start, p.start, w.begin)
	note := real && !w.m.launchOnly
	start := w.meet(p, own, at, note)
	if p.wait && real {
		sum(own, start, w.pause)
		start = own
	}
	if &start[0] != &own[0] && (p.start >= 0 || p.bound || p.hold >= 0) {
		copy(own, start)
		start = own
	}
	if p.bound {
		w.meetEnds(p, own, at, note)
	}
	if p.hold >= 0 {
		w.visit(p, own, note)
	}
	return start
}

// trace marks, from the launch back, the places on the chain that drives it.
func (w *worker) trace() {
	m := w.m
	clear(w.crit)
	if m.launch < 0 {
		return
	}
	first := &w.crit[m.launch]
	for b := range w.n {
		first[b/64] |= 1 << (b % 64)
	}
	for changed := true; changed; {
		changed = false
		for k := len(m.order) - 1; k >= 0; k-- {
			j := m.order[k]
			c := w.crit[j]
			if c == (bitset{}) {
				continue
			}
			in := m.places[j].in
			for i := range in {
				f, mask := &w.crit[in[i].from], &w.mask[in[i].id]
				was := *f
				for q := range f {
					f[q] |= c[q] & mask[q]
				}
				changed = changed || was != *f
			}
		}
		if m.net.loop == nil {
			break
		}
	}
	for _, j := range m.order {
		for _, word := range w.crit[j] {
			w.tally.crit[j] += uint32(bits.OnesCount64(word))
		}
		if h := m.places[j].hold; h >= 0 {
			for b, held := range w.held[h][:w.n] {
				w.tally.owner[h] += held * int64(w.crit[j][b/64]>>(b%64)&1)
			}
		}
	}
}
