package programme

import (
	"math/bits"
	"slices"
)

const words = block / 64

// worker passes blocks of trials. Its rows hold a start and a finish of a place
// for each trial, as work of the place's clock; calm rows are those without
// the waiting, from which points take their dates.
type worker struct {
	m          *model
	start, end []row
	calmStart  []row
	calmEnd    []row
	pace       [][block]float64
	wait       [block]float64
	length     row
	pause      row
	need       row
	scratch    row
	held       []row // by hold: how long it waited for the visit
	mask       [][words]uint64
	crit       [][words]uint64
	tally      *tally
	unmet      []bool
}

type row = [block]int64

func (m *model) newWorker() *worker {
	w := &worker{
		m: m, start: make([]row, m.rows), end: make([]row, m.rows), held: make([]row, len(m.holds)),
		mask: make([][words]uint64, m.links), crit: make([][words]uint64, len(m.places)), unmet: make([]bool, len(m.holds)),
	}
	w.calmStart, w.calmEnd = w.start, w.end
	if !m.calm {
		w.calmStart, w.calmEnd = make([]row, m.rows), make([]row, m.rows)
	}
	w.pace = make([][block]float64, len(m.l.Trades)+2)
	return w
}

// run passes the trials from on, and counts n of them.
func (w *worker) run(from, n int) error {
	if err := w.pass(from, func(j int32) { w.count(j, n) }); err != nil {
		return err
	}
	w.trace(n)
	w.countLaunch(from, n)
	w.countPoints(from, n)
	w.tally.trials += n
	return nil
}

// pass passes a block; done is called with each place when its rows hold. A
// network with loops is swept until nothing moves.
func (w *worker) pass(from int, done func(int32)) error {
	m := w.m
	m.paces(from, w.pace, &w.wait)
	if m.net.loop == nil {
		for _, j := range m.order {
			w.place(j, from)
			done(j)
		}
		return nil
	}
	for i := range w.start {
		w.start[i], w.end[i], w.calmStart[i], w.calmEnd[i] = row{}, row{}, row{}, row{}
	}
	for range m.net.mostSweeps() {
		changed := false
		for _, j := range m.order {
			r := m.places[j].row
			was, calm := w.start[r], w.calmStart[r]
			w.place(j, from)
			changed = changed || was != w.start[r] || calm != w.calmStart[r]
		}
		if !changed {
			for _, j := range m.order {
				done(j)
			}
			return nil
		}
	}
	return newPass(m.net).endless(m.net.loop[0])
}

// place passes one place.
func (w *worker) place(j int32, from int) {
	p := &w.m.places[j]
	p.draw(from, &w.pace[p.pace], &w.length)
	start, end := &w.start[p.row], &w.end[p.row]
	w.meet(p, start, w.start, w.end, true)
	if p.wait {
		w.pauses(p, from)
		for b := range start {
			start[b] += w.pause[b]
		}
	}
	w.meetEnds(p, start, w.start, w.end, true)
	if p.hold >= 0 {
		w.visit(p, start, true)
	}
	for b := range end {
		end[b] = start[b] + w.length[b]
	}
	if w.m.calm || !p.early {
		return
	}
	start, end = &w.calmStart[p.row], &w.calmEnd[p.row]
	w.meet(p, start, w.calmStart, w.calmEnd, false)
	w.meetEnds(p, start, w.calmStart, w.calmEnd, false)
	if p.hold >= 0 {
		w.visit(p, start, false)
	}
	for b := range end {
		end[b] = start[b] + w.length[b]
	}
}

// meet puts into out the earliest start that p's base and the links to its
// start allow. The first link that sets it is noted as driving.
func (w *worker) meet(p *place, out *row, starts, ends []row, note bool) {
	met := false
	for i := range p.in {
		l := &p.in[i]
		if l.end {
			continue
		}
		var drives [words]uint64
		if need := w.needs(p, l, starts, ends); met {
			drives = raise(out, need)
		} else {
			drives, met = over(out, need, p.base), true
		}
		if note {
			w.note(p, i, false, drives)
		}
	}
	if !met {
		for b := range out {
			out[b] = p.base
		}
	}
}

// over puts the later of need and base into out, and returns where need is not
// before base: a link that asks for the base itself drives.
func over(out, need *row, base int64) (drives [words]uint64) {
	for k := range drives {
		var word uint64
		a, n := (*[64]int64)(out[64*k:]), (*[64]int64)(need[64*k:])
		for b := range a {
			after := n[b] - base
			a[b] = base + after&^(after>>63)
			word |= uint64(^after>>63) & 1 << b
		}
		drives[k] = word
	}
	return drives
}

