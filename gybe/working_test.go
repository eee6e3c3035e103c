package gybe_test

import (
	"math"
	"testing"

	"dogshore/figure"
	"dogshore/gybe"
)

// Every rule shown gives the value shown, and the value shown is the result's.
func TestWorkings(t *testing.T) {
	c := cruiser()
	for i := range c.Preventers[0].Turns {
		c.Preventers[0].Turns[i].Friction = 0
	}
	c.Rate = 0.2
	r := reckon(t, c)
	w, err := gybe.Explain(c)
	if err != nil {
		t.Fatal(err)
	}
	w.Entry = func(field string) *figure.Entered { return &figure.Entered{As: field} }
	check := func(f figure.Figure, want float64) {
		t.Helper()
		if err := figure.Check(f, gybe.Functions()); err != nil || f.Rule == "" {
			t.Errorf("%s: rule %q: %v", f.Says, f.Rule, err)
		}
		if math.Abs(f.Value-want) > 1e-9*(1+math.Abs(want)) {
			t.Errorf("%s: shown %.12g, the result has %.12g", f.Says, f.Value, want)
		}
	}
	check(w.Moment(c.Wind.High), r.Moment.Most)
	sheet, ok := w.SheetLoad()
	if !ok {
		t.Fatal("no working of the mainsheet")
	}
	check(sheet, r.Sheet.Load)
	for _, l := range r.Leads {
		p := c.Preventers[0]
		if l.Preventer != p.Name {
			p = c.Preventers[1]
		}
		for _, h := range l.Held {
			f, ok := w.Held(p, l.Side, h.Angle)
			if ok != (h.Outcome == gybe.Holds) {
				t.Fatalf("held at %g: working %v, result %s", h.Angle, ok, h.Outcome)
			}
			if !ok {
				continue
			}
			check(f, h.Tension)
			for i, q := range h.Points[:len(h.Points)-1] {
				f, ok := w.Turn(p, l.Side, h, i)
				if !ok {
					t.Fatalf("no working of turn %d", i)
				}
				check(f, q.Load)
			}
		}
		for _, run := range l.Stops.Runs {
			f, ok := w.Stopped(p, l.Side, run)
			if ok != (run.Outcome == gybe.Holds) {
				t.Fatalf("stopped: working %v, result %s", ok, run.Outcome)
			}
			if ok {
				check(f, 0)
			}
		}
	}
	// With friction the rules don't hold, so none is shown.
	rough := cruiser()
	if _, ok := w.Stopped(rough.Preventers[0], gybe.Port, reckon(t, rough).Leads[0].Stops.Runs[0]); ok {
		t.Error("a working of a lead with friction")
	}
}

// What the desk shows of each lead and each part of it follows from what is
// shown under it, with friction and without.
func TestWorkingsOfParts(t *testing.T) {
	for _, rough := range []bool{false, true} {
		c := cruiser()
		for i := range c.Preventers[0].Turns {
			if !rough {
				c.Preventers[0].Turns[i].Friction = 0
			}
		}
		r := reckon(t, c)
		w, err := gybe.Explain(c)
		if err != nil {
			t.Fatal(err)
		}
		check := func(f figure.Figure) {
			t.Helper()
			if err := figure.Check(f, gybe.Functions()); err != nil {
				t.Errorf("%s: %v", f.Says, err)
			}
		}
		for _, l := range r.Leads {
			p := c.Preventers[0]
			if l.Preventer != p.Name {
				p = c.Preventers[1]
			}
			f, ok := w.Tension(l, p)
			if !ok || f.Value != max(l.Stops.Tension.Most, l.Settles.Tension.Most) && l.Dipped == nil {
				t.Errorf("%s: the greatest tension is shown as %g", l.Preventer, f.Value)
			}
			check(f)
			for _, q := range l.Parts {
				f := w.Part(q, "the "+q.Sort)
				check(f)
				if (q.Margin > 0) != (f.Rule != "") || q.Margin > 0 && f.Value != q.Margin {
					t.Errorf("%s: margin %g is shown as %g by %q", q.Name, q.Margin, f.Value, f.Rule)
				}
			}
		}
		if f, ok := w.Swing(r.Swing); ok {
			check(f)
		}
	}
}
