package rope_test

import (
	"math"
	"testing"

	"dogshore/figure"
	"dogshore/rope"
)

// Every rule shown gives the value shown, and the value shown is the result's.
func TestAnchorWorkings(t *testing.T) {
	c := padeye()
	c.Loads = append(c.Loads, rope.AnchorLoad{Name: "straight up", Force: rope.Vector{Y: 1e3, Z: 18e3}})
	c.Under.CoreShear = 0.6e6 // so that it is the core, not the foot, that says how large
	r := anchor(t, c)
	w, err := rope.ExplainAnchor(c)
	if err != nil {
		t.Fatal(err)
	}
	w.Entry = func(field string) *figure.Entered { return &figure.Entered{As: field} }
	check := func(f figure.Figure, ok bool, want float64) {
		t.Helper()
		if err := figure.Check(f, nil); !ok || err != nil || f.Rule == "" {
			t.Errorf("%s: %v, rule %q: %v", f.Says, ok, f.Rule, err)
		}
		if math.Abs(f.Value-want) > 1e-9*(1+math.Abs(want)) {
			t.Errorf("%s: shown %.12g, the result has %.12g", f.Says, f.Value, want)
		}
	}
	for i, l := range r.Loads {
		for k, b := range l.Bolts {
			f, ok := w.Bolt(i, k)
			check(f, ok, b.Used)
		}
	}
	for _, p := range r.Parts {
		check(w.Used(p), true, 1/p.Margin)
	}
	f, ok := w.Bearing()
	check(f, ok, part(t, r, rope.PartBearing).Margin)
	f, ok = w.Punch()
	check(f, ok, part(t, r, rope.PartPunch).Margin)
	f, ok = w.Core()
	check(f, ok, part(t, r, rope.PartCore).Margin)
	f, ok = w.Radius()
	if math.Abs(f.Value) > 1e-9*0.6e6 {
		t.Errorf("radius: %g N/m is left", f.Value)
	}
	if err := figure.Check(f, nil); !ok || err != nil {
		t.Errorf("radius: %v, %v", ok, err)
	}

	// What is not known has no working.
	c.Under = rope.Under{}
	w, err = rope.ExplainAnchor(c)
	if err != nil {
		t.Fatal(err)
	}
	for _, p := range anchor(t, c).Parts {
		if f := w.Used(p); p.Verdict == rope.NotKnown && f.Rule != "" {
			t.Errorf("%s: a share of what nobody knows", f.Says)
		}
	}
	for _, of := range []func() (figure.Figure, bool){w.Bearing, w.Punch, w.Core, w.Radius} {
		if f, ok := of(); ok {
			t.Errorf("%s: a working of what nobody knows", f.Says)
		}
	}
}