// meetEnds does the same for what bounds its finish.
func (w *worker) meetEnds(p *place, out *row, starts, ends []row, note bool) {
	if p.final > lowest {
		for b := range w.need {
			w.need[b] = p.final - w.length[b]
		}
		drives := raise(out, &w.need)
		if note {
			w.note(p, -1, true, drives)
		}
	}
	for i := range p.in {
		l := &p.in[i]
		if !l.end {
			continue
		}
		w.need = *w.needs(p, l, starts, ends)
		for b := range w.need {
			w.need[b] -= w.length[b]
		}
		drives := raise(out, &w.need)
		if note {
			w.note(p, i, true, drives)
		}
	}
}

// raise raises out to need, and returns where that made a difference.
func raise(out, need *row) (drives [words]uint64) {
	for k := range drives {
		var word uint64
		a, n := (*[64]int64)(out[64*k:]), (*[64]int64)(need[64*k:])
		for b := range a {
			up := (a[b] - n[b]) >> 63 // all ones where need is later
			a[b] ^= (a[b] ^ n[b]) & up
			word |= uint64(up) & 1 << b
		}
		drives[k] = word
	}
	return drives
}

// note says that link i of p drives, and that what was met before it does not.
func (w *worker) note(p *place, i int, end bool, drives [words]uint64) {
	for q := range p.in {
		mask := &w.mask[p.in[q].id]
		switch {
		case q == i:
			*mask = drives
		case p.in[q].end == end && q < i || end && !p.in[q].end:
			for k := range mask {
				mask[k] &^= drives[k]
			}
		}
	}
}

// needs returns the work of p's clock that l asks for: of the start, or of the
// finish where that waits. The row may be one of w's own or scratch.
func (w *worker) needs(p *place, l *simLink, starts, ends []row) *row {
	from := &w.m.places[l.from]
	x := &starts[from.row]
	if l.finish {
		x = &ends[from.row]
	}
	if l.plain && l.lag == 0 {
		return x
	}
	out := &w.scratch
	if l.plain {
		for b := range out {
			out[b] = x[b] + l.lag
		}
		return out
	}
	src, to, by := w.m.clocks[from.clock], w.m.clocks[p.clock], w.m.clocks[l.clock]
	for b := range out {
		t := x[b]
		switch {
		case src.by:
		case l.finish:
			t = src.earliest(t)
		default:
			t = src.latest(t)
		}
		t = by.ahead(t, l.lag)
		switch {
		case l.snap >= 0: // a moment bound by a finish on its step's own calendar
			snap := w.m.clocks[l.snap]
			out[b] = snap.earliest(snap.worked(t))
		case !l.end || p.at:
			out[b] = to.worked(t)
		default:
			out[b] = to.finished(t)
		}
	}
	return out
}

// trace marks, from the launch back, the places on the chain that drives it.
func (w *worker) trace(n int) {
	m := w.m
	clear(w.crit)
	if m.launch < 0 {
		return
	}
	first := &w.crit[m.launch]
	for b := range n {
		first[b/64] |= 1 << (b % 64)
	}
	for changed := true; changed; {
		changed = false
		for k := len(m.order) - 1; k >= 0; k-- {
			j := m.order[k]
			c := w.crit[j]
			if c == ([words]uint64{}) {
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
			for b, held := range w.held[h] {
				w.tally.owner[h] += held * int64(w.crit[j][b/64]>>(b%64)&1)
			}
		}
	}
}

// layRows gives each place a row, and takes those over that nobody needs any
// more: so a large network works in little memory.
func (m *model) layRows() {
	last := make([]int32, len(m.places)) // the place in order after which it is free
	for k, j := range m.order {
		last[j] = max(last[j], int32(k))
		for _, l := range m.places[j].in {
			last[l.from] = max(last[l.from], int32(k))
		}
	}
	keep := func(j int32) { last[j] = int32(len(m.order)) }
	if m.launch >= 0 {
		keep(m.launch)
	}
	for i := range m.points {
		for _, d := range m.points[i].doors {
			for _, j := range d.covers {
				keep(j)
			}
		}
	}
	ends := make([][]int32, len(m.order)+1)
	for _, j := range m.order {
		if m.net.loop != nil {
			keep(j)
		}
		ends[last[j]] = append(ends[last[j]], j)
	}
	var free []int32
	for k, j := range m.order {
		if len(free) == 0 {
			free = append(free, m.rows)
			m.rows++
		}
		m.places[j].row = free[len(free)-1]
		free = free[:len(free)-1]
		for _, e := range ends[k] {
			free = append(free, m.places[e].row)
		}
	}
	m.markEarly()
}

// markEarly marks what points' dates depend on.
func (m *model) markEarly() {
	var todo []int32
	for i := range m.points {
		for _, d := range m.points[i].doors {
			todo = append(todo, d.covers...)
		}
	}
	for len(todo) > 0 {
		j := todo[len(todo)-1]
		todo = todo[:len(todo)-1]
		if m.places[j].early {
			continue
		}
		m.places[j].early = true
		for _, l := range m.places[j].in {
			if !slices.Contains(todo, l.from) {
				todo = append(todo, l.from)
			}
		}
	}
}
