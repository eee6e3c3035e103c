package jackstay

import (
	"fmt"

	"dogshore/rope"
	"dogshore/source"
)

// strength sets a line's tension against what it breaks at, and says what was
// assumed and what is not known.
func (s *setup) strength(l *Line, tension Band) (out Strength, assumed []Assumed, unknown []Unknown) {
	of := "line " + l.ID
	stuff, listed := rope.StuffOf(l.Stuff.Material)
	textile := !listed || stuff.Fibre.Textile()
	out.Factor, out.Verdict = rope.DesignFactor(textile), NotKnown
	assumed = assumedOf(l, stuff, listed)
	miss := func(what, needs string) { unknown = append(unknown, Unknown{of, what, needs}) }
	low, high := l.Stuff.MBL, l.Stuff.MBL
	told := low > 0
	if !told {
		miss("whether it meets its design factor", "the line's breaking load, from its maker")
		if low, high = stuff.MBLLow, stuff.MBLHigh; !listed {
			return out, assumed, unknown
		}
	}
	out.MBL = low
	low, high, _ = rope.Derate(low, high, l.Stuff.Factors)
	aged := !textile
	switch {
	case aged:
	case l.Stuff.Years == nil:
		miss("what age and sun have left of it", "its years in the open")
	case !listed:
		miss("what age and sun have left of it", "its fibre, as a material of the table")
	default:
		a, b, _ := rope.Sun(stuff.Fibre, *l.Stuff.Years)
		low, high, aged = low*a, high*b, true
		assumed = append(assumed, Assumed{of, "what the sun has left", a, "", sunSource})
	}
	if len(l.Stuff.Factors) == 0 {
		miss("what its splices, knots or sewn ends take away", "how its ends are made")
	}
	out.Low, out.High = low, high
	out.Margin = Band{over(low, tension.Soft), over(low, tension.As), over(low, tension.Stiff)}
	out.Verdict = verdict(low, high, out.Factor, tension, told && aged && len(l.Stuff.Factors) > 0)
	return out, assumed, unknown
}

// assumedOf lists what is taken from the table for a line.
func assumedOf(l *Line, stuff rope.Stuff, listed bool) (out []Assumed) {
	of := "line " + l.ID
	if listed && l.Stuff.MBL == 0 {
		out = append(out, Assumed{of, "breaking load when new", stuff.MBLLow, "N", stuff.Strength})
	}
	if listed && l.Stuff.Stiffness == 0 && len(l.Stuff.Curve) == 0 {
		out = append(out, Assumed{of, "stiffness", stuff.EA, "N", stuff.Stretch})
	}
	if l.Slack == nil && l.Pretense == nil {
		out = append(out, Assumed{of, "taut, without pretension: slack", 0, "", bySheet})
	}
	return out
}

// over is a quotient; 0 where there is none.
func over(a, b float64) float64 {
	if b > 0 {
		return a / b
	}
	return 0
}

var sunSource = source.Source{How: source.Published, Text: "exposure tests of a trade association (polyester), a tester (nylon), a maker (HMPE); a straight line up to them"}

// verdict compares a breaking load with a load times its factor, over both
// bands. What was only assumed never meets anything; it can fail.
func verdict(low, high, factor float64, load Band, known bool) Verdict {
	switch {
	case high < factor*load.least():
		return MeetsNot
	case !known:
		return NotKnown
	case low >= factor*load.most():
		return Meets
	}
	return Between
}

// supports makes the rows of what each support is asked to hold.
func (s *setup) supports(l *Line, three [3]*sweep, factor float64) (out []LoadOn, unknown []Unknown) {
	for i, sup := range l.Supports {
		row := LoadOn{ID: sup.ID, Rated: sup.Rated}
		if row.ID == "" {
			row.ID = fmt.Sprintf("%s, support %d", l.ID, i+1)
		}
		var jam, run, held, all [3]float64
		most := 0.0
		for q, w := range three {
			jam[q], run[q], held[q] = w.jam[i].size, w.run[i].size, w.fixedTo+w.r.t0
			all[q] = max(jam[q], run[q], held[q])
			if all[q] < most {
				continue
			}
			most = all[q]
			switch all[q] {
			case held[q]:
				row.How, row.Vector = HeldBySupport, w.heldVector(i)
			case jam[q]:
				row.How, row.Vector = Jammed, w.jam[i].load.force()
			default:
				row.How, row.Vector = Sliding, w.run[i].load.force()
			}
		}
		row.Jam, row.Slide, row.Held, row.Load = band(jam), band(run), band(held), band(all)
		row.Needed = max(factor*row.Load.most(), s.anchorMin)
		row.Verdict = verdict(sup.Rated, sup.Rated, 1, Band{max(factor*all[soft], s.anchorMin), max(factor*all[asEntered], s.anchorMin), row.Needed}, sup.Rated > 0)
		if sup.Rated == 0 {
			row.Verdict = NotKnown
			unknown = append(unknown, Unknown{"support " + row.ID, "whether it holds its load", "the breaking load of the anchorage: bolts, plate, laminate and core"})
		}
		out = append(out, row)
	}
	return out, unknown
}

// heldVector is the load of a hook that lies against a support, the way of the
// line's own pull.
func (w *sweep) heldVector(i int) Vector {
	s := w.r.l.Supports
	at := s[i].At.vec()
	var u vec
	if i > 0 {
		u = u.add(at.toward(s[i-1].At.vec()))
	}
	if i < len(s)-1 {
		u = u.add(at.toward(s[i+1].At.vec()))
	}
	if i > 0 && i < len(s)-1 { // between two spans: square to the line
		d := s[i+1].At.vec().sub(s[i-1].At.vec())
		u = vec{-d[1], d[0], 0}
	}
	return u.unit().mul(w.fixedTo + w.r.t0).force()
}
