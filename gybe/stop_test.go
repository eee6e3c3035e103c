package gybe_test

import (
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"gonum.org/v1/gonum/spatial/r3"

	"dogshore/gybe"
	"dogshore/internal/test"
	"dogshore/rope"
)

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
		if run.Setting.Stretch == 2 && run.Slack == -0.5 && (run.Angle != c.Boom.Out || run.Tension < 5165) {
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

// A line that does not give holds the sail's moment and the water's together.
func TestDippedMoment(t *testing.T) {
	c := case27()
	c.Preventers[0].Line.Stiffness = 1e9
	c.Dip = &gybe.Dip{Speed: gybe.Band{Low: 2, High: 4}, Immersed: 1, Drag: 1.2, Water: 1025}
	r := reckon(t, c)
	h := at(t, r.Leads[0], 80)
	drag := 0.5 * 1025 * 1.2 * 1 * 0.15 * 16
	test.Check(t, "tension with the boom's end in the water, stiff line, N", "exact: moments about the mast",
		(r.Moment.Most+drag*5*math.Sin(80*deg))/h.Lever, r.Leads[0].Dipped.Tension.Most, 1)
}

// Bending of the boom, by the beam formulas of any handbook.
func TestBending(t *testing.T) {
	const src = "exact: beam on two supports, load between them or beyond"
	c := case27()
	c.Preventers[0].At = 2.5
	h := at(t, reckon(t, c).Leads[0], 80)
	test.Check(t, "bending by the pull down at mid-boom, P L/4, N m", src, math.Abs(h.Boom.Up)*5/4, h.Boom.Upright, 1e-6)
	test.Check(t, "both bendings together, N m", "exact: square to each other", math.Hypot(h.Boom.Sideways, h.Boom.Upright), h.Boom.Bending, 1e-6)
	c.Boom.Length, c.Preventers[0].At = 6, 6
	r := reckon(t, c)
	h = at(t, r.Leads[0], 80)
	test.Check(t, "clew 1 m inboard of a preventer at 6 m, F a b/L, N m", src, r.Moment.Most/5*5*1/6, h.Boom.Sideways, 1e-6)
	// A dip bends a boom held at half its length by the water's pull beyond it.
	c.Preventers[0].At = 3
	dry := reckon(t, c).Leads[0].Parts
	c.Dip = &gybe.Dip{Speed: gybe.Band{Low: 6}, Immersed: 2}
	if wet := reckon(t, c).Leads[0].Parts; dry == nil || wet != nil && wet[len(wet)-1].Load.Most <= dry[len(dry)-1].Load.Most {
		t.Errorf("bending dry %+v, with the end in the water %+v", dry, wet)
	}
}
