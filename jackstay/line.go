package jackstay

import (
	"fmt"
	"runtime"
	"sync"

	"dogshore/plane"
)

// LineOf works one line of a case alone: what Deck would say of it. It is what
// is worked while a hand drags the line; Result.Put lays it into the rest.
func LineOf(c Case, id string) (LineResult, error) {
	s, err := prepare(&c)
	if err != nil {
		return LineResult{}, err
	}
	for i := range c.Lines {
		if c.Lines[i].ID == id {
			return s.lines(c.Lines[i : i+1])[0], nil
		}
	}
	return LineResult{}, bad(NotThere, id, "there is no line %q", id)
}

// lines works lines, part by part on as many cores as there are; where and in
// which order a part was worked has no place in the answer.
func (s *setup) lines(lines []Line) []LineResult {
	sweeps := make([][3]*sweep, len(lines))
	var parts []part
	for i := range lines {
		l := &lines[i]
		brackets := 1
		if l.guides() {
			brackets = 2
		}
		for q, scale := range scales {
			sweeps[i][q] = s.newSweep(l.ready(scale), q)
			for span := range len(l.Supports) - 1 {
				for k := range brackets {
					parts = append(parts, part{i, q, span, k})
				}
			}
		}
	}
	done := make([]*sweep, len(parts))
	inParallel(len(parts), func(k int) {
		p := parts[k]
		done[k] = s.newSweep(sweeps[p.line][p.q].r, p.q)
		done[k].span(p.span, p.bracket)
	})
	for k, p := range parts {
		sweeps[p.line][p.q].join(done[k])
	}
	out := make([]LineResult, len(lines))
	inParallel(len(lines), func(i int) {
		for _, w := range sweeps[i] {
			w.finish()
		}
		out[i] = s.line(&lines[i], sweeps[i])
	})
	return out
}

// inParallel does n things, on as many cores as there are.
func inParallel(n int, do func(int)) {
	jobs := make(chan int)
	var wg sync.WaitGroup
	for range min(runtime.GOMAXPROCS(0), n) {
		wg.Go(func() {
			for k := range jobs {
				do(k)
			}
		})
	}
	for k := range n {
		jobs <- k
	}
	close(jobs)
	wg.Wait()
}

// of takes one number of each of three sweeps.
func of(three [3]*sweep, f func(*sweep) float64) Band {
	return Band{f(three[soft]), f(three[asEntered]), f(three[stiff])}
}

// line makes the answer of a line from its three sweeps.
func (s *setup) line(l *Line, three [3]*sweep) LineResult {
	out := LineResult{
		ID: l.ID, Length: l.length(),
		Rest:     of(three, func(w *sweep) float64 { return w.r.chain.Rest }),
		Tension0: of(three, func(w *sweep) float64 { return w.r.t0 }),
		Arrest:   of(three, func(w *sweep) float64 { return w.arrest }),
		Body:     of(three, func(w *sweep) float64 { return w.body }),
		Tension:  of(three, func(w *sweep) float64 { return max(w.tension[free], w.tension[stuckFast], w.group) }),
		Slide: of(three, func(w *sweep) float64 {
			most := 0.0
			for _, f := range w.slide {
				most = max(most, f)
			}
			return most
		}),
	}
	for _, w := range three {
		out.Solves += w.solves
	}
	out.Brackets = brackets(l, three)
	if l.Together > 1 {
		out.Group = &Group{l.Together, of(three, func(w *sweep) float64 { return w.group })}
	}
	s.spansAndReach(l, three, &out)
	out.Sides = s.sides(three)
	out.Catches = s.catches(three[soft].r, three[soft].loaded)
	out.Strength, out.Assumed, out.Unknown = s.strength(l, out.Tension)
	var unknown []Unknown
	out.Supports, unknown = s.supports(l, three, out.Strength.Factor)
	out.Unknown = append(out.Unknown, unknown...)
	out.Middle = s.middle(l, &out.Solves)
	out.Rubbing = rubbing(three[asEntered].r, out.Middle.Load.As)
	out.Remarks = s.remarks(l, &out)
	for i, sup := range l.Supports {
		if !l.fast(i) && sup.Friction == nil {
			out.Assumed = append(out.Assumed, Assumed{"line " + l.ID, fmt.Sprintf("friction in guide %d", i+1), 0.15, "", bySheet})
		}
	}
	return out
}

