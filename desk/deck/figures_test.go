package deck

import (
	"math"
	"regexp"
	"strings"
	"testing"

	"dogshore/desk/plan"
	"dogshore/figure"
	"dogshore/gybe"
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/unit"
)

// rigged is the small deck with a line for two, an eye, a boom and a preventer
// led on both sides, at sea.
func rigged(t *testing.T) *build {
	b := small(t)
	put(b, "build", record.Build{Name: "Example", Boat: "monohull", Length: m(8), Beam: m(3), Heel: band2(0.1, 0.3, unit.Angle), Wave: band2(0.2, 0.6, unit.Length), AtSea: unit.Q(3, unit.Speed)})
	line, after, _ := b.lined("", 0.9)
	put(b, line.Key(), record.Jackstay{Name: "Port line", Side: "port", Rope: "rope/" + record.Ref(line.Key()+"-rope"), Slack: unit.Q(0.01, unit.Number), Persons: unit.Q(2, unit.Number)})
	put(b, after.Key(), record.Fitting{Name: "Port after eye", Sort: "pad eye", Spot: at(0.8, 0.9, 1.02), Clip: record.Yes, Rated: unit.Q(60e3, unit.Force), Aside: unit.Q(30e3, unit.Force), Stands: m(0.025),
		PlateLong: m(0.12), PlateWide: m(0.06), Bolts: unit.Q(4, unit.Number), BoltSize: m(0.01), BoltGrade: "A4-70", Under: "solid laminate", Laminate: m(0.014), PadLong: m(0.3), PadWide: m(0.2),
		Bearing: unit.Q(250e6, unit.Pressure), Shear: unit.Q(25e6, unit.Pressure), CoreShear: unit.Q(1.1e6, unit.Pressure), OuterSkin: m(0.003), Core: m(0.025), InnerSkin: m(0.002), Backing: "stainless plate", BackThick: m(0.006), BackLong: m(0.14), BackWide: m(0.08)})
	boom := put(b, "boom", record.Boom{Name: "Boom", Gooseneck: at(5, 0, 2.2), Length: m(3.2), Depth: m(0.15), Mass: unit.Q(20, unit.Mass), Bending: unit.Q(6e3, unit.Force), Squeeze: unit.Q(10e3, unit.Force),
		Luff: m(8), Foot: m(3), SailArea: unit.Q(13, unit.Area), SailMass: unit.Q(12, unit.Mass), Wind: band2(8, 13, unit.Speed), Out: unit.Q(1.2, unit.Angle), Speed: band2(2, 4, unit.Speed), Dips: m(0.5),
		Sheet: at(1.5, 0, 1.1), SheetAt: m(2.8)})
	braid := put(b, "braid", record.Rope{Name: "Braid", Make: "polyester braid", Size: m(0.012), Breaking: unit.Q(27e3, unit.Force), Ending: "splice", Age: unit.Q(0, unit.Time)})
	p := put(b, "preventer", record.Preventer{Name: "Preventer", Boom: boom, Side: "both", At: m(3.1), Rope: braid, Slack: m(0.1)})
	put(b, "turn-1", record.Turn{Preventer: p, Number: unit.Q(1, unit.Number), Spot: at(7.6, 0.4, 1.1), Rated: unit.Q(20e3, unit.Force)})
	put(b, "turn-2", record.Turn{Preventer: p, Number: unit.Q(2, unit.Number), Spot: at(1.2, 1.1, 1.2), Rated: unit.Q(8e3, unit.Force)})
	return b
}

func band2(low, high float64, dim unit.Dimension) unit.Quantity {
	q := unit.Q((low+high)/2, dim)
	q.Low, q.High = low, high
	return q
}

// functions are what the rules of all engines call; the law is the tether's.
func functions(t *testing.T, c jackstay.Case) map[string]func(...float64) float64 {
	law, err := lawOf(c.Tethers[0].Stuff)
	if err != nil {
		t.Fatal(err)
	}
	out := jackstay.Functions(law)
	for k, f := range gybe.Functions() {
		out[k] = f
	}
	return out
}

// Every number of every line, eye, task, fitting and preventer follows from
// what is shown under it, and balances vanish.
func TestFiguresHold(t *testing.T) {
	r := rigged(t).record()
	a := Read(r, plan.Read(r), nil)
	x := a.Arrangements[0]
	fns := functions(t, x.Case)
	all, typed := 0, 0
	var look func(figure.Figure)
	look = func(f figure.Figure) {
		all++
		if f.Entry != nil {
			typed++
		}
		if strings.Contains(f.Says, "must vanish") && math.Abs(f.Value) > 1e-4 {
			t.Errorf("%s: %g", f.Says, f.Value)
		}
		if math.IsNaN(f.Value) || math.IsInf(f.Value, 0) || f.Text == "" {
			t.Errorf("%s: %g, printed %q", f.Says, f.Value, f.Text)
		}
		for _, in := range f.Of {
			look(in)
		}
	}
	check := func(f figure.Figure) {
		if strings.Contains(f.Says, "double stiffness, 0.9 m leg") || strings.HasPrefix(f.Says, "load of a fall of 1 m") {
			look(f) // its strap is at double stiffness: another law
			return
		}
		if err := figure.Check(f, fns); err != nil {
			t.Error(err)
		}
		look(f)
	}
	kinds := map[string]bool{}
	for _, about := range x.Figures {
		kinds[about.Of.Kind()] = true
		for _, f := range about.Figures {
			check(f)
		}
	}
	for _, kind := range []string{"jackstay", "fitting", "task", "tether", "preventer", "boom"} {
		if !kinds[kind] {
			t.Errorf("no figure of a %s", kind)
		}
	}
	for _, l := range x.Legs {
		for _, f := range l.Figures {
			check(f)
		}
	}
	for _, s := range append(x.Facts, x.Remarks...) {
		for _, f := range s.Figures {
			check(f)
		}
	}
	if all < 200 || typed < 20 {
		t.Errorf("%d figures, %d down to what was typed", all, typed)
	}
}

