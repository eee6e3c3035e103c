package gybe_test

import (
	"encoding/json"
	"errors"
	"math"
	"math/rand/v2"
	"reflect"
	"strings"
	"testing"

	"gonum.org/v1/gonum/floats/scalar"
	"gonum.org/v1/gonum/spatial/r3"

	"dogshore/gybe"
	"dogshore/rope"
)

// cruiser is an invented boat: a preventer from the end of the boom round a
// block at the bow and one amidships back to a clutch, shifted over, with a
// little friction; a tackle to the rail; shroud and guard-rail in the way.
func cruiser() gybe.Case {
	return gybe.Case{
		Boom: gybe.Boom{Name: "boom", Gooseneck: gybe.Spot{X: 7.2, Z: 2.4}, Length: 5.6, Rise: 0.3, Depth: 0.2, Mass: 70, Bending: 60e3, Squeeze: 60e3, Out: 75 * deg},
		Sail: gybe.Sail{Area: 38, Luff: 14.5, Foot: 5.4, Mass: 40, Aft: 2.1},
		Wind: gybe.Band{Low: 10, High: 14},
		Preventers: []gybe.Preventer{
			{
				Name: "long", Side: gybe.Both, At: 5.5, Slack: gybe.Band{Low: 0, High: 0.3}, Line: gybe.Line{Name: "12 mm polyester", Stiffness: 200e3, Holds: 24e3},
				Turns: []gybe.Turn{
					{Name: "bow block", Sort: "block", Spot: gybe.Spot{X: 12.3, Y: 0.4, Z: 1.3}, Friction: 0.1, Rated: 30e3},
					{Name: "quarter block", Sort: "block", Spot: gybe.Spot{X: 3, Y: 1.9, Z: 1.2}, Friction: 0.1, Rated: 20e3},
					{Name: "clutch", Sort: "clutch", Spot: gybe.Spot{X: 2.2, Y: 0.5, Z: 1.5}, Rated: 12e3, Stays: true},
				},
			},
			{
				Name: "tackle", Side: gybe.Starboard, At: 2.8, Line: gybe.Line{Name: "10 mm polyester", Stiffness: 400e3},
				Turns: []gybe.Turn{{Name: "rail eye", Sort: "eye", Spot: gybe.Spot{X: 8, Y: -2.1, Z: 1.2}}},
			},
		},
		Obstacles: []gybe.Obstacle{
			{Name: "port shroud", Run: []gybe.Spot{{X: 6.8, Y: 2.0, Z: 1.2}, {X: 7.1, Y: 0.2, Z: 16}}, Radius: 0.005},
			{Name: "port guard-rail", Run: []gybe.Spot{{X: 1, Y: 2.1, Z: 1.85}, {X: 6, Y: 2.2, Z: 1.85}, {X: 12, Y: 0.5, Z: 2.0}}, Radius: 0.003},
		},
		Dip:   &gybe.Dip{Speed: gybe.Band{Low: 3, High: 4}, Immersed: 0.8},
		Sheet: &gybe.Mainsheet{Forward: 1.2, Wind: 12},
	}
}

// mirror turns a case over to the other side.
func mirror(c gybe.Case) gybe.Case {
	flip := func(s gybe.Spot) gybe.Spot { s.Y = -s.Y; return s }
	c.Boom.Gooseneck = flip(c.Boom.Gooseneck)
	c.Preventers = append([]gybe.Preventer(nil), c.Preventers...)
	for i := range c.Preventers {
		p := &c.Preventers[i]
		p.Side = map[gybe.Side]gybe.Side{gybe.Port: gybe.Starboard, gybe.Starboard: gybe.Port, gybe.Both: gybe.Both}[p.Side]
		p.Turns = append([]gybe.Turn(nil), p.Turns...)
		for k := range p.Turns {
			p.Turns[k].Spot = flip(p.Turns[k].Spot)
		}
	}
	c.Obstacles = append([]gybe.Obstacle(nil), c.Obstacles...)
	for i := range c.Obstacles {
		run := make([]gybe.Spot, len(c.Obstacles[i].Run))
		for k, s := range c.Obstacles[i].Run {
			run[k] = flip(s)
		}
		c.Obstacles[i].Run = run
	}
	return c
}