// rubbing works one load with the friction of the guides.
func rubbing(r *lineReady, load float64) *Rubbing {
	if !r.l.guides() {
		return nil
	}
	best := 0
	for i := range r.spans {
		if r.spans[i].chord > r.spans[best].chord {
			best = i
		}
	}
	pull := Pull{Span: best, At: 0.5, Load: r.spans[best].side.mul(load).force(), Jammed: true}
	h, free, stuck, err := Spread(r.chain, []Pull{pull})
	if err != nil {
		return nil // the line was checked: only a load of nothing is refused
	}
	s := &r.spans[best]
	return &Rubbing{Load: load, Tension: h.Tension, Sag: s.off(h.Hooks[0].At.vec()), Free: free.Tension, Stuck: stuck.Tension}
}

// brackets says what friction in the guides can make of it at most and least.
func brackets(l *Line, three [3]*sweep) (out []Bracket) {
	if !l.guides() {
		return nil
	}
	for k, says := range []string{"no friction in the guides", "stuck in every guide"} {
		out = append(out, Bracket{
			Says:    says,
			Tension: of(three, func(w *sweep) float64 { return w.tension[k] }),
			Sag:     of(three, func(w *sweep) float64 { return w.sag[k] }),
		})
	}
	return out
}

// sides makes the rows of each leg over each edge that is near enough.
func (s *setup) sides(three [3]*sweep) (out []Side) {
	for g := range s.legs {
		for e := range s.c.Edges {
			var rows [3]*sideSweep
			for q, w := range three {
				rows[q] = &w.sides[g*len(s.c.Edges)+e]
			}
			if side, near := s.side(e, s.legs[g].tether, s.legs[g].length, rows); near {
				out = append(out, side)
			}
		}
	}
	return out
}

// spansAndReach fills in what is told span by span.
func (s *setup) spansAndReach(l *Line, three [3]*sweep, out *LineResult) {
	as := three[asEntered].r
	for i := range as.spans {
		sp := &as.spans[i]
		a, b, _ := as.slackOf(sp, 0)
		info := SpanInfo{
			From: l.Supports[i].ID, To: l.Supports[i+1].ID, Length: sp.chord,
			Sag: of(three, func(w *sweep) float64 { return w.spanSag[i] }),
		}
		if b > 0 {
			info.Slack = sp.ellipse(a, b, 0)
		}
		out.Spans = append(out.Spans, info)
	}
	for g := range s.legs {
		r := Reach{
			Tether: s.legs[g].tether, Leg: s.legs[g].length, Error: s.tracing + contourError,
			Load: of(three, func(w *sweep) float64 { return w.slide[g] }),
			Soft: three[soft].reach[g], As: three[asEntered].reach[g], Stiff: three[stiff].reach[g],
			Idle: s.idle(as, s.legs[g].length),
		}
		out.Reaches = append(out.Reaches, r)
	}
}

// idle is where a ring can come to on a leg with nobody pulling: the line
// pulled about as its slack allows.
func (s *setup) idle(r *lineReady, leg float64) (out [][]plane.Point) {
	for i := range r.spans {
		a, b, _ := r.slackOf(&r.spans[i], 0)
		out = append(out, r.spans[i].ellipse(a, b, leg))
	}
	return out
}

// contourError is what the steps of the sweep leave open of a contour, m; a
// test that halves them holds it.
const contourError = 0.01
