package jackstay_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"dogshore/jackstay"
)

func eye(id string, x, y float64) jackstay.ClipPoint {
	return jackstay.ClipPoint{ID: id, At: jackstay.Spot{X: x, Y: y}}
}

// eyes is a row of clip points at deck level, a woman of the sheet's median,
// and one tether.
func eyes(legs []float64, xs ...float64) jackstay.Case {
	c := jackstay.Case{Tethers: []jackstay.Tether{{ID: "t", Legs: legs}}, Persons: []jackstay.Person{{ID: "she", Body: "F50"}}, Tracing: 1e-9}
	for i, x := range xs {
		c.Points = append(c.Points, eye(string(rune('a'+i)), x, 0))
	}
	return c
}

func straight(to float64) jackstay.Way {
	return jackstay.Way{ID: "w", Stops: []jackstay.Waypoint{{}, {At: pt(to, 0)}}}
}

func walk(t testing.TB, c jackstay.Case, way jackstay.Way) jackstay.Walked {
	t.Helper()
	w, err := jackstay.Walk(c, jackstay.Result{}, way)
	if err != nil {
		t.Fatal(err)
	}
	return w
}

// The closed form of the sheet bounds what the walk finds, to its step.
func TestWalkAgainstClosedForm(t *testing.T) {
	for _, leg := range []float64{1, 1.8, 2} {
		limit := jackstay.Bridge(leg, leg, 0.732, 0.497)
		for _, off := range []float64{-0.11, -0.2, 0.02, 0.3} {
			w := walk(t, eyes([]float64{leg, leg}, 0, limit+off), straight(limit+off))
			if can := off < 0; w.Clipped != can {
				t.Errorf("legs of %g m, eyes %.3f apart, closed form %.3f: %+v", leg, limit+off, limit, w)
			}
		}
	}
	// hooking points as the standard spaces them
	w := walk(t, eyes([]float64{2, 2}, 0, 3), straight(3))
	if w.Clipped || len(w.Gaps) != 1 {
		t.Fatalf("hooking points 3 m apart: %+v", w)
	}
	if w := walk(t, eyes([]float64{2, 2}, 0, w.Gaps[0].Eye.X, 3), straight(3)); !w.Clipped {
		t.Errorf("with one more in the middle of the gap: %+v", w)
	}
}

// One hook has a moment on none at each change, two have not.
func TestSingleHook(t *testing.T) {
	one := walk(t, eyes([]float64{2}, 0, 2, 4), straight(4))
	two := walk(t, eyes([]float64{2, 2}, 0, 2, 4), straight(4))
	if one.Clipped || one.Moments == 0 || len(one.Gaps) != 0 || !two.Clipped || two.Moments != 0 || one.Moments != one.Changes {
		t.Errorf("%+v\n%+v", one, two)
	}
}

func TestStandingNeedsTheLeg(t *testing.T) {
	c := eyes([]float64{1}, 0)
	way := jackstay.Way{ID: "reef", Stops: []jackstay.Waypoint{{At: pt(-0.3, 0)}, {As: jackstay.Standing, Hands: 2, Task: "reef"}, {At: pt(0.3, 0)}}}
	w := walk(t, c, way)
	if !slices.Equal(w.CantDo, []string{"reef"}) || w.Hands != 2 || !w.Clipped {
		t.Errorf("upright on a 1 m leg at deck level: %+v", w)
	}
	c.Tethers[0].Legs = []float64{2}
	if w := walk(t, c, way); len(w.CantDo) != 0 {
		t.Errorf("upright on a 2 m leg: %+v", w)
	}
	way.Stops[1].By, way.Stops[2].By = jackstay.Standing, jackstay.Standing
	c.Tethers[0].Legs = []float64{1}
	if w := walk(t, c, way); w.Low < 0.5 || !w.Clipped {
		t.Errorf("going upright on a 1 m leg: %+v", w)
	}
}