// anyCase is a random boat whose preventer leads forward.
func anyCase(rnd *rand.Rand) gybe.Case {
	c := cruiser()
	c.Boom.Rise = 0.6 * (rnd.Float64() - 0.5)
	c.Boom.Gooseneck.Y = 0.2 * (rnd.Float64() - 0.5)
	c.Boom.Out = (60 + 25*rnd.Float64()) * deg
	p := &c.Preventers[0]
	p.At = 2.5 + 3*rnd.Float64()
	p.Slack.High = 0.5 * rnd.Float64()
	p.Line.Stiffness = math.Exp(math.Log(5e4) + 3.5*rnd.Float64())
	p.Turns = append([]gybe.Turn(nil), p.Turns...)
	p.Turns[0].Spot = gybe.Spot{X: 10 + 3*rnd.Float64(), Y: 0.2 + rnd.Float64(), Z: 1 + rnd.Float64()}
	for i := range p.Turns {
		p.Turns[i].Friction = 0.2 * rnd.Float64()
	}
	return c
}

func vec(s rope.Vector) r3.Vec { return r3.Vec(s) }

// Moments about the mast and forces at every turn are in balance, from the
// spots entered alone.
func TestBalance(t *testing.T) {
	rnd := rand.New(rand.NewPCG(1, 2))
	for range 60 {
		c := anyCase(rnd)
		r := reckon(t, c)
		for _, l := range r.Leads[:2] {
			for _, h := range l.Held {
				if h.Outcome == gybe.Holds {
					balanced(t, c, l.Side, h, r.Moment.Most)
				}
			}
		}
	}
}

// balanced fails t unless mast and turns are in balance with the boom held at
// one angle by the case's first preventer.
func balanced(t *testing.T, c gybe.Case, on gybe.Side, h gybe.Held, sail float64) {
	t.Helper()
	p, side := c.Preventers[0], 1.0
	spots := make([]r3.Vec, len(p.Turns))
	for i, turn := range p.Turns {
		spots[i] = vec(turn.Spot)
		if on == gybe.Starboard && !turn.Stays {
			spots[i].Y = -spots[i].Y
		}
	}
	if on == gybe.Starboard {
		side = -1
	}
	flat := math.Sqrt(1 - c.Boom.Rise*c.Boom.Rise/c.Boom.Length/c.Boom.Length)
	sin, cos := math.Sincos(h.Angle)
	arm := r3.Vec{X: -p.At * flat * cos, Y: side * p.At * flat * sin, Z: p.At * c.Boom.Rise / c.Boom.Length}
	made := r3.Add(vec(c.Boom.Gooseneck), arm)
	pull := r3.Scale(h.Tension, r3.Unit(r3.Sub(spots[0], made)))
	// The sail turns the boom towards amidships, the line against it.
	if moment := -side * r3.Cross(arm, pull).Z; math.Abs(moment-sail) > 1e-9*sail {
		t.Fatalf("%s, %.0f°: the line's moment about the mast is %.12g, the sail's %.12g", on, h.Angle/deg, moment, sail)
	}
	squeeze := -r3.Dot(pull, r3.Unit(arm))
	if math.Abs(squeeze-h.Boom.Compression) > 1e-9*h.Tension || math.Abs(h.Boom.Up-pull.Z) > 1e-9*h.Tension {
		t.Fatalf("compression %g, want %g; up %g, want %g", h.Boom.Compression, squeeze, h.Boom.Up, pull.Z)
	}
	balancedTurns(t, p, spots, made, h)
}

func balancedTurns(t *testing.T, p gybe.Preventer, spots []r3.Vec, from r3.Vec, h gybe.Held) {
	t.Helper()
	in := h.Tension
	for i, q := range h.Points {
		force := r3.Scale(-in, r3.Unit(r3.Sub(spots[i], from)))
		if i+1 < len(spots) {
			a, b := r3.Sub(spots[i], from), r3.Sub(spots[i+1], spots[i])
			phi := math.Acos(min(max(r3.Dot(a, b)/r3.Norm(a)/r3.Norm(b), -1), 1))
			after := in * math.Exp(-p.Turns[i].Friction*phi)
			if math.Abs(after-q.Out) > 1e-9*h.Tension {
				t.Fatalf("turn %d: tension beyond %g, want %g", i, q.Out, after)
			}
			force = r3.Add(force, r3.Scale(after, r3.Unit(b)))
			in, from = after, spots[i]
		}
		if d := r3.Norm(r3.Sub(force, vec(q.Force))); d > 1e-9*h.Tension {
			t.Fatalf("turn %d: force off by %g N", i, d)
		}
	}
}