var numbers = regexp.MustCompile(`\d+\.\d+ (kN m|kN|m)\b`)

// Each finding with a number has the figures that it rests on.
func TestFindingsCarryTheirFigures(t *testing.T) {
	r := rigged(t).record()
	for _, f := range Read(r, plan.Read(r), nil).Arrangements[0].Findings {
		if numbers.MatchString(f.Says) && len(f.Figures) == 0 {
			t.Errorf("%s: no figure", f.Says)
		}
		if f.Caution == "" && f.Sort != Unknown {
			t.Errorf("%s: no caution", f.Says)
		}
	}
}

// What was entered for the sea lowers the ring by as much and widens its band.
func TestTheSeaLowersTheRing(t *testing.T) {
	b := rigged(t)
	r := b.record()
	rough := Read(r, plan.Read(r), nil).Arrangements[0]
	c := small(t)
	c.lined("", 0.9)
	rc := c.record()
	calm := Read(rc, plan.Read(rc), nil).Arrangements[0]
	ring := func(a Arrangement) (float64, float64) {
		for _, s := range a.Result.Lines[0].Sides {
			if strings.HasPrefix(s.Edge, "edge/port") && s.Leg == 1.8 {
				return s.Under.Ring.As, spreadOf(&a, s.Edge)
			}
		}
		t.Fatal("nobody goes over the port side")
		return 0, 0
	}
	high, narrow := ring(calm)
	low, wide := ring(rough)
	if want := 1.5*math.Sin(0.2) + 0.4; math.Abs(high-low-want) > 0.02 {
		t.Errorf("the ring comes %.3f m lower, want %.3f m", high-low, want)
	}
	if want := narrow + 1.5*(math.Sin(0.3)-math.Sin(0.1))/2 + 0.2; math.Abs(wide-want) > 1e-9 {
		t.Errorf("half its band is %.3f m, want %.3f m", wide, want)
	}
	says := ""
	for _, f := range append(calm.Facts, rough.Facts...) {
		if f.What == "sea" {
			says += f.Says
		}
	}
	if !strings.Contains(says, "upright on flat water") || !strings.Contains(says, "a heel of") {
		t.Errorf("the sea: %s", says)
	}
}

// A stretch test is what the engine works with; one that can't be read is said.
func TestStretchTest(t *testing.T) {
	b := small(t)
	line, _, _ := b.lined("", 0.9)
	key := line.Key() + "-rope"
	put(b, key, record.Rope{Name: "Webbing", Make: "polyester webbing", Stretch: "2 % at 1 kN; 10 % at 12 kN"})
	r := b.record()
	if c := Read(r, plan.Read(r), nil).Arrangements[0].Case.Lines[0].Stuff.Curve; len(c) != 2 || c[1] != (jackstay.CurvePoint{Strain: 0.1, Tension: 12e3}) {
		t.Errorf("the engine gets %+v", c)
	}
	put(b, key, record.Rope{Name: "Webbing", Make: "polyester webbing", Stretch: "2 % at 1 kN; 1 % at 12 kN"})
	r = b.record()
	a := Read(r, plan.Read(r), nil).Arrangements[0]
	if !has(a, Unknown, record.Ref("rope/"+key)) || len(a.Case.Lines[0].Stuff.Curve) != 0 {
		t.Errorf("a test that falls is read: %+v", a.Case.Lines[0].Stuff)
	}
}

// Two lines that are each other's image are said once, and counted twice.
func TestMirrorImagesAreSaidOnce(t *testing.T) {
	b := small(t)
	for i, y := range []float64{1.2, -1.2} {
		side := []string{"Port", "Starboard"}[i]
		line, after, fore := b.lined("", y)
		key := line.Key()
		put(b, key, record.Jackstay{Name: side + " line", Rope: record.Ref("rope/" + key + "-rope"), Slack: unit.Q(0.01, unit.Number)})
		put(b, after.Key(), record.Fitting{Name: side + " after eye", Sort: "pad eye", Spot: at(0.8, y, 1.02)})
		put(b, fore.Key(), record.Fitting{Name: side + " fore eye", Sort: "pad eye", Spot: at(7.2, y, 1.02)})
	}
	for side, y := range map[string]float64{"port": 1.5, "starboard": -1.5} {
		name := strings.ToUpper(side[:1]) + side[1:] + " side"
		put(b, side+"-edge", record.Edge{Name: name, Path: record.Outline{{0, y}, {8, y}}, Height: m(1), Rail: m(0.6), Gap: m(0.28)})
	}
	r := b.record()
	a := Read(r, plan.Read(r), nil).Arrangements[0]
	n := 0
	for _, f := range a.Findings {
		if f.Sort == Dragged && f.Of.Kind() == "jackstay" {
			n++
			if f.Count() != 2 || !strings.HasPrefix(f.Says, "Port line (the starboard one alike), on the 1.8 m leg") {
				t.Errorf("%d things: %s", f.Count(), f.Says)
			}
		}
	}
	if n != 1 || !strings.Contains(a.Sum(), "over the side, dragged: 2 lines") {
		t.Errorf("%d findings: %s", n, a.Sum())
	}
}