func TestObstaclesOnTheWay(t *testing.T) {
	c := eyes([]float64{2}, 0)
	c.Obstacles = []jackstay.Obstacle{{ID: "mast", Outline: square(0.9, -0.1, 0.2)}, {ID: "winch", Outline: square(0.9, 1, 0.2)}}
	if w := walk(t, c, straight(1.5)); !slices.Equal(w.Through, []string{"mast"}) {
		t.Errorf("%+v", w)
	}
}

func TestWalkRefuses(t *testing.T) {
	c := eyes([]float64{2}, 0)
	for name, way := range map[string]jackstay.Way{
		"one stop": {Stops: []jackstay.Waypoint{{}}}, "nobody": {Person: "he", Stops: straight(1).Stops}, "no tether": {Tether: "x", Stops: straight(1).Stops},
		"nowhere": {Stops: []jackstay.Waypoint{{}, {At: pt(math.NaN(), 0)}}}, "hovering": {Stops: []jackstay.Waypoint{{}, {At: pt(1, 0), As: "hovering"}}},
		"three hands": {Stops: []jackstay.Waypoint{{}, {At: pt(1, 0), Hands: 3}}}, "endless": straight(1e9),
	} {
		var bad *jackstay.Invalid
		if _, err := jackstay.Walk(c, jackstay.Result{}, way); !errors.As(err, &bad) {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// Brute force: on a short way every sequence of holds is tried.
func TestWalkAgainstAllWays(t *testing.T) {
	r := rand.New(rand.NewPCG(9, 10))
	for range 60 {
		legs := []float64{0.9 + r.Float64()}
		if r.IntN(2) == 0 {
			legs = append(legs, 0.9+r.Float64())
		}
		n := 2 + r.IntN(2)
		xs := make([]float64, n)
		for i := range xs {
			xs[i] = 1.2 * r.Float64()
		}
		to := 0.5 + 0.3*r.Float64()
		w := walk(t, eyes(legs, xs...), straight(to))
		gap, moments, changes := allWays(legs, xs, to)
		got := 0.0
		for _, g := range w.Gaps {
			got += g.To - g.From
		}
		if math.Abs(got-gap) > 1e-9 || w.Moments != moments || w.Changes != changes {
			t.Errorf("legs %v, eyes %v, to %g: %g m, %d, %d; by trying all %g m, %d, %d", legs, xs, to, got, w.Moments, w.Changes, gap, moments, changes)
		}
	}
}

type tally struct {
	gap              float64
	moments, changes int
}

func (b tally) beats(c tally) bool {
	return c.gap > b.gap+1e-9 || c.gap > b.gap-1e-9 && (c.moments > b.moments || c.moments == b.moments && c.changes >= b.changes)
}

// allWays tries every hold at every station, one change at most at each.
func allWays(legs, xs []float64, to float64) (gap float64, moments, changes int) {
	steps := int(math.Ceil(to / 0.1))
	const h, arm = 0.732, 0.497
	none := len(xs) * len(legs)
	held := func(k int, x float64) bool {
		return k == none || math.Hypot(x-xs[k/len(legs)], h) <= legs[k%len(legs)]-1e-9
	}
	best := tally{math.Inf(1), 0, 0}
	var try func(i, k int, c tally)
	try = func(i, k int, c tally) {
		if best.beats(c) {
			return
		}
		if i == steps {
			best = c
			return
		}
		x := to * float64(i+1) / float64(steps)
		if !held(k, x) {
			return
		}
		if k == none {
			c.gap += to / float64(steps)
		}
		try(i+1, k, c)
		for m := 0; m <= none; m++ {
			if m == k || !held(m, x) || m != none && math.Abs(x-xs[m/len(legs)]) > arm {
				continue
			}
			d := c
			d.changes++
			if k != none && m != none && k%len(legs) == m%len(legs) {
				d.moments++
			}
			try(i+1, m, d)
		}
	}
	for k := none; k >= 0; k-- {
		if held(k, 0) {
			try(0, k, tally{})
		}
	}
	return best.gap, best.moments, best.changes
}
