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
	"pgregory.net/rapid"

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
		for li, l := range r.Leads[:2] {
			side := 1.0
			if l.Side == gybe.Starboard {
				side = -1
			}
			p := c.Preventers[0]
			spots := make([]r3.Vec, len(p.Turns))
			for i, turn := range p.Turns {
				spots[i] = vec(turn.Spot)
				if l.Side == gybe.Starboard && !turn.Stays {
					spots[i].Y = -spots[i].Y
				}
			}
			for _, h := range l.Held {
				if h.Outcome != gybe.Holds {
					continue
				}
				flat := math.Sqrt(1 - c.Boom.Rise*c.Boom.Rise/c.Boom.Length/c.Boom.Length)
				sin, cos := math.Sincos(h.Angle)
				arm := r3.Vec{X: -p.At * flat * cos, Y: side * p.At * flat * sin, Z: p.At * c.Boom.Rise / c.Boom.Length}
				made := r3.Add(vec(c.Boom.Gooseneck), arm)
				pull := r3.Scale(h.Tension, r3.Unit(r3.Sub(spots[0], made)))
				// The sail turns the boom towards amidships, the line against it.
				if moment := -side * r3.Cross(arm, pull).Z; math.Abs(moment-r.Moment.Most) > 1e-9*r.Moment.Most {
					t.Fatalf("lead %d at %.0f°: the line's moment about the mast is %.12g, the sail's %.12g", li, h.Angle/deg, moment, r.Moment.Most)
				}
				if up := h.Boom.Up; math.Abs(up-pull.Z) > 1e-9*h.Tension {
					t.Fatalf("pull up %g, want %g", up, pull.Z)
				}
				if squeeze := -r3.Dot(pull, r3.Unit(arm)); math.Abs(squeeze-h.Boom.Compression) > 1e-9*h.Tension {
					t.Fatalf("compression %g, want %g", h.Boom.Compression, squeeze)
				}
				from, in := made, h.Tension
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

// swing is the boom's course by time: I b” = T lever - M, no damping, fourth
// order Runge and Kutta, until its rate changes sign. It knows only the spots.
func swing(c gybe.Case, moment, inertia, ea, slack float64) (angle, tension float64) {
	p := c.Preventers[0]
	length := func(b float64) float64 {
		sin, cos := math.Sincos(b)
		from := r3.Add(vec(c.Boom.Gooseneck), r3.Vec{X: -p.At * cos, Y: p.At * sin})
		sum := 0.0
		for _, turn := range p.Turns {
			sum += r3.Norm(r3.Sub(vec(turn.Spot), from))
			from = vec(turn.Spot)
		}
		return sum
	}
	own := length(c.Boom.Out) + slack
	pull := func(b float64) float64 { return max(ea*(length(b)/own-1), 0) }
	// dl/db by a central difference: a way of its own.
	accel := func(b float64) float64 {
		const h = 1e-5
		return (-pull(b)*(length(b+h)-length(b-h))/(2*h) - moment) / inertia
	}
	b, w, dt := c.Boom.Out, 0.0, 1e-4
	for range 400_000 {
		k1b, k1w := w, accel(b)
		k2b, k2w := w+dt/2*k1w, accel(b+dt/2*k1b)
		k3b, k3w := w+dt/2*k2w, accel(b+dt/2*k2b)
		k4b, k4w := w+dt*k3w, accel(b+dt*k3b)
		nb, nw := b+dt/6*(k1b+2*k2b+2*k3b+k4b), w+dt/6*(k1w+2*k2w+2*k3w+k4w)
		if w < 0 && nw >= 0 { // the event: rate 0, the angle there level
			s := w / (w - nw)
			return b + s*(nb-b), pull(b + s*(nb-b))
		}
		b, w = nb, nw
	}
	return math.NaN(), math.NaN()
}

// Energy and time tell the same of a boom that is stopped, whatever it weighs.
func TestEnergyAgreesWithTime(t *testing.T) {
	for _, x := range []struct{ slack, ea, mass float64 }{{0, 210e3, 60}, {0.3, 210e3, 60}, {0.1, 1.5e6, 60}, {0.3, 210e3, 400}} {
		c := case27()
		c.Boom.Mass = x.mass
		p := &c.Preventers[0]
		p.Turns = append(p.Turns, gybe.Turn{Name: "clutch", Sort: "clutch", Spot: gybe.Spot{X: -4, Y: 0.5, Z: 1.2}})
		p.Slack, p.Line.Stiffness = gybe.Band{Low: x.slack}, x.ea
		r := reckon(t, c)
		for _, run := range r.Leads[0].Stops.Runs {
			angle, tension := swing(c, r.Moment.Most, r.Inertia, x.ea*run.Setting.Stretch, x.slack)
			if math.Abs(angle-run.Angle) > 1e-6 || math.Abs(tension-run.Tension) > 1e-4*tension {
				t.Errorf("%+v, stretch %g: %.6f° and %.2f N by energy, %.6f° and %.2f N by time", x, run.Setting.Stretch, run.Angle/deg, run.Tension, angle/deg, tension)
			}
		}
	}
}

// A stiff line without slack sees twice the static tension, whatever its
// stiffness; a boom that settles slowly on it sees it once.
func TestStiffLimit(t *testing.T) {
	c := case27()
	c.Preventers[0].Line.Stiffness = 1e9
	l := reckon(t, c).Leads[0]
	static := at(t, l, 80).Tension
	if q := l.Stops.Tension.Most / static; math.Abs(q-2) > 2e-4 {
		t.Errorf("suddenly %g times the static tension, want 2", q)
	}
	if q := l.Settles.Tension.Most / static; math.Abs(q-1) > 1e-4 {
		t.Errorf("slowly %g times the static tension, want 1", q)
	}
	// With slack the formula for small angles holds as long as the angle is small.
	c.Preventers[0].Slack = gybe.Band{Low: 0.005}
	for _, run := range reckon(t, c).Leads[0].Stops.Runs {
		if math.Abs(run.ByHand/run.Tension-1) > 0.003 {
			t.Errorf("stiff, 5 mm slack: %g by energy, %g by the formula", run.Tension, run.ByHand)
		}
	}
}

// A line so soft that the boom is not stopped is told in words.
func TestSoftLimit(t *testing.T) {
	c := case27()
	c.Preventers[0].Line.Stiffness = 1e3
	l := reckon(t, c).Leads[0]
	if l.Stops.Outcome != gybe.Through || l.Settles.Outcome != gybe.NoBalance || l.Stops.Tension.Most != 0 || len(l.Parts) != 0 {
		t.Errorf("%+v", l.Stops)
	}
	if l.Verdict != rope.MeetsNot || !strings.Contains(strings.Join(l.Says, " "), "comes through") || l.Margin != 0 {
		t.Errorf("%s %q", l.Verdict, l.Says)
	}
}

// A lead that pulls along the boom, or inwards, has no equilibrium: words, and
// no number.
func TestNoEquilibrium(t *testing.T) {
	c := case27()
	c.Preventers[0].Turns[0].Spot = gybe.Spot{X: -2, Y: 0, Z: 1.2} // aft and inboard of the boom's end
	l := reckon(t, c).Leads[0]
	h := at(t, l, 80)
	if h.Outcome != gybe.NoBalance || h.Tension != 0 || h.Points != nil || !strings.Contains(h.Says, "no tension") {
		t.Errorf("%+v", h)
	}
	if l.Settles.Outcome != gybe.NoBalance || l.Dead != l.Set {
		t.Errorf("%+v", l.Settles)
	}
}

// More wind, more slack: more load. More turning: more load on the block.
func TestMonotone(t *testing.T) {
	rnd := rand.New(rand.NewPCG(5, 6))
	for range 60 {
		c := anyCase(rnd)
		c.Preventers = c.Preventers[:1]
		for _, l := range reckon(t, c).Leads {
			for _, answer := range []gybe.Answer{l.Settles, l.Stops} {
				for _, a := range answer.Runs {
					for _, b := range answer.Runs {
						same := a.Setting
						same.Wind = b.Wind
						if same == b.Setting && a.Wind < b.Wind && b.Outcome == gybe.Holds && (a.Outcome != gybe.Holds || a.Tension > b.Tension || a.Angle < b.Angle) {
							t.Fatalf("less wind, more load: %+v, %+v", a, b)
						}
						same = a.Setting
						same.Slack = b.Slack
						if same == b.Setting && a.Slack < b.Slack && b.Outcome == gybe.Holds && (a.Outcome != gybe.Holds || a.Angle < b.Angle-1e-12) {
							t.Fatalf("less slack, the boom comes farther in: %+v, %+v", a, b)
						}
						same = a.Setting
						same.Stretch = b.Setting.Stretch
						if same == b.Setting && a.Setting.Stretch < b.Setting.Stretch && a.Outcome == gybe.Holds && (b.Outcome != gybe.Holds || a.Angle > b.Angle+1e-12) {
							t.Fatalf("a stiffer line lets the boom come farther in: %+v, %+v", a, b)
						}
					}
				}
			}
		}
	}
}

func TestMoreTurningMoreLoad(t *testing.T) {
	c := case27()
	last, turned := 0.0, 0.0
	for i := range 30 {
		c.Preventers[0].Turns = append(case27().Preventers[0].Turns, gybe.Turn{Sort: "clutch", Spot: gybe.Spot{X: 14 - 0.6*float64(i), Y: -3.5 + 0.2*float64(i), Z: 1.2}})
		p := at(t, reckon(t, c).Leads[0], 80).Points[0]
		if i > 0 && (p.Turning > turned) != (p.Load > last) {
			t.Fatalf("turning %g to %g, load %g to %g", turned, p.Turning, last, p.Load)
		}
		last, turned = p.Load, p.Turning
	}
}

// Friction in the blocks leaves the clutch less, the boom's end more, and the
// boom farther out.
func TestFriction(t *testing.T) {
	c := cruiser()
	c.Preventers = c.Preventers[:1]
	rough := reckon(t, c).Leads[0].Stops
	for i := range c.Preventers[0].Turns {
		c.Preventers[0].Turns[i].Friction = 0
	}
	slick := reckon(t, c).Leads[0].Stops
	for i := range c.Preventers[0].Turns {
		c.Preventers[0].Turns[i].Friction = 1e-13
	}
	nearly := reckon(t, c).Leads[0].Stops
	for i, a := range rough.Runs {
		if b := slick.Runs[i]; a.Angle < b.Angle {
			t.Errorf("with friction stopped at %g°, without at %g°", a.Angle/deg, b.Angle/deg)
		}
		// Summed step by step, against the spring's energy in one piece.
		if a, b := nearly.Runs[i], slick.Runs[i]; math.Abs(a.Angle-b.Angle) > 1e-6 || math.Abs(a.Tension-b.Tension) > 1e-4*b.Tension {
			t.Errorf("as good as no friction: %+v, none: %+v", a, b)
		}
	}
}

// A curve that is straight is a stiffness; one that stiffens stops the boom
// harder than its first slope would.
func TestCurve(t *testing.T) {
	c := case27()
	straight := reckon(t, c).Leads[0].Stops
	c.Preventers[0].Line = gybe.Line{Curve: []gybe.Stretch{{}, {0.02, 4200}, {0.1, 21000}}}
	curve := reckon(t, c).Leads[0].Stops
	if math.Abs(curve.Tension.Most-straight.Tension.Most) > 1e-6*straight.Tension.Most {
		t.Errorf("%g by a curve, %g by a stiffness", curve.Tension.Most, straight.Tension.Most)
	}
	c.Preventers[0].Line.Curve[2].Tension = 40000
	if stiff := reckon(t, c).Leads[0].Stops; stiff.Angle.Least <= curve.Angle.Least {
		t.Errorf("stiffening, and the boom comes in to %g°, not %g°", stiff.Angle.Least/deg, curve.Angle.Least/deg)
	}
}

func TestHauledIn(t *testing.T) {
	c := case27()
	c.Preventers[0].Slack = gybe.Band{Low: -0.5}
	for _, run := range reckon(t, c).Leads[0].Stops.Runs {
		if run.Setting.Stretch == 2 && (run.Angle != c.Boom.Out || run.Tension < 5165) {
			t.Errorf("hauled in by half a metre: %+v", run)
		}
	}
}

// Already swinging, the boom comes farther in.
func TestRate(t *testing.T) {
	c := case27()
	still := reckon(t, c).Leads[0].Stops
	c.Rate = 1
	if moving := reckon(t, c).Leads[0].Stops; moving.Tension.Most <= still.Tension.Most || moving.Angle.Least >= still.Angle.Least {
		t.Errorf("swinging in: %+v, from rest: %+v", moving.Tension, still.Tension)
	}
}

func TestDippedPullsMore(t *testing.T) {
	r := reckon(t, cruiser())
	for _, l := range r.Leads {
		if l.Dipped == nil || l.Settles.Outcome == gybe.Holds && l.Dipped.Outcome == gybe.Holds && l.Dipped.Tension.Most <= l.Settles.Tension.Most {
			t.Errorf("%s: dry %+v, dipped %+v", l.Preventer, l.Settles.Tension, l.Dipped)
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

// The distance of two segments, against points laid along both.
func TestClearance(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		u := rapid.Float64Range(-3, 3)
		spot := func() gybe.Spot { return gybe.Spot{X: u.Draw(t, "x"), Y: u.Draw(t, "y"), Z: u.Draw(t, "z")} }
		c := case27()
		c.Boom.Out = 80 * deg
		c.Preventers[0].Line.Stiffness = 1e9
		c.Obstacles = []gybe.Obstacle{{Name: "o", Run: []gybe.Spot{spot(), spot()}}}
		r, err := gybe.Reckon(c)
		if err != nil {
			t.Fatal(err)
		}
		l := r.Leads[0]
		found := append(l.Fouls, l.Clears...)[0]
		o, least := c.Obstacles[0].Run, math.Inf(1)
		block := vec(c.Preventers[0].Turns[0].Spot)
		inmost := min(l.Stops.Angle.Least, l.Settles.Angle.Least)
		for i := range 41 {
			b := c.Boom.Out + (inmost-c.Boom.Out)*float64(i)/40
			sin, cos := math.Sincos(b)
			end := r3.Vec{X: -5 * cos, Y: 5 * sin, Z: 2}
			for j := range 201 {
				p := r3.Add(end, r3.Scale(float64(j)/200, r3.Sub(block, end)))
				d := r3.Sub(vec(o[1]), vec(o[0]))
				s := 0.0
				if n := r3.Norm2(d); n > 0 {
					s = min(max(r3.Dot(r3.Sub(p, vec(o[0])), d)/n, 0), 1)
				}
				least = min(least, r3.Norm(r3.Sub(p, r3.Add(vec(o[0]), r3.Scale(s, d)))))
			}
		}
		if found.Least > least+1e-9 || found.Least < least-0.05 {
			t.Fatalf("clearance %g, by points %g", found.Least, least)
		}
	})
}

func TestFouls(t *testing.T) {
	c := cruiser()
	c.Preventers = c.Preventers[:1]
	// A rod standing where the first leg passes when the boom is out.
	l := reckon(t, c).Leads[0]
	if l.Side != gybe.Port {
		t.Fatal("the first lead is not that to port")
	}
	mid := gybe.Spot{X: 9.0377, Y: 2.8537, Z: 2.0} // about half way from the boom's end to the bow block
	c.Obstacles = []gybe.Obstacle{{Name: "rod", Run: []gybe.Spot{{X: mid.X, Y: mid.Y, Z: 0}, {X: mid.X, Y: mid.Y, Z: 4}}, Radius: 0.01}}
	r := reckon(t, c)
	if f := r.Leads[0].Fouls; len(f) != 1 || f[0].Leg != 1 || f[0].Obstacle != "rod" || f[0].From < f[0].To {
		t.Errorf("to port: fouls %+v, clears %+v", f, r.Leads[0].Clears)
	}
	if f := r.Leads[1].Fouls; len(f) != 0 {
		t.Errorf("to starboard: fouls %+v", f)
	}
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
