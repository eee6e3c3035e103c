package jackstay_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"dogshore/figure"
	"dogshore/jackstay"
)

func TestWorkingsOfTheDeck(t *testing.T) {
	c := catamaran() // every row of every line
	c.Sea = jackstay.Sea{Heel: 0.2, Wave: 0.3, Tow: 3}
	c.Lines[0].Stuff.Factors, c.Lines[0].Stuff.Years = []string{"eye splice"}, num(2)
	r := deck(t, c)
	w, err := jackstay.Explain(c, r)
	asked := map[string]bool{}
	w.Entry = func(what, of string) *figure.Entered {
		asked[of] = true
		return &figure.Entered{As: what}
	}
	check := func(f figure.Figure, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if err := figure.Check(f, jackstay.Functions()); err != nil || f.Rule == "" || len(f.Of) == 0 {
			t.Errorf("%s: rule %q, %v", f.Says, f.Rule, err)
		}
	}
	if err != nil {
		t.Fatal(err)
	}
	passings := 0
	for _, l := range r.Lines {
		check(w.Margin(l.ID))
		for _, s := range l.Supports {
			check(w.Needed(l.ID, s.ID))
		}
		for _, s := range l.Sides {
			for k, p := range []*jackstay.Passing{s.Under, s.Over} {
				if p != nil {
					check(w.Over(*p), nil)
					check(w.Ring(s.Edge, *p, k == 1))
					passings++
				}
			}
		}
	}
	if passings < 10 || !asked["port side"] || !asked["port side deck"] {
		t.Errorf("%d passings, asked for %v", passings, asked)
	}
}

func TestWorkingsOfWhatThereIsNot(t *testing.T) {
	c := catamaran()
	w, err := jackstay.Explain(c, deck(t, c))
	if err != nil {
		t.Fatal(err)
	}
	for _, err := range []error{errOf(w.Margin("none")), errOf(w.Needed("none", "none")), errOf(w.Ring("none", jackstay.Passing{}, false))} {
		if err == nil {
			t.Error("something that there is not has a working")
		}
	}
}

func errOf(_ figure.Figure, err error) error { return err }

func TestWorkingsOfASpan(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 12))
	balances := 0
	for range 200 {
		s := jackstay.Span{To: jackstay.Spot{X: 3 + 6*r.Float64(), Y: 1, Z: 0.2}, Law: linear(t, math.Exp(12+2*r.Float64()))}
		s.Rest = s.From.VecDist(s.To) * (0.99 + 0.04*r.Float64())
		h := jackstay.Hook{Load: jackstay.Vector{X: 800 * (r.Float64() - 0.5), Y: 1500, Z: -300}, Jammed: r.IntN(2) == 0, At: 0.1 + 0.8*r.Float64()}
		figures, law := hang(t, s, h).Balanced(s, h)
		for _, f := range figures {
			if err := figure.Check(f, jackstay.Functions(law)); err != nil {
				t.Error(err)
			}
			if f.Symbol == "B" {
				balances++
				if math.Abs(f.Value) > 1e-6 {
					t.Errorf("%s: %g N", f.Says, f.Value)
				}
			}
		}
	}
	if balances < 500 {
		t.Errorf("only %d balances", balances)
	}
}

func TestWorkingOfAnArrest(t *testing.T) {
	s, tether := tenMetres(t, 150e3, 9.95), strap(t, 150e3, 2)
	before := hang(t, s, jackstay.Hook{Load: jackstay.Vector{Y: 1e-9}})
	for _, d := range []jackstay.Drop{
		{Mass: 100, Fall: 1}, {Mass: 90, Speed: 3, Level: true}, {Mass: 80, Fall: 0.6, EdgeMu: 0.3, EdgeAngle: 1.4},
	} {
		a := caught(t, s, tether, d)
		f := a.Balanced(tether, d, a.Hold.Energy-before.Energy)
		if err := figure.Check(f, jackstay.Functions(tether.Law)); err != nil {
			t.Error(err)
		}
		if math.Abs(f.Value) > 1e-6 {
			t.Errorf("%+v: %g J left over", d, f.Value)
		}
	}
}

// What the desk shows of each line, leg, eye and passing follows from what it
// shows of it; the fall in the middle of the longest span leaves no energy.
func TestWorkingsOfTheLoads(t *testing.T) {
	c := catamaran()
	for i := range c.Tethers {
		c.Tethers[i].Stuff = jackstay.Stuff{Stiffness: 150e3}
	}
	r := deck(t, c)
	w, err := jackstay.Explain(c, r)
	if err != nil {
		t.Fatal(err)
	}
	tether := linear(t, 150e3)
	deepest := 0
	var balanced func(figure.Figure)
	balanced = func(f figure.Figure) {
		if f.Symbol == "E" {
			deepest++
			if math.Abs(f.Value) > 1e-5 {
				t.Errorf("%s: %g J left over", f.Says, f.Value)
			}
		}
		for _, x := range f.Of {
			balanced(x)
		}
	}
	check := func(f figure.Figure, err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
		if err := figure.Check(f, jackstay.Functions(tether)); err != nil || f.Rule == "" {
			t.Errorf("%s: %v", f.Says, err)
		}
		balanced(f)
	}
	for _, l := range r.Lines {
		loads, err := w.Loads(l.ID)
		if err != nil || len(loads) != 4 || loads[0].Value < l.Tension.As {
			t.Fatalf("%d loads, %v", len(loads), err)
		}
		for _, f := range loads {
			check(f, nil)
		}
		for _, x := range l.Reaches {
			check(w.Reach(l.ID, x.Tether, x.Leg))
		}
		for _, s := range l.Sides {
			if s.Under != nil {
				check(w.LeftOver(*s.Under), nil)
			}
		}
	}
	for _, p := range r.Points {
		check(w.ByEye(p.ID))
	}
	if deepest == 0 {
		t.Error("no working goes down to a balance of energy")
	}
	for _, err := range []error{errOf(w.Reach("none", "", 1)), errOf(w.ByEye("none"))} {
		if err == nil {
			t.Error("something that there is not has a working")
		}
	}
}
