package gybe_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"dogshore/gybe"
	"dogshore/internal/test"
	"dogshore/plane"
)

func deck() gybe.SweepCase {
	c := cruiser()
	return gybe.SweepCase{
		Boom:       c.Boom,
		Sheet:      &gybe.SheetRun{At: 5, From: gybe.Spot{X: 1.5, Y: -1.2, Z: 1.4}, To: &gybe.Spot{X: 1.5, Y: 1.2, Z: 1.4}},
		Preventers: c.Preventers,
		Zones: []gybe.Zone{{
			Name: "genoa sheet", Sort: "other", Low: 1, High: 2,
			Outlines: plane.Region{{{X: 4, Y: 1}, {X: 6, Y: 1}, {X: 6, Y: 2}, {X: 4, Y: 2}}},
		}},
		Stations: []gybe.Station{
			{Name: "standing in the cockpit", Sort: "seat", Run: []gybe.Spot{{X: 2.5, Y: 0, Z: 0.5}}, Height: 1.8},
			{Name: "standing on the coachroof", Sort: "way", Run: []gybe.Spot{{X: 5, Y: 0.3, Z: 1.9}}, Height: 1.8},
			{Name: "bow", Sort: "clip point", Run: []gybe.Spot{{X: 12, Y: -0.3, Z: 1.3}}, Height: 1},
			{Name: "along the side deck", Sort: "way", Run: []gybe.Spot{{X: 1, Y: 1.5, Z: 1.1}, {X: 11, Y: 1.5, Z: 1.1}}, Height: 1.7},
		},
	}
}

