package jackstay_test

import (
	"encoding/json"
	"math"
	"runtime"
	"slices"
	"testing"

	"dogshore/internal/test"
	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/rope"
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

func square(x, y, side float64) []plane.Point {
	return []plane.Point{pt(x, y), pt(x+side, y), pt(x+side, y+side), pt(x, y+side)}
}

func lawOf(t testing.TB, s jackstay.Stuff) rope.Law {
	t.Helper()
	if len(s.Curve) > 0 {
		var ps []rope.Point
		for _, p := range s.Curve {
			ps = append(ps, rope.Point(p))
		}
		l, err := rope.Table(ps)
		if err != nil {
			t.Fatal(err)
		}
		return l
	}
	return linear(t, s.Stiffness)
}

func same(t testing.TB, name string, a, b any) {
	t.Helper()
	x, errA := json.Marshal(a)
	y, errB := json.Marshal(b)
	if errA != nil || errB != nil || string(x) != string(y) {
		t.Errorf("%s: two answers (%v %v)", name, errA, errB)
	}
}

// The same bits on one core and on two, from one line at a time, and after a
// line was put back.
func TestOneLineAtATime(t *testing.T) {
	c := catamaran()
	whole := deck(t, c)
	before := runtime.GOMAXPROCS(1)
	alone := deck(t, c)
	runtime.GOMAXPROCS(before)
	same(t, "one core", whole, alone)
	moved := catamaran()
	moved.Lines[2].Supports[1].At.Y -= 0.4
	want := deck(t, moved)
	l, err := jackstay.LineOf(moved, moved.Lines[2].ID)
	if err != nil {
		t.Fatal(err)
	}
	same(t, "one line", want.Lines[2], l)
	if err := whole.Put(moved, l); err != nil {
		t.Fatal(err)
	}
	same(t, "put into the deck", want, whole)
	if _, err := jackstay.LineOf(c, "none"); err == nil {
		t.Error("a line that there is not")
	}
	if err := whole.Put(c, jackstay.LineResult{ID: "none"}); err == nil {
		t.Error("a line that there is not, put")
	}
}

// The two sides of an even deck are told the same.
func TestPortAndStarboard(t *testing.T) {
	r := deck(t, catamaran())
	for i := range 2 {
		p, s := r.Lines[i], r.Lines[i+2]
		near := func(what string, a, b float64) {
			t.Helper()
			if math.Abs(a-b) > 1e-6*(1+math.Abs(a)) {
				t.Errorf("%s, %s: %g and %g", p.ID, what, a, b)
			}
		}
		for k := range p.Supports {
			near("load", p.Supports[k].Load.Stiff, s.Supports[k].Load.Stiff)
		}
		near("tension", p.Tension.As, s.Tension.As)
		near("reach", plane.Area(p.Reaches[0].Soft[0]), plane.Area(s.Reaches[0].Soft[0]))
		if len(p.Sides) != len(s.Sides) {
			t.Errorf("%d and %d sides", len(p.Sides), len(s.Sides))
			continue
		}
		for k := range p.Sides {
			near("over the side", p.Sides[k].Under.By.Soft, s.Sides[k].Under.By.Soft)
		}
	}
	if len(r.Cautions) < 8 || len(r.Assumed) < 10 || len(r.Islands) != 1 || !(r.Bare > 0 && r.Bare < 10) {
		t.Errorf("%d cautions, %d assumed, islands %v, bare %g", len(r.Cautions), len(r.Assumed), r.Islands, r.Bare)
	}
}

// Which way round an outline was traced makes no difference to what of it is
// bare.
func TestOutlineEitherWayRound(t *testing.T) {
	c := catamaran()
	as := deck(t, c)
	slices.Reverse(c.Outline)
	round := deck(t, c)
	if as.Bare <= 0 || math.Abs(as.Bare-round.Bare) > 1e-9 || math.Abs(as.Deck-round.Deck) > 1e-9 {
		t.Errorf("bare %g of %g m², traced the other way round %g of %g", as.Bare, as.Deck, round.Bare, round.Deck)
	}
}

// What the sweep finds on a support, asked again place by place.
func TestSupportLoadsAgainstSampling(t *testing.T) {
	c := oneLine(jackstay.Stuff{Stiffness: 150e3}, nil, support(0, 0, 1), support(6, 0.5, 1.2))
	l := deck(t, c).Lines[0]
	most := [2]float64{}
	for k := range 60 {
		at := (float64(k) + 0.5) / 60
		s := jackstay.Span{From: c.Lines[0].Supports[0].At, To: c.Lines[0].Supports[1].At, Law: linear(t, 150e3), Rest: l.Length}
		a, err := jackstay.Caught(s, jackstay.Hook{Jammed: true, At: at, Load: jackstay.Vector{X: -0.5, Y: 6}}, strap(t, 150e3, 1.8), jackstay.Drop{Mass: 90, Fall: 1})
		if err != nil {
			t.Fatal(err)
		}
		for w := range 128 {
			sin, cos := math.Sincos(2 * math.Pi * float64(w) / 128)
			h := hang(t, s, jackstay.Hook{Jammed: true, At: at, Load: jackstay.Vector{X: a.Line * cos, Y: a.Line * sin}})
			most[0], most[1] = max(most[0], h.Ends[0].Norm()), max(most[1], h.Ends[1].Norm())
		}
	}
	for k := range most {
		test.Check(t, "greatest load on an end of a swept line, N", "second method: 60 places and 128 directions, one by one", most[k], l.Supports[k].Jam.As, 0.01*most[k])
	}
	eye, err := jackstay.CaughtByEye(strap(t, 150e3, 1.8), jackstay.Drop{Mass: 90, Fall: 1})
	if err != nil {
		t.Fatal(err)
	}
	if math.Abs(l.Supports[0].Held.As-eye.Body) > 1e-6 {
		t.Errorf("held by its support %g, a fixed eye takes %g", l.Supports[0].Held.As, eye.Body)
	}
	if l.Middle.Load.As > 0.7*eye.Body {
		t.Errorf("the middle %g is hardly less than the fixed eye's %g", l.Middle.Load.As, eye.Body)
	}
}

// Several persons on one line pull it harder than one; stuck and free bracket
// what a line with guides does.
func TestTogetherAndBrackets(t *testing.T) {
	c := catamaran()
	one := deck(t, c).Lines[0]
	if f := one.Rubbing; f == nil || !(f.Free <= f.Tension && f.Tension <= f.Stuck) || f.Free == f.Stuck || !(f.Sag > 0) {
		t.Errorf("friction %+v", f)
	}
	if one.Group != nil || len(one.Brackets) != 2 || one.Brackets[0].Sag.As <= one.Brackets[1].Sag.As {
		t.Errorf("group %+v, brackets %+v", one.Group, one.Brackets)
	}
	c.Lines[0].Together = 3
	three := deck(t, c).Lines[0]
	if three.Group == nil || three.Group.Persons != 3 || three.Tension.As < three.Group.Tension.As {
		t.Errorf("%+v", three.Group)
	}
	if deck(t, c).Lines[1].Brackets != nil {
		t.Error("a line without guides has brackets")
	}
}

// What nobody entered is never met; what is assumed is said.
func TestUnknownReadsUnknown(t *testing.T) {
	c := oneLine(jackstay.Stuff{Material: "polyester webbing 25 mm"}, nil, support(0, 0, 1), support(6, 0, 1))
	c.Loads = jackstay.Loads{Slide: num(0.5), Fall: num(0)}
	l := deck(t, c).Lines[0]
	if l.Strength.Verdict != jackstay.NotKnown || l.Supports[0].Verdict != jackstay.NotKnown || len(l.Unknown) < 3 || len(l.Assumed) < 2 {
		t.Errorf("%+v\n%+v\n%+v", l.Strength, l.Supports, l.Unknown)
	}
	c.Lines[0].Stuff = jackstay.Stuff{Material: "polyester webbing 25 mm", MBL: 60e3, Factors: []string{"eye splice"}, Years: num(0.1)}
	c.Lines[0].Supports[0].Rated, c.Lines[0].Supports[1].Rated = 80e3, 20e3
	l = deck(t, c).Lines[0]
	if l.Strength.Verdict != jackstay.Meets || l.Supports[0].Verdict != jackstay.Meets || l.Supports[1].Verdict == jackstay.Meets {
		t.Errorf("%+v\n%+v", l.Strength, l.Supports)
	}
	c.Lines[0].Stuff.MBL = 6e3
	if v := deck(t, c).Lines[0].Strength.Verdict; v != jackstay.MeetsNot {
		t.Errorf("a line of 6 kN: %s", v)
	}
	if len(deck(t, c).Unknown) == 0 {
		t.Error("no edge, and nothing said of it")
	}
}

// A place that the slack just reaches, and one that it just does not: the half
// axis of the ellipse is s0 = sqrt(L0^2 - L^2)/2.
func TestCatchesOfTheSlack(t *testing.T) {
	c := oneLine(jackstay.Stuff{Stiffness: 1e9}, num(0.02), support(0, 0, 1), support(6, 0, 1))
	s0 := 3 * math.Sqrt(1.02*1.02-1)
	c.Catches = []jackstay.Catch{
		{ID: "just", Path: []plane.Point{pt(3, s0-0.002)}, Z: 1}, {ID: "not quite", Path: []plane.Point{pt(3, -s0-1.5)}, Z: 1, Overhang: true},
		{ID: "track", Path: []plane.Point{pt(-1, 3), pt(3, s0/2), pt(8, 4)}, Z: 1, Sharp: true}, {ID: "under it", Path: square(2, -1, 2), Area: true, Z: 1},
		{ID: "up the mast", Path: []plane.Point{pt(3, 0)}, Z: 4},
	}
	hit := map[string]jackstay.CatchHit{}
	for _, h := range deck(t, c).Lines[0].Catches {
		hit[h.Catch] = h
	}
	if !hit["just"].Slack || !hit["track"].Slack || !hit["track"].Side || !hit["under it"].Slack || hit["under it"].Distance > 1e-9 {
		t.Errorf("%+v", hit)
	}
	for _, far := range []string{"not quite", "up the mast"} {
		if _, ok := hit[far]; ok {
			t.Errorf("%s: %+v", far, hit[far])
		}
	}
}

func TestRemarksSayWhatTheSheetFound(t *testing.T) {
	c := oneLine(jackstay.Stuff{Stiffness: 150e3, MBL: 22e3}, nil, support(0, 0, 1), support(10, 0, 1))
	l := deck(t, c).Lines[0]
	by := map[string]jackstay.Remark{}
	for _, r := range l.Remarks {
		by[string(r.Key)+", "+r.What] = r
	}
	fall := "tension in a fall, middle of the span"
	if r := by[string(jackstay.SlackDoesNotSpare)+", "+fall]; r.Then < r.As {
		t.Errorf("slack lowered the load: %+v", r)
	}
	same := " under the same load, middle of the span"
	if r := by[string(jackstay.SpanIsReach)+", sag"+same]; math.Abs(r.Then-r.As/2) > 1e-6 {
		t.Errorf("half the span: %+v", r)
	}
	if r := by[string(jackstay.SpanIsReach)+", tension"+same]; math.Abs(r.Then-r.As) > 1e-5 || r.Told != jackstay.NoDifference {
		t.Errorf("half the span: %+v", r)
	}
	if r := by[string(jackstay.ShortIsHard)+", "+fall]; r.Then < r.As {
		t.Errorf("half the span in a fall: %+v", r)
	}
	if r := by[string(jackstay.StuffIsTension)+", "+fall]; r.Then < 1.8*r.As || r.Then < 19.7e3 || r.As > 20e3 {
		t.Errorf("wire breaks where webbing holds: %+v", r)
	}
	if r := by[string(jackstay.HeldIsWorst)+", load on one fitting"]; r.Then < 1.2*r.As {
		t.Errorf("held: %+v", r)
	}
	if jackstay.Tell(jackstay.Band{Soft: 1, As: 2, Stiff: 3}, jackstay.Band{Soft: 2, As: 3, Stiff: 4}, 0) != jackstay.NoDifference ||
		jackstay.Tell(jackstay.Band{Soft: 5, As: 6, Stiff: 7}, jackstay.Band{Soft: 1, As: 2, Stiff: 3}, 0.5) != jackstay.First ||
		jackstay.Tell(jackstay.Band{Soft: 1, As: 1, Stiff: 1}, jackstay.Band{Soft: 2, As: 2, Stiff: 2}, 0.4) != jackstay.Second {
		t.Error("what can be told")
	}
}

// Which way round an outline is drawn makes no difference to what is bare.
func TestBareDeckEitherWayRound(t *testing.T) {
	c := catamaran()
	a := deck(t, c)
	c.Outline = slices.Clone(c.Outline)
	slices.Reverse(c.Outline)
	b := deck(t, c)
	if a.Bare <= 0 || math.Abs(a.Bare-b.Bare) > 1e-9*a.Bare || math.Abs(a.Deck-b.Deck) > 1e-9*a.Deck {
		t.Errorf("bare %g of %g m2 one way round, %g of %g the other", a.Bare, a.Deck, b.Bare, b.Deck)
	}
}
