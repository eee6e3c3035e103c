package rope_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"dogshore/rope"
)

// Bolts and foot are in balance with the load, in force and in moment, for both
// models: elastic by themselves, the pivot with a press at the edge.
func TestBoltsBalanceTheLoad(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		c := padeye()
		u := rapid.Float64Range(-1, 1)
		n := rapid.IntRange(3, 8).Draw(t, "n")
		c.Bolts.At = nil
		for range n {
			c.Bolts.At = append(c.Bolts.At, rope.Plan{Along: 0.04 * u.Draw(t, "a"), Across: 0.035 * u.Draw(t, "c")})
		}
		c.Offset = rope.Plan{Along: 0.02 * u.Draw(t, "oa"), Across: 0.02 * u.Draw(t, "oc")}
		c.Stands = 0.08 * rapid.Float64Range(0, 1).Draw(t, "h")
		f := rope.Vector{X: 1e4 * u.Draw(t, "x"), Y: 1e4 * u.Draw(t, "y"), Z: 1e4*u.Draw(t, "z") + 1}
		c.Loads[0].Force = f
		if spread(c.Bolts.At) > 1e3 {
			return // on one line, or nearly: elastic bolts don't hold it
		}
		l := mustAnchor(t, c).Loads[0]
		sum, along, across := 0.0, 0.0, 0.0
		for _, b := range l.Bolts {
			sum += b.Elastic
			along += b.Elastic * b.At.Along
			across += b.Elastic * b.At.Across
		}
		// Moments about the middle of the foot: pulls at the bolts against the load at its point.
		wantAlong := f.Z*c.Offset.Along - c.Stands*f.X
		wantAcross := f.Z*c.Offset.Across - c.Stands*f.Y
		scale := 1e4 * (1 + spread(c.Bolts.At))
		if math.Abs(sum-f.Z) > 1e-9*scale || math.Abs(along-wantAlong) > 1e-9*scale || math.Abs(across-wantAcross) > 1e-9*scale {
			t.Fatalf("sum %g of %g, along %g of %g, across %g of %g", sum, f.Z, along, wantAlong, across, wantAcross)
		}
	})
}

// spread is how ill the bolts' places condition the balance.
func spread(at []rope.Plan) float64 {
	least := math.Inf(1)
	for i := range 90 {
		sin, cos := math.Sincos(float64(i) * math.Pi / 90)
		mean, sq := 0.0, 0.0
		for _, p := range at {
			mean += (p.Along*cos + p.Across*sin) / float64(len(at))
		}
		for _, p := range at {
			d := p.Along*cos + p.Across*sin - mean
			sq += d * d
		}
		least = min(least, sq)
	}
	return 1e-3 / least
}

func TestPivotPressesAtTheEdge(t *testing.T) {
	for range 500 {
		c := padeye()
		c.Stands = 0.06 * rand.Float64()
		c.Loads[0].Force = rope.Vector{X: 1e4, Z: 1e4 * (2*rand.Float64() - 1)}
		l := anchor(t, c).Loads[0]
		sum, moment := 0.0, 0.0
		for _, b := range l.Bolts {
			sum += b.Pivot
			moment += b.Pivot * (0.045 - b.At.Along)
		}
		if sum == 0 {
			continue // the foot does not turn over
		}
		if press := sum - l.Out; press < -1e-6 {
			t.Fatalf("the edge pulls with %g N", -press)
		}
		if want := l.Out*0.045 + c.Stands*1e4; math.Abs(moment-want) > 1e-9*1e4 {
			t.Fatalf("moment about the edge %g, want %g", moment, want)
		}
	}
}

// Where the edge is about to lift, the two models are one.
func TestModelsMeetWhereTheEdgeLifts(t *testing.T) {
	c := padeye()
	// press = over*sum/squares - out = 0 for sum r 4*45 mm... solved for the height of the pull.
	sum, squares, edge := 2*(0.015+0.075), 2*(0.015*0.015+0.075*0.075), 0.045
	out, shear := 10e3, 5e3
	c.Stands = (out*squares/sum - out*edge) / shear * (1 + 1e-9)
	c.Loads[0].Force = rope.Vector{X: shear, Z: out}
	for _, b := range anchor(t, c).Loads[0].Bolts {
		if b.Pivot == 0 || math.Abs(b.Pivot-b.Elastic) > 1e-4 {
			t.Errorf("bolt at %v: elastic %g, pivot %g", b.At, b.Elastic, b.Pivot)
		}
	}
}

