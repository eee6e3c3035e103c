package programme

// meet returns the earliest starts that p's base and the links to its start
// allow. The first link that sets it is noted as driving.
func (w *worker) meet(p *place, own []int64, at *rows, note bool) []int64 {
	var met []int64
	for i := range p.in {
		l := &p.in[i]
		if l.end {
			continue
		}
		drives := everyBit
		switch {
		case met == nil && p.free:
			met = w.needs(p, l, at, w.need[0])
		case met == nil:
			drives, met = over(own, w.needs(p, l, at, w.need[0]), p.base), own
		case note:
			drives, met = later(own, met, w.needs(p, l, at, w.need[1])), own
		default:
			laterOf(own, met, w.needs(p, l, at, w.need[1]))
			met = own
		}
		if note {
			w.note(p, i, false, drives)
		}
	}
	if met == nil {
		for b := range own {
			own[b] = p.base
		}
		met = own
	}
	return met
}

// laterOf puts the later of a and need into out.
func laterOf(out, a, need []int64) {
	a, need = a[:len(out)], need[:len(out)]
	for b := range out {
		out[b] = max(a[b], need[b])
	}
}

// over puts the later of need and base into out, and returns where need is not
// before base: a link that asks for the base itself drives.
func over(out, need []int64, base int64) (drives bitset) {
	for k := 0; k*64 < len(out); k++ {
		a := out[64*k : min(64*k+64, len(out))]
		drives[k] = overWord(a, need[64*k:][:len(a)], base) >> (64 - len(a))
	}
	return drives
}

func overWord(out, need []int64, base int64) (drives uint64) {
	need = need[:len(out)]
	for b := range out {
		n := need[b]
		out[b] = max(n, base)
		drives = drives>>1 | uint64(^(n-base))&(1<<63)
	}
	return drives
}

// later puts the later of a and need into out, and returns where that is need,
// and not as soon as a.
func later(out, a, need []int64) (drives bitset) {
	for k := 0; k*64 < len(out); k++ {
		o := out[64*k : min(64*k+64, len(out))]
		drives[k] = laterWord(o, a[64*k:][:len(o)], need[64*k:][:len(o)]) >> (64 - len(o))
	}
	return drives
}

func laterWord(out, a, need []int64) (drives uint64) {
	a, need = a[:len(out)], need[:len(out)]
	for b := range out {
		x, n := a[b], need[b]
		out[b] = max(x, n)
		drives = drives>>1 | uint64(x-n)&(1<<63)
	}
	return drives
}

// meetEnds raises starts to what bounds the finish of p.
func (w *worker) meetEnds(p *place, start []int64, at *rows, note bool) {
	asks := w.need[2][:len(start)]
	if p.final > lowest {
		for b := range asks {
			asks[b] = p.final - w.length[b]
		}
		drives := later(start, start, asks)
		if note {
			w.note(p, -1, true, drives)
		}
	}
	for i := range p.in {
		l := &p.in[i]
		if !l.end {
			continue
		}
		for b, x := range w.needs(p, l, at, w.need[1]) {
			asks[b] = x - w.length[b]
		}
		drives := later(start, start, asks)
		if note {
			w.note(p, i, true, drives)
		}
	}
}

// note says that link i of p drives, and that what was met before it does not.
func (w *worker) note(p *place, i int, end bool, drives bitset) {
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
// finish where that waits. The row may be one of another place, or room.
func (w *worker) needs(p *place, l *simLink, at *rows, room []int64) []int64 {
	from := &w.m.places[l.from]
	var x []int64
	if l.finish {
		x = at.end[from.end][:w.n]
	} else {
		x = at.start[from.start][:w.n]
	}
	if l.plain && l.lag == 0 {
		return x
	}
	out := room[:w.n]
	switch {
	case l.plain:
		for b, k := range x {
			out[b] = k + l.lag
		}
	case l.bridge != nil:
		l.bridge.cross(x, out, func(k int64) int64 { return w.m.asks(p, from, l, k) })
	default:
		for b, k := range x {
			out[b] = w.m.asks(p, from, l, k)
		}
	}
	return out
}

// asks is the work of p's clock that l asks for when its earlier end comes at
// work k of from's.
func (m *model) asks(p, from *place, l *simLink, k int64) int64 {
	src, to, by := m.clocks[from.clock], m.clocks[p.clock], m.clocks[l.clock]
	t := k
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
		snap := m.clocks[l.snap]
		return snap.earliest(snap.worked(t))
	case !l.end || p.at || l.same:
		return to.worked(t)
	}
	return to.finished(t)
}