func sweep(t testing.TB, c gybe.SweepCase) gybe.SweepResult {
	t.Helper()
	r, err := gybe.Sweep(c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func zone(t testing.TB, r gybe.SweepResult, sort string) gybe.Zone {
	t.Helper()
	for _, z := range r.Zones {
		if z.Sort == sort {
			return z
		}
	}
	t.Fatalf("no zone of sort %s", sort)
	return gybe.Zone{}
}

func TestBoomZone(t *testing.T) {
	c := deck()
	z := zone(t, sweep(t, c), "boom")
	r := math.Sqrt(c.Boom.Length*c.Boom.Length - c.Boom.Rise*c.Boom.Rise)
	test.Check(t, "area that a boom of 5.6 m sweeps through 150 deg, m2", "exact: sector of a circle", r*r*c.Boom.Out, z.Outlines.Area(), 0.004*r*r)
	for i := range 101 {
		b := c.Boom.Out * (float64(i)/50 - 1) * 0.999
		sin, cos := math.Sincos(b)
		if p := (plane.Point{X: c.Boom.Gooseneck.X - 0.9999*r*cos, Y: 0.9999 * r * sin}); !z.Outlines.Contains(p) {
			t.Errorf("the boom's end at %.1f° lies outside", b/deg)
		}
	}
}

func TestWhoIsStruck(t *testing.T) {
	r := sweep(t, deck())
	in := map[string]map[string]gybe.Inside{}
	for _, i := range r.Inside {
		if in[i.Sort] == nil {
			in[i.Sort] = map[string]gybe.Inside{}
		}
		in[i.Sort][i.Station] = i
	}
	// 2.4 + 0.3*(4.7/5.59) - 0.1 - 0.5 - 1.8 leaves 0.25 m in the cockpit; on the coachroof the boom is at the shoulder.
	if _, ok := in["boom"]["standing in the cockpit"]; ok {
		t.Errorf("in the cockpit: %+v", in["boom"])
	}
	roof, ok := in["boom"]["standing on the coachroof"]
	if want := 2.4 + 0.3*math.Hypot(2.2, 0.3)/math.Sqrt(5.6*5.6-0.09) - 0.1 - 1.9 - 1.8; !ok || math.Abs(roof.Room-want) > 1e-9 {
		t.Errorf("on the coachroof: %+v, want room %g", roof, want)
	}
	if _, ok := in["boom"]["bow"]; ok {
		t.Error("the bow lies under the boom")
	}
	if i, ok := in["other"]["along the side deck"]; !ok || math.Abs(i.Length-2) > 0.05 || math.Abs(i.At.X-4) > 0.06 {
		t.Errorf("along the side deck through 2 m of an entered zone: %+v", i)
	}
	if _, ok := in["mainsheet"]["standing in the cockpit"]; !ok {
		t.Error("the cockpit lies outside the mainsheet's bight")
	}
	// Head room asked for counts.
	c := deck()
	c.Head = 0.3
	found := false
	for _, i := range sweep(t, c).Inside {
		found = found || i.Sort == "boom" && i.Station == "standing in the cockpit"
	}
	if !found {
		t.Error("0.25 m of room is enough where 0.3 m is asked for")
	}
}

// Every place that the slack sheet reaches lies in the bight, seen from above
// and by height, and next to nothing else does.
func TestBight(t *testing.T) {
	c := deck()
	z := zone(t, sweep(t, c), "mainsheet")
	rnd := rand.New(rand.NewPCG(7, 8))
	from, to := vec(c.Sheet.From), vec(*c.Sheet.To)
	end := func(b float64) r3.Vec {
		flat := math.Sqrt(1 - math.Pow(c.Boom.Rise/c.Boom.Length, 2))
		sin, cos := math.Sincos(b)
		return r3.Add(vec(c.Boom.Gooseneck), r3.Vec{X: -5 * flat * cos, Y: 5 * flat * sin, Z: 5 * c.Boom.Rise / c.Boom.Length})
	}
	long := 0.0
	for _, car := range []r3.Vec{from, to} {
		for _, b := range []float64{-c.Boom.Out, c.Boom.Out} {
			long = max(long, r3.Norm(r3.Sub(end(b), car)))
		}
	}
	outside, reached := 0, 0
	for range 20000 {
		car := r3.Add(from, r3.Scale(rnd.Float64(), r3.Sub(to, from)))
		e := end(c.Boom.Out * (2*rnd.Float64() - 1))
		p := r3.Vec{X: 16*rnd.Float64() - 6, Y: 16*rnd.Float64() - 8, Z: 14*rnd.Float64() - 5}
		if r3.Norm(r3.Sub(p, e))+r3.Norm(r3.Sub(p, car)) > long-0.05 { // what is left out: chords, and cars between
			continue
		}
		reached++
		if !z.Outlines.Contains(plane.Point{X: p.X, Y: p.Y}) || p.Z < z.Low || p.Z > z.High {
			outside++
		}
	}
	if reached < 500 || outside > 0 {
		t.Errorf("%d of %d places that the sheet reaches lie outside its bight", outside, reached)
	}
	// No corner of the outline lies farther than the sheet is long from both.
	for _, ring := range z.Outlines {
		for _, p := range ring {
			least := math.Inf(1)
			for i := range 81 {
				e := end(c.Boom.Out * (float64(i)/40 - 1))
				for k := range 41 {
					car := r3.Add(from, r3.Scale(float64(k)/40, r3.Sub(to, from)))
					for h := range 41 { // the best height
						q := r3.Vec{X: p.X, Y: p.Y, Z: car.Z + (e.Z-car.Z)*(float64(h)/20-0.5)}
						least = min(least, r3.Norm(r3.Sub(q, e))+r3.Norm(r3.Sub(q, car)))
					}
				}
			}
			if least > long+0.05 {
				t.Fatalf("corner %v needs %.3f m of sheet, there are %.3f", p, least, long)
			}
		}
	}
}

// Without slack there is no bight: a sheet led to under the gooseneck.
func TestNoBight(t *testing.T) {
	c := deck()
	c.Sheet = &gybe.SheetRun{At: 5, From: gybe.Spot{X: c.Boom.Gooseneck.X, Y: 0, Z: 1.4}}
	if z := zone(t, sweep(t, c), "mainsheet"); z.Outlines.Area() > 1e-6 {
		t.Errorf("a bight of %g m2", z.Outlines.Area())
	}
	c.Sheet.Extra = 1
	if z := zone(t, sweep(t, c), "mainsheet"); z.Outlines.Area() < 1 {
		t.Errorf("with a metre let out a bight of %g m2", z.Outlines.Area())
	}
}

func TestPreventerZones(t *testing.T) {
	c := deck()
	r := sweep(t, c)
	z := zone(t, r, "preventer")
	out := c.Boom.Out
	end := plane.Point{X: 7.2 - 5.5*math.Cos(out), Y: 5.5 * math.Sin(out)}
	bow := plane.Point{X: 12.3, Y: 0.4}
	if mid := bow.Add(end).Scale(0.5); !z.Outlines.Contains(mid) {
		t.Errorf("the middle of the lead %v lies outside its zone", mid)
	}
	// A block at the bow with the line coming back flies aft.
	for _, q := range r.Zones {
		if q.Sort == "recoil" && strings.Contains(q.Name, "long, port, bow block") {
			if !q.Outlines.Contains(plane.Point{X: 8, Y: 1.2}) {
				t.Errorf("the bow block does not fly aft: %v", q.Outlines)
			}
			return
		}
	}
	t.Error("the bow block has no zone")
}

func TestSweepIsAlikeOnBothSides(t *testing.T) {
	c := deck()
	m := c
	m.Preventers = mirror(cruiser()).Preventers
	m.Zones, m.Stations = nil, nil
	c.Zones, c.Stations = nil, nil
	a, b := sweep(t, c), sweep(t, m)
	total := func(r gybe.SweepResult) (sum float64) {
		for _, z := range r.Zones {
			sum += math.Abs(z.Outlines.Area())
		}
		return sum
	}
	if math.Abs(total(a)-total(b)) > 1e-9*total(a) {
		t.Errorf("areas %g, mirrored %g", total(a), total(b))
	}
}

func TestSweepRefuses(t *testing.T) {
	for says, change := range map[string]func(*gybe.SweepCase){
		"stations 1":           func(c *gybe.SweepCase) { c.Stations[0].Run = nil },
		"height_m is -1":       func(c *gybe.SweepCase) { c.Stations[0].Height = -1 },
		"mainsheet.at_m is 9":  func(c *gybe.SweepCase) { c.Sheet.At = 9 },
		"ring of 2 corners":    func(c *gybe.SweepCase) { c.Zones[0].Outlines = plane.Region{{{}, {X: 1}}} },
		"zones 1 (x) is a boo": func(c *gybe.SweepCase) { c.Zones[0].Name, c.Zones[0].Sort = "x", "boom" },
		"high_m is 0":          func(c *gybe.SweepCase) { c.Zones[0].High = 0 },
		"at most 8 preventers": func(c *gybe.SweepCase) { c.Preventers = make([]gybe.Preventer, 9) },
	} {
		c := deck()
		change(&c)
		var wrong *gybe.Invalid
		if _, err := gybe.Sweep(c); !errors.As(err, &wrong) || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want an error that says %q", err, says)
		}
	}
}

func FuzzSweep(f *testing.F) {
	seed, err := json.Marshal(deck())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(seed)
	f.Fuzz(func(t *testing.T, text []byte) {
		var c gybe.SweepCase
		if json.Unmarshal(text, &c) != nil {
			return
		}
		r, err := gybe.Sweep(c)
		if err != nil {
			return
		}
		if _, err := json.Marshal(r); err != nil { // fails on what is no number
			t.Fatal(err)
		}
	})
}
