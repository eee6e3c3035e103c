package programme

import (
	"math"
)

// course is how the build went, as far as sightings up to each moment tell it:
// for each step when it started and finished, step after step,
//
//	start:  the last of what it waits for, and the yard's wait, within its gap
//	finish: the start and its length, within its gap
//
// at given paces and waiting. What was seen later of other steps is not used,
// so the chances of what was seen next multiply:
//
//	P(all that was seen) = Π P(finish in its gap | start) P(start in its gap | ready)
//
// and no fact is used twice: three linked steps found done in one gap are the
// chance of their sum, laid out on cells.
type course struct {
	ready, start, finish []when
	spells               []spell // lengths that follow a pace
	pauses               []spell // waits
	chance               float64 // the logarithm of that of all spells and pauses, at the paces and wait laid
}

// spell is one observation: what began at from ended within to. Its law is that
// at pace 1, or of a mean wait of a day.
type spell struct {
	from  when
	to    span
	law   lasting
	trade int
}

// layer lays one course after another in the same memory: each holds until the
// next.
type layer struct {
	*observer
	course
	room  []float64 // for what a law makes of distances
	tells bool      // whether spells and pauses are listed
}

func (o *observer) layer() *layer {
	l := &layer{observer: o}
	size, most := 0, 0
	for j := range o.seen {
		s := &o.lays[j]
		size += o.gates[j].within.room() + s.start.room() + s.finish.room()
		most = max(most, len(s.toStart.x), len(s.toFinish.x))
	}
	room := make([]float64, size)
	cut := func(s scale) when {
		if s.n == 0 {
			return when{}
		}
		w := s.on(room)
		room = room[s.room():]
		return w
	}
	for j := range o.seen {
		l.ready = append(l.ready, cut(o.gates[j].within))
		l.start = append(l.start, cut(o.lays[j].start))
		l.finish = append(l.finish, cut(o.lays[j].finish))
	}
	l.room = make([]float64, most)
	return l
}

// follow lays the course at the given logarithms of paces and of the mean wait.
func (l *layer) follow(paces []float64, wait float64) *course {
	l.chance, l.spells, l.pauses = 0, l.spells[:0], l.pauses[:0]
	for _, j := range l.order {
		l.meet(j)
		l.begin(j, wait)
		if l.seen[j].begun {
			l.end(j, paces)
		}
	}
	return &l.course
}

// begin lays the start of step j, and reads the wait before it.
func (l *layer) begin(j int32, wait float64) {
	s, ready, start, likely := &l.lays[j], &l.ready[j], &l.start[j], 0.0
	switch s.begins {
	case notSeen:
		if s.says {
			likely = ready.reach(pausing(1).at(wait), s.pause)
		}
	case unbound:
		start.even()
	case heldUp:
		ready.after(start)
	case afterWait:
		likely = ready.then(pausing(1).at(wait), &s.toStart, start, l.room)
	case inTime, atOnce:
		ready.ends(s.fixed, &s.toStart, start)
	}
	if s.says {
		l.chance += math.Log(max(least, likely))
		if l.tells {
			l.pauses = append(l.pauses, spell{from: ready.coarse(), to: s.pause, law: pausing(1)})
		}
	}
}

// end lays the finish of step j, and reads its length.
func (l *layer) end(j int32, paces []float64) {
	g, law, trade, likely := &l.seen[j], l.laws[j], l.trade[j], 0.0
	if law != nil && trade >= 0 {
		law = law.at(paces[trade])
	}
	start, finish := &l.start[j], &l.finish[j]
	switch {
	case g.done && law == nil:
		start.after(finish)
	case g.done:
		likely = start.then(law, &l.lays[j].toFinish, finish, l.room)
	case law != nil:
		likely = start.reach(law, g.finish)
	}
	if _, spread := law.(lognormal); spread && trade >= 0 {
		l.chance += math.Log(max(least, likely))
		if l.tells {
			l.spells = append(l.spells, spell{start.coarse(), g.finish, l.laws[j], trade})
		}
	}
}

// meet lays when the last of what step j waits for had come, as far as it was
// seen, in working days of j's calendar.
func (l *layer) meet(j int32) {
	g, out, before := &l.gates[j], &l.ready[j], 0.0
	for i := range out.share {
		by := 1.0
		if i+1 < len(out.share) {
			for _, k := range g.causes {
				if k.start {
					by *= l.start[k.from].by(k.at[i])
				} else {
					by *= l.finish[k.from].by(k.at[i])
				}
			}
		}
		out.share[i] = max(0, by-before)
		before = max(before, by)
	}
	if out.known() {
		out.normal()
	}
}
