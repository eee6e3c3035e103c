package rope_test

import (
	"math"
	"testing"

	"dogshore/internal/test"
	"dogshore/rope"
)

// The eye's rating by direction: the shares in the plane of its length and
// across it are added.
func TestEyeByDirection(t *testing.T) {
	c := padeye()
	c.Loads[0].Force = rope.Vector{X: 6e3, Y: 6e3, Z: 8e3}
	test.Check(t, "eye rated 60 kN, 30 kN aside, pulled 10 and 6 kN, share", "exact: sum of the shares", 10.0/60+6.0/30, part(t, anchor(t, c), rope.PartEye).Load, 1e-12)
	c.Aside = 0
	c.Loads[0].Force.Y = 0
	if p := part(t, anchor(t, c), rope.PartEye); p.Verdict != rope.Meets || math.Abs(p.Margin-6) > 1e-12 {
		t.Errorf("pulled in its plane it needs no rating aside: %+v", p)
	}
}

func TestBackingPlate(t *testing.T) {
	const src = "practitioners' break tests, 1/4 in bolts: five diameters, a third of one thick in metal, two thirds in glass; safety-lines sheet 7.5"
	for _, x := range []struct {
		sort   string
		thick  float64
		margin float64
	}{{rope.BackingStainless, 0.004, 1.5}, {rope.BackingAluminium, 0.002, 0.75}, {rope.BackingGlass, 0.004, 0.75}, {rope.BackingNone, 0, 0.32}} {
		c := padeye()
		c.Backing.Sort, c.Backing.Thick = x.sort, x.thick
		test.Check(t, "backing of M8, size over what breaks tell of, "+x.sort, src, x.margin, part(t, anchor(t, c), rope.PartPlate).Margin, 1e-9)
	}
	// A thin plate does not spread the pull: each nut is pulled through by itself.
	c := padeye()
	c.Backing.Thick = 0.001
	p := part(t, anchor(t, c), rope.PartPunch)
	if want := math.Pi * 1.6 * 0.008 * 0.008 * 30e6; math.Abs(p.Holds-want) > 1e-6 {
		t.Errorf("holds %g, want %g", p.Holds, want)
	}
	// Nor does a washer that cones.
	c.Backing = rope.Backing{Sort: rope.BackingWashers, Thick: 0.001, Long: 0.04}
	if q := part(t, anchor(t, c), rope.PartPunch); q.Holds != p.Holds {
		t.Errorf("a thin washer holds %g, a nut %g", q.Holds, p.Holds)
	}
}

// The core's shear round a pad, straight pull and pure tilt apart.
func TestCoreRoundThePad(t *testing.T) {
	c := padeye()
	c.Stands = 0
	c.Loads[0].Force = rope.Vector{Z: 6e3}
	test.Check(t, "core shear, 6 kN out, pad 300 x 300, dd 22 mm, Pa", "exact: force over rim and depth", 6e3/(4*0.3*0.022), part(t, anchor(t, c), rope.PartCore).Load, 1e-6)
	c.Stands = 0.05
	c.Loads[0].Force = rope.Vector{X: 6e3}
	test.Check(t, "core shear, 300 N m of tilt, Pa", "weld-line modulus of a box a x b: a b + a^2/3, any handbook, from memory",
		300/(0.09+0.03)/0.022, part(t, anchor(t, c), rope.PartCore).Load, 1e-6)
}

// Bolts in a bare sandwich: washers, each its own hard point.
func TestWashersOnFoam(t *testing.T) {
	c := padeye()
	c.Under.Sort = rope.UnderFoam
	c.Backing = rope.Backing{Sort: rope.BackingWashers, Thick: 0.003, Long: 0.04}
	r := anchor(t, c)
	most := 0.0
	for _, b := range r.Loads[0].Bolts {
		most = max(most, b.Pull)
	}
	if p := part(t, r, rope.PartCore); math.Abs(p.Load-most/(math.Pi*0.04*0.022)) > 1e-6 || p.Verdict != rope.MeetsNot {
		t.Errorf("core: %+v", p)
	}
	clamp := 4 * 0.7 * 450e6 * math.Pi / 4 * math.Pow(0.008-0.9382*0.00125, 2)
	if p := part(t, r, rope.PartClamp); math.Abs(p.Load-clamp/(4*math.Pi/4*0.04*0.04)) > 1e-3 {
		t.Errorf("clamp: %+v", p)
	}
}
