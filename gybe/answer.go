package gybe

import (
	"fmt"
	"math"

	"dogshore/rope"
)

// lead reckons one preventer on one side.
func (r *reckoning) lead(p *Preventer, side Side) Lead {
	l := newLead(&r.c.Boom, p, side)
	set := p.set(&r.c.Boom)
	law, err := p.Line.law()
	if err != nil {
		panic("gybe: internal error: a line was not checked: " + err.Error())
	}
	dead := l.dead(set, r.c.Boom.Out)
	out := Lead{Preventer: p.Name, Side: side, Set: set, Length: l.pose(set).length, Dead: dead}
	out.Held = r.held(l, set)
	run := func(wind, stretch, slack float64) *aback {
		return &aback{
			drawn: l.drawn(law.Scaled(stretch), set, slack), moment: r.moment(wind),
			end: r.end, inertia: r.inertia, rate: r.c.Rate, dead: dead,
		}
	}
	seen := &tally{r: r, l: l}
	out.Settles = r.answer(p, run, seen, Slowly, (*aback).settle)
	out.Stops = r.answer(p, run, seen, AtOnce, (*aback).stop)
	if r.c.Dip != nil {
		dipped := r.answer(p, func(wind, stretch, slack float64) *aback {
			a := run(wind, stretch, slack)
			a.drag = r.drag(r.c.Dip.Speed.top())
			return a
		}, seen, InWater, (*aback).settle)
		out.Dipped = &dipped
	}
	inmost := r.words(&out)
	out.Fouls, out.Clears = r.clearances(l, set, inmost)
	for _, f := range out.Fouls {
		out.Says = append(out.Says, fmt.Sprintf("It comes foul of %s.", f.Obstacle))
	}
	if seen.failed {
		out.Verdict = rope.MeetsNot
		return out
	}
	out.Parts = seen.parts(p)
	out.judge()
	return out
}

// words says what must be said in words, and returns how far in the boom comes.
func (r *reckoning) words(l *Lead) float64 {
	inmost := l.Set
	answers := []*Answer{&l.Settles, &l.Stops}
	if l.Dipped != nil {
		answers = append(answers, l.Dipped)
	}
	for _, a := range answers {
		if a.Outcome != Holds {
			l.Says = append(l.Says, a.Says)
			inmost = min(inmost, 0)
		}
		for _, run := range a.Runs {
			if run.Outcome == Holds {
				inmost = min(inmost, run.Angle)
			}
		}
	}
	return inmost
}

// answer reckons how the boom ends up in every setting: both ends of the wind,
// the stretch half and double, both ends of the slack.
func (r *reckoning) answer(p *Preventer, run func(wind, stretch, slack float64) *aback, seen *tally, how Onset, end func(*aback) (float64, bool)) Answer {
	a := Answer{Outcome: Holds}
	for _, wind := range r.c.Wind.ends() {
		for _, stretch := range stretches {
			for _, slack := range p.Slack.ends() {
				one := run(wind, stretch, slack)
				here := Run{Setting: Setting{how, wind, stretch, slack}, Outcome: Holds}
				angle, ok := end(one)
				if how == AtOnce {
					here.ByHand = one.byHand()
				}
				if !ok {
					here.Outcome = NoBalance
					if how == AtOnce {
						here.Outcome = Through
					}
					a.Outcome = here.Outcome
					seen.failed = true
					a.Runs = append(a.Runs, here)
					continue
				}
				pose := one.pose(angle)
				here.Angle, here.Tension = angle, one.tension(&pose)
				here.Stretched = max(pose.length-one.own, 0)
				a.Runs = append(a.Runs, here)
				seen.note(here, &pose, one.drag)
			}
		}
	}
	if a.Outcome != Holds {
		a.Says = noHold(&a)
		return a
	}
	for i, run := range a.Runs {
		widen(&a.Tension, run.Tension, run.Setting, i == 0)
		widen(&a.Angle, run.Angle, run.Setting, i == 0)
	}
	return a
}

// noHold says in words that some settings have no equilibrium.
func noHold(a *Answer) string {
	failed := 0
	var first Run
	for _, run := range a.Runs {
		if run.Outcome != Holds {
			if failed == 0 {
				first = run
			}
			failed++
		}
	}
	where := fmt.Sprintf("in %d of the %d settings, the first with %.1f m/s of wind, %g times the stiffness entered and %.2g m of slack", failed, len(a.Runs), first.Wind, first.Setting.Stretch, first.Slack)
	if a.Outcome == Through {
		return "The line does not stop the boom before its pull points along it: the boom comes through, " + where + "."
	}
	return "No tension in the line holds the boom: there is no equilibrium, " + where + "."
}