func TestPortAndStarboardAreAlike(t *testing.T) {
	rnd := rand.New(rand.NewPCG(3, 4))
	for range 30 {
		c := anyCase(rnd)
		a, b := reckon(t, c), reckon(t, mirror(c))
		// Port of the one is starboard of the other.
		for i, l := range a.Leads {
			m := b.Leads[i]
			if c.Preventers[0].Side == gybe.Both && i < 2 {
				m = b.Leads[1-i]
			}
			if l.Side == m.Side || math.Abs(l.Length-m.Length) > 1e-12 || l.Verdict != m.Verdict ||
				!scalar.EqualWithinRel(l.Stops.Tension.Most, m.Stops.Tension.Most, 1e-12) || len(l.Fouls) != len(m.Fouls) {
				t.Fatalf("%s %s: %+v\nmirrored %+v", l.Preventer, l.Side, l.Stops, m.Stops)
			}
			for k, q := range l.Parts {
				f, g := q.Force, m.Parts[k].Force
				if math.Abs(f.X-g.X)+math.Abs(f.Y+g.Y)+math.Abs(f.Z-g.Z) > 1e-9*(1+q.Load.Most) {
					t.Fatalf("force %v, mirrored %v", f, g)
				}
			}
		}
	}
}

func TestUnknownRatings(t *testing.T) {
	c := cruiser()
	c.Wind = gybe.Band{Low: 5}
	c.Preventers = c.Preventers[:1]
	c.Preventers[0].Line.Holds = 100e3
	c.Obstacles = nil
	if l := reckon(t, c).Leads[0]; l.Verdict != rope.Meets || l.Margin < 1 || l.Weakest == "" {
		t.Fatalf("strong: %s, margin %g, %q", l.Verdict, l.Margin, l.Weakest)
	}
	for name, change := range map[string]func(*gybe.Case){
		"line":    func(c *gybe.Case) { c.Preventers[0].Line.Holds = 0 },
		"guessed": func(c *gybe.Case) { c.Preventers[0].Line.Assumed = true },
		"block":   func(c *gybe.Case) { c.Preventers[0].Turns[0].Rated = 0 },
		"boom":    func(c *gybe.Case) { c.Boom.Bending = 0 },
	} {
		d := c
		d.Preventers = append([]gybe.Preventer(nil), c.Preventers...)
		d.Preventers[0].Turns = append([]gybe.Turn(nil), c.Preventers[0].Turns...)
		change(&d)
		if l := reckon(t, d).Leads[0]; l.Verdict != rope.NotKnown || l.Margin != 0 || l.Weakest != "" || len(l.Missing) == 0 {
			t.Errorf("%s: %s, margin %g, weakest %q, missing %q", name, l.Verdict, l.Margin, l.Weakest, l.Missing)
		}
	}
	c.Wind = gybe.Band{Low: 20}
	c.Boom.Bending = 0
	if l := reckon(t, c).Leads[0]; l.Verdict != rope.MeetsNot || l.Margin >= 1 {
		t.Errorf("a known part fails, the boom is unknown: %s, margin %g", l.Verdict, l.Margin)
	}
}

