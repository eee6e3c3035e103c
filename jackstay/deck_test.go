package jackstay_test

import (
	"fmt"
	"math"
	"testing"
	"time"

	"dogshore/jackstay"
	"dogshore/plane"
)

func num(v float64) *float64 { return &v }

func pt(x, y float64) plane.Point { return plane.Point{X: x, Y: y} }

// catamaran is an invented deck of 12 by 6.6 m with a jackstay along each side
// deck, one forward on each bow, clip points and what is usually about.
func catamaran() jackstay.Case {
	c := jackstay.Case{
		Outline: []plane.Point{pt(0, -3.3), pt(10.5, -3.3), pt(12, -2.6), pt(12, 2.6), pt(10.5, 3.3), pt(0, 3.3)},
		DeckZ:   1.3,
		Edges: []jackstay.Edge{
			{ID: "port side", Path: []plane.Point{pt(0, 3.3), pt(10.5, 3.3), pt(12, 2.6)}, Z: 1.3, Rails: []float64{0.3, 0.6}, Freeboard: num(1.3)},
			{ID: "starboard side", Path: []plane.Point{pt(0, -3.3), pt(10.5, -3.3), pt(12, -2.6)}, Z: 1.3, Rails: []float64{0.3, 0.6}, Freeboard: num(1.3)},
			{ID: "forward beam", Path: []plane.Point{pt(12, -2.6), pt(12, 2.6)}, Z: 1.3, Freeboard: num(1.3)},
			{ID: "stern", Path: []plane.Point{pt(0, -3.3), pt(0, 3.3)}, Z: 1.0, Freeboard: num(1.0)},
		},
		Points: []jackstay.ClipPoint{
			{ID: "helm", At: jackstay.Spot{X: 2.5, Y: 1.2, Z: 1.5}, Rated: 45e3}, {ID: "mast", At: jackstay.Spot{X: 6.5, Y: 0.4, Z: 1.6}},
		},
	}
	for _, side := range []struct {
		name string
		y    float64
	}{{"port", 1}, {"starboard", -1}} {
		c.Lines = append(c.Lines,
			jackstay.Line{ID: side.name + " side deck", Stuff: jackstay.Stuff{Material: "polyester webbing 25 mm"}, Supports: []jackstay.Support{
				{ID: side.name + " aft eye", At: jackstay.Spot{X: 1.5, Y: 2.4 * side.y, Z: 1.35}},
				{ID: side.name + " guide", At: jackstay.Spot{X: 5.5, Y: 2.5 * side.y, Z: 1.35}, Kind: jackstay.GuideSupport},
				{ID: side.name + " forward eye", At: jackstay.Spot{X: 9.5, Y: 2.3 * side.y, Z: 1.35}},
			}},
			jackstay.Line{ID: side.name + " trampoline", Stuff: jackstay.Stuff{Material: "HMPE 6 mm"}, Supports: []jackstay.Support{
				{ID: side.name + " cabin front", At: jackstay.Spot{X: 8.2, Y: 0.8 * side.y, Z: 1.4}},
				{ID: side.name + " bow", At: jackstay.Spot{X: 10.6, Y: 1.9 * side.y, Z: 1.35}},
			}})
		c.Catches = append(c.Catches,
			jackstay.Catch{ID: side.name + " cleat", Kind: "cleat", Path: []plane.Point{pt(6, 3.1*side.y)}, Z: 1.4, Overhang: true},
			jackstay.Catch{ID: side.name + " hatch", Kind: "hatch corner", Path: []plane.Point{pt(7, 1.7*side.y), pt(7.6, 1.7*side.y), pt(7.6, 1.2*side.y), pt(7, 1.2*side.y)}, Area: true, Z: 1.4})
	}
	return c
}

func deck(t testing.TB, c jackstay.Case) jackstay.Result {
	t.Helper()
	r, err := jackstay.Deck(c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestDeckPrint(t *testing.T) {
	began := time.Now()
	r := deck(t, catamaran())
	fmt.Println(time.Since(began), r.Solves)
	for _, l := range r.Lines[:2] {
		fmt.Printf("%s len %.2f slide %.0f arrest %.0f tension %.0f t0 %v\n", l.ID, l.Length, l.Slide, l.Arrest, l.Tension, l.Tension0)
		for _, b := range l.Brackets {
			fmt.Printf("  %+v\n", b)
		}
		for _, s := range l.Supports {
			fmt.Printf("  %+v\n", s)
		}
		for _, s := range l.Sides {
			fmt.Printf("  %s leg %g %s under %+v over %+v\n", s.Edge, s.Leg, s.Class, s.Under, s.Over)
		}
		for _, s := range l.Catches {
			fmt.Printf("  %+v\n", s)
		}
		fmt.Printf("  %+v\n", l.Strength)
		fmt.Println(len(l.Reaches[0].Soft[0]), plane.Area(l.Reaches[0].Soft[0]), plane.Area(l.Reaches[0].Idle[0]))
	}
	for _, s := range r.Transfers {
		fmt.Printf("  %+v\n", s)
	}
	fmt.Println(r.Islands, r.Bare, r.Deck)
	_ = math.Pi
}

func BenchmarkDeck(b *testing.B) {
	c := catamaran()
	for b.Loop() {
		deck(b, c)
	}
}

func BenchmarkDragged(b *testing.B) {
	c := catamaran()
	r := deck(b, c)
	for b.Loop() {
		l, err := jackstay.LineOf(c, "port side deck")
		if err != nil {
			b.Fatal(err)
		}
		if err := r.Put(c, l); err != nil {
			b.Fatal(err)
		}
	}
}

func square(x, y, side float64) []plane.Point {
	return []plane.Point{pt(x, y), pt(x+side, y), pt(x+side, y+side), pt(x, y+side)}
}