// widen lets a range take in x. The setting kept is that of the most.
func widen(r *Range, x float64, at Setting, first bool) {
	if first {
		*r = Range{x, x, at}
		return
	}
	r.Least = min(r.Least, x)
	if x > r.Most {
		r.Most, r.At = x, at
	}
}

// tally keeps the least and the most that each part sees over all runs.
type tally struct {
	r       *reckoning
	l       *lead
	runs    int
	failed  bool
	line    Range
	squeeze Range
	bending Range
	points  []Range
	turning []Range
	force   []rope.Vector
}

func (t *tally) note(run Run, p *pose, drag float64) {
	first := t.runs == 0
	t.runs++
	if first {
		n := len(t.l.turns)
		t.points, t.turning, t.force = make([]Range, n), make([]Range, n), make([]rope.Vector, n)
	}
	load := t.r.boom(t.l, p, run.Tension, drag)
	widen(&t.line, run.Tension, run.Setting, first)
	widen(&t.squeeze, math.Max(load.Compression, 0), run.Setting, first)
	widen(&t.bending, load.Bending, run.Setting, first)
	for i, point := range t.l.points(p, run.Tension) {
		if first || point.Load > t.points[i].Most {
			t.force[i] = point.Force
		}
		widen(&t.points[i], point.Load, run.Setting, first)
		widen(&t.turning[i], point.Turning, run.Setting, first)
	}
}

// parts holds the most of each part against its rating.
func (t *tally) parts(p *Preventer) []Part {
	c := &t.r.c
	line := Part{Name: p.Line.Name, Sort: "line", Unit: "N", Load: t.line, Rated: p.Line.Holds}
	if p.Line.Assumed {
		line.Missing = []string{"what the line holds: from its maker or a test, not guessed"}
	}
	out := []Part{t.against(line, "what the line holds, knots, splices, age and wet taken off")}
	for i, turn := range p.Turns {
		part := Part{Name: turn.Name, Sort: turn.Sort, Unit: "N", Load: t.points[i], Turning: t.turning[i], Force: t.force[i], Rated: turn.Rated}
		out = append(out, t.against(part, "load that "+orThe(turn.Name, turn.Sort)+" is rated for"))
	}
	out = append(out,
		t.against(Part{Name: c.Boom.Name, Sort: "compression", Unit: "N", Load: t.squeeze, Rated: c.Boom.Squeeze}, "compression that the boom bears"),
		t.against(Part{Name: c.Boom.Name, Sort: "bending", Unit: "N m", Load: t.bending, Rated: c.Boom.Bending}, "bending moment that the boom bears"),
	)
	return out
}

func orThe(name, sort string) string {
	if name != "" {
		return name
	}
	return "the " + sort
}

// against fills in factor, margin and verdict of a part.
func (t *tally) against(p Part, what string) Part {
	p.Factor = t.r.c.Factor
	if p.Rated <= 0 {
		p.Missing = append(p.Missing, what)
	}
	switch {
	case len(p.Missing) > 0:
		p.Verdict = rope.NotKnown
	case p.Load.Most <= leastLoad:
		p.Verdict = rope.Meets // it carries nothing: there is no margin to name
	default:
		p.Margin = p.Rated / p.Factor / p.Load.Most
		p.Verdict = rope.Meets
		if p.Margin < 1 {
			p.Verdict = rope.MeetsNot
		}
	}
	return p
}

// leastLoad is what counts as no load, in N or N m: rounding leaves far less.
const leastLoad = 1e-6

// judge reads the verdict of a lead off its parts.
func (l *Lead) judge() {
	l.Verdict = rope.Meets
	least, fails := math.Inf(1), false
	for _, p := range l.Parts {
		switch {
		case p.Verdict == rope.NotKnown:
			l.Verdict = rope.NotKnown
			l.Missing = append(l.Missing, p.Missing...)
		case p.Margin > 0 && p.Margin < least:
			least, l.Weakest = p.Margin, orThe(p.Name, p.Sort)
			if p.Unit != "N" || p.Sort == "compression" {
				l.Weakest = "the boom in " + p.Sort
			}
		}
		fails = fails || p.Verdict == rope.MeetsNot
	}
	// Without a part that fails, a margin stands only where every part has one.
	if math.IsInf(least, 1) || len(l.Missing) > 0 && !fails {
		l.Weakest = ""
	} else {
		l.Margin = least
	}
	if fails || len(l.Fouls) > 0 {
		l.Verdict = rope.MeetsNot
	}
}