func TestRefuses(t *testing.T) {
	for says, change := range map[string]func(*gybe.Case){
		"wind_m_s is 0":             func(c *gybe.Case) { c.Wind = gybe.Band{} },
		"the lower end comes first": func(c *gybe.Case) { c.Wind = gybe.Band{Low: 5, High: 3} },
		"boom.length_m is 0":        func(c *gybe.Case) { c.Boom.Length = 0 },
		"side is \"left\"":          func(c *gybe.Case) { c.Preventers[0].Side = "left" },
		"turns has 0":               func(c *gybe.Case) { c.Preventers[0].Turns = nil },
		"give stiffness_n":          func(c *gybe.Case) { c.Preventers[0].Line = gybe.Line{} },
		"not a stretch law":         func(c *gybe.Case) { c.Preventers[0].Line.Curve = []gybe.Stretch{{}, {0.1, 10}, {0.2, 5}} },
		"leave one of the two out":  func(c *gybe.Case) { c.Preventers[0].Turns[1].Spot = c.Preventers[0].Turns[0].Spot },
		"dip needs boom.depth_m":    func(c *gybe.Case) { c.Boom.Depth = 0 },
		"can't be hauled in":        func(c *gybe.Case) { c.Preventers[0].Slack = gybe.Band{Low: -50} },
		"at_m is 9":                 func(c *gybe.Case) { c.Preventers[0].At = 9 },
		"nobody knows the boom's i": func(c *gybe.Case) { c.Rate, c.Sail.Mass = 1, 0 },
		"run has 0 spots":           func(c *gybe.Case) { c.Obstacles[0].Run = nil },
	} {
		c := cruiser()
		change(&c)
		var wrong *gybe.Invalid
		if _, err := gybe.Reckon(c); !errors.As(err, &wrong) || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want an error that says %q", err, says)
		}
	}
}

// No case, however odd, may crash the engine, or give a number that is none.
func FuzzReckon(f *testing.F) {
	for _, c := range []gybe.Case{cruiser(), case27()} {
		seed, err := json.Marshal(c)
		if err != nil {
			f.Fatal(err)
		}
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, text []byte) {
		var c gybe.Case
		if json.Unmarshal(text, &c) != nil {
			return
		}
		r, err := gybe.Reckon(c)
		if err != nil {
			return
		}
		if _, err := json.Marshal(r); err != nil { // fails on what is no number
			t.Fatal(err)
		}
		if again, _ := gybe.Reckon(c); !reflect.DeepEqual(r, again) {
			t.Fatal("the same case gave two results")
		}
	})
}

// A line that is shifted over is two leads: its turns mirrored, but for those
// that stay, whichever side they were entered for.
func TestShiftedOver(t *testing.T) {
	c := cruiser()
	c.Preventers = c.Preventers[:1]
	both := reckon(t, c).Leads
	byHand := c.Preventers[0]
	byHand.Side = gybe.Starboard
	byHand.Turns = append([]gybe.Turn(nil), byHand.Turns...)
	for i := range byHand.Turns {
		if !byHand.Turns[i].Stays {
			byHand.Turns[i].Spot.Y = -byHand.Turns[i].Spot.Y
		}
	}
	d := c
	d.Preventers = []gybe.Preventer{byHand}
	alone := reckon(t, d).Leads[0]
	if len(both) != 2 || !reflect.DeepEqual(both[1], alone) {
		t.Errorf("shifted over %+v, entered by hand %+v", both[1].Stops.Tension, alone.Stops.Tension)
	}
	if both[0].Length == both[1].Length {
		t.Error("the clutch stays on one side, so the leads are not of one length")
	}
	// Entered for starboard, the same two leads come out.
	byHand.Side = gybe.Both
	d.Preventers = []gybe.Preventer{byHand}
	if again := reckon(t, d).Leads; !reflect.DeepEqual(again, both) {
		t.Error("entered for the other side it is another preventer")
	}
}

// The largest case that is read ends within a bounded number of steps.
func TestLargestCase(t *testing.T) {
	if testing.Short() {
		t.Skip("slow")
	}
	c := cruiser()
	p := c.Preventers[0]
	for i := range 50 {
		p.Line.Curve = append(p.Line.Curve, gybe.Stretch{Strain: float64(i) * 0.004, Tension: 40 * float64(i*i+20*i)})
	}
	p.Turns = nil
	for i := range 12 {
		p.Turns = append(p.Turns, gybe.Turn{Spot: gybe.Spot{X: 12 - 0.9*float64(i), Y: 0.4 + float64(i%2), Z: 1.2}, Friction: 0.1})
	}
	c.Preventers = nil
	for range 8 {
		c.Preventers = append(c.Preventers, p)
	}
	run := make([]gybe.Spot, 500)
	for i := range run {
		run[i] = gybe.Spot{X: 0.02 * float64(i), Y: 3 + math.Sin(float64(i)), Z: 1}
	}
	c.Obstacles = []gybe.Obstacle{{Run: run}, {Run: run}, {Run: run}, {Run: run}}
	if r := reckon(t, c); len(r.Leads) != 16 {
		t.Errorf("%d leads", len(r.Leads))
	}
}