func TestPortAndStarboardAreAlike(t *testing.T) {
	c := padeye()
	c.Loads[0].Force = rope.Vector{X: 3e3, Y: 4e3, Z: 5e3}
	d := padeye()
	d.Loads[0].Force = rope.Vector{X: 3e3, Y: -4e3, Z: 5e3}
	a, b := anchor(t, c), anchor(t, d)
	if math.Abs(a.Margin-b.Margin) > 1e-12 || a.Weakest != b.Weakest || math.Abs(a.Demand.Radius-b.Demand.Radius) > 1e-12 {
		t.Errorf("port %v %s, starboard %v %s", a.Margin, a.Weakest, b.Margin, b.Weakest)
	}
	// The foot, its load and the boat turned together change nothing.
	e := padeye()
	e.Heading = 1.1
	e.Loads[0].Force = rope.Vector{X: 3e3*math.Cos(1.1) - 4e3*math.Sin(1.1), Y: 3e3*math.Sin(1.1) + 4e3*math.Cos(1.1), Z: 5e3}
	if r := anchor(t, e); math.Abs(r.Margin-a.Margin) > 1e-9 {
		t.Errorf("turned by its heading: margin %g, want %g", r.Margin, a.Margin)
	}
	// On a bulkhead, out of which is forward: the same load in its axes.
	w := padeye()
	w.Normal = rope.Vector{X: 1}
	w.Heading = math.Pi / 2 // along to port, across up
	w.Loads[0].Force = rope.Vector{X: 5e3, Y: 3e3, Z: 4e3}
	if r := anchor(t, w); math.Abs(r.Margin-a.Margin) > 1e-9 {
		t.Errorf("on a bulkhead: margin %g, want %g", r.Margin, a.Margin)
	}
}

func TestMarginsFallWithTheLoad(t *testing.T) {
	c := padeye()
	one := anchor(t, c)
	c.Loads[0].Force = rope.Vector{X: 2 * c.Loads[0].Force.X, Z: 2 * c.Loads[0].Force.Z}
	two := anchor(t, c)
	for i := range one.Parts {
		if one.Parts[i].Key == rope.PartPlate {
			continue // a comparison of sizes, whatever the load
		}
		if p, q := one.Parts[i], two.Parts[i]; math.Abs(p.Margin-2*q.Margin) > 1e-9 {
			t.Errorf("%s: margin %g at one load, %g at twice it", p.Key, p.Margin, q.Margin)
		}
	}
	if one.Verdict != rope.MeetsNot && one.Margin < 1 {
		t.Errorf("%s with a margin of %g", one.Verdict, one.Margin)
	}
}

// What nobody knows has no margin, and takes that of the chain with it.
func TestUnknownIsUnknown(t *testing.T) {
	strong := padeye()
	strong.Loads[0].Force = rope.Vector{X: 2e3, Z: 1e3}
	if r := anchor(t, strong); r.Verdict != rope.Meets || r.Margin < 1 || r.Weakest == "" {
		t.Fatalf("the strong one: %s, margin %g, %q", r.Verdict, r.Margin, r.Weakest)
	}
	for name, change := range map[string]func(*rope.AnchorCase){
		"laminate":          func(c *rope.AnchorCase) { c.Under = rope.Under{} },
		"thickness":         func(c *rope.AnchorCase) { c.Under.Solid = 0 },
		"laminate strength": func(c *rope.AnchorCase) { c.Under.Bearing = 0 },
		"core":              func(c *rope.AnchorCase) { c.Under.CoreShear = 0 },
		"bolt grade":        func(c *rope.AnchorCase) { c.Bolts.Grade = "" },
		"bolt size":         func(c *rope.AnchorCase) { c.Bolts.Size = 0.0075 },
		"bolt places":       func(c *rope.AnchorCase) { c.Bolts.At = nil },
		"rating":            func(c *rope.AnchorCase) { c.Rated = 0 },
		"backing":           func(c *rope.AnchorCase) { c.Backing = rope.Backing{} },
		"size of the foot":  func(c *rope.AnchorCase) { c.Long = 0 },
		"end of the line":   func(c *rope.AnchorCase) { c.Ending.Name = "bowline" },
		"guessed laminate":  func(c *rope.AnchorCase) { c.Assumed = []rope.Assumed{rope.AssumedLaminate} },
		"guessed core":      func(c *rope.AnchorCase) { c.Assumed = []rope.Assumed{rope.AssumedCore} },
		"guessed bolts":     func(c *rope.AnchorCase) { c.Assumed = []rope.Assumed{rope.AssumedBolts} },
		"guessed plate":     func(c *rope.AnchorCase) { c.Assumed = []rope.Assumed{rope.AssumedPlate} },
		"guessed eye":       func(c *rope.AnchorCase) { c.Assumed = []rope.Assumed{rope.AssumedEye} },
		"pull across, rated only along": func(c *rope.AnchorCase) {
			c.Aside = 0
			c.Loads[0].Force.Y = 500
		},
	} {
		t.Run(name, func(t *testing.T) {
			c := strong
			c.Loads = append([]rope.AnchorLoad(nil), strong.Loads...)
			change(&c)
			r := anchor(t, c)
			if r.Verdict != rope.NotKnown || r.Margin != 0 || r.Weakest != "" || len(r.Missing) == 0 {
				t.Errorf("%s, margin %g, weakest %q, missing %q", r.Verdict, r.Margin, r.Weakest, r.Missing)
			}
			for _, p := range r.Parts {
				if (p.Verdict == rope.NotKnown) != (len(p.Missing) > 0) || p.Verdict == rope.NotKnown && (p.Margin != 0 || p.Holds != 0) {
					t.Errorf("part %s: %s, margin %g, holds %g, missing %q", p.Key, p.Verdict, p.Margin, p.Holds, p.Missing)
				}
			}
		})
	}
}

