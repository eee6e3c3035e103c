package photo

import (
	"cmp"
	"math"
	"slices"

	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/plane"
	"dogshore/record"
)

// Tap is a place on the boat as somebody pointed at it: a drawing from above
// does not say a height, nor one from the side how far off the centreline.
type Tap struct {
	X, Y, Z  float64 // metres, in the boat's axes
	NoY, NoZ bool    // not said
}

// Near is how far from a tapped place a picture's spot may be to be counted as
// of that place, in metres: a picture shows what lies some steps before it.
// Common practice, no source.
const Near = 1.0

// Here lists the parts and places whose outlines hold a tapped place, the
// smallest first, so far as they have outlines that can say so. A part with
// both outlines must hold it in both, in what was said of it.
func Here(r *journal.Record, t Tap) []record.Ref {
	type held struct {
		ref  record.Ref
		size float64
	}
	var all []held
	add := func(ref record.Ref, plan, profile record.Outline) {
		if size, ok := holds(t, plan, profile); ok {
			all = append(all, held{ref, size})
		}
	}
	for _, x := range journal.All[record.Part](r) {
		if x.Withdrawn != record.Yes {
			add(x.Self, x.Plan, x.Profile)
		}
	}
	for _, x := range journal.All[record.Place](r) {
		add(x.Self, x.Plan, x.Profile)
	}
	slices.SortStableFunc(all, func(a, b held) int { return cmp.Compare(a.size, b.size) })
	out := make([]record.Ref, len(all))
	for i, x := range all {
		out[i] = x.ref
	}
	return out
}

// holds reports whether outlines hold a tapped place, and the area of the
// smaller outline that says so.
func holds(t Tap, plan, profile record.Outline) (size float64, ok bool) {
	size = math.Inf(1)
	for _, o := range []struct {
		outline record.Outline
		across  float64
		unsaid  bool
	}{{plan, t.Y, t.NoY}, {profile, t.Z, t.NoZ}} {
		if o.unsaid || len(o.outline) < 3 {
			continue
		}
		ring := points(o.outline)
		if !plane.Contains(ring, plane.Point{X: t.X, Y: o.across}) {
			return 0, false
		}
		size, ok = min(size, math.Abs(plane.Area(ring))), true
	}
	return size, ok
}

func points(o record.Outline) []plane.Point {
	out := make([]plane.Point, len(o))
	for i, c := range o {
		out[i] = plane.Point{X: c[0], Y: c[1]}
	}
	return out
}

// Whole fills in what a tap does not say from the outlines of what lies there:
// the middle, at that length, of the smallest that has the other outline. from
// is the part or place that it was taken from, "" if nothing was missing; it
// is false if no outline can say it.
func Whole(r *journal.Record, t Tap) (spot record.Spot, from record.Ref, ok bool) {
	spot = record.Spot{Known: true, X: t.X, Y: t.Y, Z: t.Z}
	if !t.NoY && !t.NoZ {
		return spot, "", true
	}
	for _, ref := range Here(r, t) {
		plan, profile := outlines(r, ref)
		if t.NoZ {
			spot.Z, ok = middleAt(profile, t.X)
		} else {
			spot.Y, ok = middleAt(plan, t.X)
		}
		if ok {
			return spot, ref, true
		}
	}
	return record.Spot{}, "", false
}

func outlines(r *journal.Record, ref record.Ref) (plan, profile record.Outline) {
	if p, ok := journal.Get[record.Part](r, ref); ok {
		return p.Plan, p.Profile
	}
	p, _ := journal.Get[record.Place](r, ref)
	return p.Plan, p.Profile
}

// middleAt is the middle between the lowest and the highest crossing of an
// outline with the line at x, to the centimetre.
func middleAt(o record.Outline, x float64) (float64, bool) {
	low, high := math.Inf(1), math.Inf(-1)
	for i, a := range o {
		b := o[(i+1)%len(o)]
		if math.Min(a[0], b[0]) > x || math.Max(a[0], b[0]) < x {
			continue
		}
		for _, y := range crossing(a, b, x) {
			low, high = math.Min(low, y), math.Max(high, y)
		}
	}
	return math.Round(50*(low+high)) / 100, low <= high
}

func crossing(a, b [2]float64, x float64) []float64 {
	if a[0] == b[0] {
		return []float64{a[1], b[1]}
	}
	return []float64{a[1] + (b[1]-a[1])*(x-a[0])/(b[0]-a[0])}
}

// At says what lies behind a tapped place: the layers of Behind for all that
// lies there, with the pictures whose spot is near it, and those of no spot
// that are of the part that was closed or of a place there. A picture whose
// spot is elsewhere is left out, whatever part it is of.
func (a Answer) At(r *journal.Record, p plan.Answer, t Tap) (here []record.Ref, layers []Layer) {
	here = Here(r, t)
	near := map[record.Ref]bool{}
	for _, ref := range here {
		near[ref] = true
	}
	for _, ref := range here { // a part lies at a place that may have no outline
		if x, ok := journal.Get[record.Part](r, ref); ok && x.Place != "" {
			if at, _ := journal.Get[record.Place](r, x.Place); len(at.Plan) < 3 && len(at.Profile) < 3 {
				near[x.Place] = true
			}
		}
	}
	return here, a.layers(p, near, func(x Photo, of map[record.Ref]bool) bool {
		switch {
		case x.Spot.Known:
			return t.far(x.Spot) <= Near
		case x.Part != "":
			return of[x.Part]
		}
		return near[x.Place]
	})
}

// far is how far a spot is from a tapped place, as far as it was said.
func (t Tap) far(s record.Spot) float64 {
	dy, dz := s.Y-t.Y, s.Z-t.Z
	if t.NoY {
		dy = 0
	}
	if t.NoZ {
		dz = 0
	}
	return math.Hypot(s.X-t.X, math.Hypot(dy, dz))
}

// Towards is the direction of one of the words of a photo's facing, of length
// 1, in the boat's axes; zero for none.
func Towards(facing string) [3]float64 {
	const d = math.Sqrt2 / 2
	return map[string][3]float64{
		"forward": {1, 0, 0}, "forward and to port": {d, d, 0}, "to port": {0, 1, 0}, "aft and to port": {-d, d, 0},
		"aft": {-1, 0, 0}, "aft and to starboard": {-d, -d, 0}, "to starboard": {0, -1, 0}, "forward and to starboard": {d, -d, 0},
		"up": {0, 0, 1}, "down": {0, 0, -1},
	}[facing]
}
