package deck

import (
	"math"

	"dogshore/record"
	"dogshore/rope"
)

// anchorCase makes the engine's case of a fitting under its loads. The line
// made fast to it is held against its own strength where lines are.
func (d *reading) anchorCase(f record.Fitting, loads []rope.AnchorLoad) rope.AnchorCase {
	c := rope.AnchorCase{
		Name: f.Name, Long: f.PlateLong.SI, Wide: f.PlateWide.SI, Stands: f.Stands.SI, Rated: f.Rated.SI, Aside: f.Aside.SI,
		Heading: along(loads), Loads: loads,
		Bolts:   rope.Bolts{Size: f.BoltSize.SI, Grade: f.BoltGrade},
		Backing: rope.Backing{Sort: f.Backing, Thick: f.BackThick.SI, Long: f.BackLong.SI, Wide: f.BackWide.SI},
		Under: rope.Under{Sort: f.Under, Solid: f.Laminate.SI, Long: f.PadLong.SI, Wide: f.PadWide.SI,
			Outer: f.OuterSkin.SI, Core: f.Core.SI, Inner: f.InnerSkin.SI,
			Bearing: f.Bearing.SI, Shear: f.Shear.SI, CoreShear: f.CoreShear.SI},
	}
	if n := int(f.Bolts.SI + 0.5); n > 0 && f.PlateLong.Known && f.PlateWide.Known && f.BoltSize.Known {
		c.Bolts.At = rope.UsualBolts(n, f.PlateLong.SI, f.PlateWide.SI, f.BoltSize.SI)
	}
	return c
}

// along is the heading of a foot that is laid along its greatest load, as one
// is; the record has no heading of fittings.
func along(loads []rope.AnchorLoad) float64 {
	best, heading := 0.0, 0.0
	for _, l := range loads {
		if h := math.Hypot(l.Force.X, l.Force.Y); h > best {
			best, heading = h, math.Atan2(l.Force.Y, l.Force.X)
		}
	}
	return heading
}