// A part that fails on known figures fails, whatever else is unknown.
func TestKnownFailureStands(t *testing.T) {
	c := padeye()
	c.Rated = 10e3
	c.Under = rope.Under{}
	if r := anchor(t, c); r.Verdict != rope.MeetsNot || r.Margin >= 1 || !strings.Contains(r.Weakest, "eye") {
		t.Errorf("%s, margin %g, weakest %q", r.Verdict, r.Margin, r.Weakest)
	}
}

// What is demanded, once it is there, meets what it was demanded for; a tenth
// less does not.
func TestDemandIsWhatIsNeeded(t *testing.T) {
	for range 200 {
		c := padeye()
		c.Stands = 0.05 * rand.Float64()
		c.Loads[0].Force = rope.Vector{X: 3e4 * (rand.Float64() - 0.5), Y: 3e4 * (rand.Float64() - 0.5), Z: 2e4*rand.Float64() + 10}
		d := anchor(t, c).Demand
		if d.Long < c.Long || d.Thick <= 0 || d.Taper != 0.06 || len(d.Missing) > 0 {
			t.Fatalf("demand %+v", d)
		}
		c.Under.Long, c.Under.Wide, c.Under.Solid = d.Long*(1+1e-9), d.Wide*(1+1e-9), d.Thick*(1+1e-9)
		r := anchor(t, c)
		for _, key := range []rope.PartKey{rope.PartCore, rope.PartBearing, rope.PartPunch} {
			if p := part(t, r, key); p.Margin < 1-1e-6 {
				t.Fatalf("%s has a margin of %g under what was demanded", key, p.Margin)
			}
		}
		c.Under.Solid = 0.9 * d.Thick
		r = anchor(t, c)
		if part(t, r, rope.PartBearing).Margin >= 1 && part(t, r, rope.PartPunch).Margin >= 1 {
			t.Fatal("a tenth less laminate would do too")
		}
	}
}

// Without any strength entered there is still a demand, which says on what it
// rests.
func TestDemandRestsOnTheLowEnd(t *testing.T) {
	c := padeye()
	c.Under = rope.Under{Sort: rope.UnderFoam, Outer: 0.002, Core: 0.02, Inner: 0.002}
	d := anchor(t, c).Demand
	if d.Replace != rope.UnderFoam || d.Radius <= 0 || len(d.Rests) != 4 {
		t.Fatalf("demand %+v", d)
	}
	for _, r := range d.Rests {
		if !r.Assumed {
			t.Errorf("%s is not marked as assumed", r.What)
		}
	}
	c.Under.AllSolid = true
	if d := anchor(t, c).Demand; d.Replace != "" || d.Radius != 0 {
		t.Errorf("a solid deck has no core to take out: %+v", d)
	}
}

func TestBoltsInBareFoam(t *testing.T) {
	c := padeye()
	c.Under.Sort = rope.UnderFoam
	r := anchor(t, c)
	if p := part(t, r, rope.PartClamp); p.Verdict != rope.MeetsNot {
		t.Errorf("clamping on 80 kg foam: %s, margin %g", p.Verdict, p.Margin)
	}
	if d := r.Demand; d.Replace != rope.UnderFoam {
		t.Errorf("demand %+v", d)
	}
}

