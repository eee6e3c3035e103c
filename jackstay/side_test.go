package jackstay

import (
	"fmt"
	"testing"

	"dogshore/internal/test"
)

// Over the side, with the figures of the sheet: freeboard 1.2 m, the hook 0.5 m
// out, no heel, rail of 0.6 m.
func TestOverTheSide(t *testing.T) {
	src := "safety-lines sheet, case 21 [computed]"
	const board, moved, rail = 1.2, 0.5, 0.6
	for _, c := range []struct {
		leg, d, rise, over, ring float64
		class                    Class
	}{
		{2, 0.9, 0, 1.600, -0.400, Dragging}, {2, 0.9, rail, 1.279, 0.521, Outboard}, {1, 0.9, 0, 0.600, 0.600, Outboard}, {1, 0.9, rail, 0.279, 1.521, Outboard},
		{2, 2, 0, 0.500, 0.700, Outboard}, {1, 2, 0, -0.500, 1.700, Aboard}, {2, 0.3, 0, 2.200, -1.000, Dragging},
	} {
		name := fmt.Sprintf("leg %g m, %g m from the edge, rail %g m: ", c.leg, c.d, c.rise)
		over := leftOver(c.leg, c.d, moved, c.rise)
		test.Check(t, name+"tether left over, m", src, c.over, over, 0.00051)
		test.Check(t, name+"ring above water, m", src, c.ring, board+c.rise-over, 0.00051)
		if got := classOf(over, board+c.rise); got != c.class {
			t.Errorf("%sclass %s, want %s", name, got, c.class)
		}
	}
}

func TestClassesJoin(t *testing.T) {
	all := []Class{Aboard, Outboard, Dragging}
	for i, a := range all {
		for j, b := range all[i:] {
			got := between(a, b)
			if (j == 0) != (got == a) || got.drags() != (b == Dragging) {
				t.Errorf("%s to %s: %s", a, b, got)
			}
			if worse(a, b) != b || worse(b, a) != b {
				t.Errorf("%s is no better than %s", a, b)
			}
		}
	}
}

// The case's own tether, rail and heel come to the same.
func TestSideOfAPoint(t *testing.T) {
	board := 1.2
	c := Case{
		Points: []ClipPoint{{ID: "eye", At: Spot{Y: 2.0}}}, Tracing: 0.001,
		Edges:   []Edge{{ID: "side", Path: bar(3), Rails: []float64{0.6}, Freeboard: &board, Spread: 0.001}},
		Tethers: []Tether{{ID: "t", Legs: []float64{2, 0.5}, Stuff: Stuff{Stiffness: 150e3}}},
		Sea:     Sea{Heel: 0.1, Wave: 0.2, Tow: 4},
	}
	r, err := Deck(c)
	if err != nil {
		t.Fatal(err)
	}
	sides := r.Points[0].Sides
	if len(sides) != 2 {
		t.Fatalf("%d sides: %+v", len(sides), sides)
	}
	under := sides[0].Under
	if d := under.By.As - 1; d > 1e-12 || d < -1e-12 {
		t.Errorf("2 m leg, 1 m from the edge: %g left over", under.By.As)
	}
	want := 1.2 - 3*0.09983341664682815 - 0.2 - 1 // y sin(heel), wave, what is left over
	if d := under.Ring.As - want; d > 1e-12 || d < -1e-12 || sides[0].Class != Dragging || sides[0].Tow == 0 {
		t.Errorf("ring at %g, want %g: %+v", under.Ring.As, want, sides[0])
	}
	if sides[1].Class != Aboard || sides[1].Leg != 0.5 || sides[1].Tow != 0 {
		t.Errorf("half a metre: %+v", sides[1])
	}
}