func TestSingleBoltAndLine(t *testing.T) {
	c := padeye()
	c.Bolts.At = []rope.Plan{{}}
	c.Offset = rope.Plan{Across: 0.01}
	if r := anchor(t, c); r.Verdict != rope.NotKnown || !strings.Contains(strings.Join(r.Missing, " "), "second bolt") {
		t.Errorf("one bolt that is twisted: %s, %q", r.Verdict, r.Missing)
	}
	// Two bolts along the foot, pulled across it: only the edge of the foot helps.
	c = padeye()
	c.Bolts.At = []rope.Plan{{Along: -0.03}, {Along: 0.03}}
	c.Loads[0].Force = rope.Vector{Y: 5e3}
	l := anchor(t, c).Loads[0]
	if want := 5e3 * 0.03 / 0.04 / 2; math.Abs(l.Bolts[0].Pull-want) > 1e-6 || l.Model != "about the edge of the foot" {
		t.Errorf("pull %g by %q, want %g", l.Bolts[0].Pull, l.Model, want)
	}
}

func TestBoltsTooNearAnEdge(t *testing.T) {
	c := padeye()
	whole := part(t, anchor(t, c), rope.PartBearing).Margin
	c.Under.Edge = 0.012 // half of 3 d
	if p := part(t, anchor(t, c), rope.PartBearing); math.Abs(p.Margin-whole/2) > 1e-9 || !strings.Contains(p.Says, "too near") {
		t.Errorf("margin %g of %g, %q", p.Margin, whole, p.Says)
	}
}

func TestUsualBolts(t *testing.T) {
	for n := range 13 {
		at := rope.UsualBolts(n, 0.1, 0.06, 0.008)
		if len(at) != n {
			t.Fatalf("%d bolts for %d", len(at), n)
		}
		for i, p := range at {
			if math.Abs(p.Along) > 0.038+1e-12 || math.Abs(p.Across) > 0.018+1e-12 {
				t.Errorf("bolt %v of %d lies off the foot", p, n)
			}
			for _, q := range at[:i] {
				if p == q {
					t.Errorf("two of %d bolts in one spot", n)
				}
			}
		}
	}
}

func TestAnchorRefuses(t *testing.T) {
	for says, change := range map[string]func(*rope.AnchorCase){
		"loads is empty":         func(c *rope.AnchorCase) { c.Loads = nil },
		"foot_long_m is -1":      func(c *rope.AnchorCase) { c.Long = -1 },
		"under.sort is \"cork\"": func(c *rope.AnchorCase) { c.Under.Sort = "cork" },
		"lies off the foot":      func(c *rope.AnchorCase) { c.Bolts.At[0].Along = 1 },
		"normal is too short":    func(c *rope.AnchorCase) { c.Normal = rope.Vector{X: 1e-9} },
		"loads 1":                func(c *rope.AnchorCase) { c.Loads[0].Force = rope.Vector{X: math.NaN()} },
		"bolts.at holds 65":      func(c *rope.AnchorCase) { c.Bolts.At = make([]rope.Plan, 65) },
		"assumed is \"all\"":     func(c *rope.AnchorCase) { c.Assumed = []rope.Assumed{"all"} },
	} {
		c := padeye()
		change(&c)
		var wrong *rope.AnchorError
		if _, err := rope.CheckAnchor(c); !errors.As(err, &wrong) || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want an error that says %q", err, says)
		}
	}
	if _, err := rope.StressArea(0.007); !errors.Is(err, rope.ErrThread) {
		t.Errorf("a thread of 7 mm: %v", err)
	}
	if _, err := (rope.Bolts{Size: 0.008, Grade: "bronze"}).Resistance(1.25); !errors.Is(err, rope.ErrGrade) {
		t.Errorf("bronze: %v", err)
	}
}

func TestCautionsHaveTheirWords(t *testing.T) {
	for _, c := range anchor(t, padeye()).Cautions {
		if c.Text() == "" {
			t.Errorf("caution %q has no text", c)
		}
	}
}

// No case, however odd, may crash the engine, or give a number that is none.
func FuzzAnchor(f *testing.F) {
	seed, err := json.Marshal(padeye())
	if err != nil {
		f.Fatal(err)
	}
	f.Add(seed)
	f.Add([]byte(`{"loads":[{"force_n":{"x":1}}],"bolts":{"at":[{},{}]},"under":{"sort":"foam core"}}`))
	f.Fuzz(func(t *testing.T, text []byte) {
		var c rope.AnchorCase
		if json.Unmarshal(text, &c) != nil {
			return
		}
		r, err := rope.CheckAnchor(c)
		if err != nil {
			return
		}
		if _, err := json.Marshal(r); err != nil { // fails on what is no number
			t.Fatal(err)
		}
		if again, _ := rope.CheckAnchor(c); !reflect.DeepEqual(r, again) {
			t.Fatal("the same case gave two results")
		}
	})
}

func mustAnchor(t *rapid.T, c rope.AnchorCase) rope.AnchorResult {
	r, err := rope.CheckAnchor(c)
	if err != nil {
		t.Fatal(err)
	}
	return r
}
