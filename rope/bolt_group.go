package rope

import "math"

// group is a foot's bolts about their middle.
type group struct {
	mid    Plan   // of the bolts, from the middle of the foot
	at     []Plan // each bolt from mid
	aa, ac float64
	cc     float64 // second moments of the bolts: along, mixed, across
	corner []Plan  // of the foot, from mid; nil if its size is not known
}

func newGroup(c *AnchorCase) *group {
	g := &group{}
	n := float64(len(c.Bolts.At))
	for _, p := range c.Bolts.At {
		g.mid.Along += p.Along / n
		g.mid.Across += p.Across / n
	}
	for _, p := range c.Bolts.At {
		d := Plan{p.Along - g.mid.Along, p.Across - g.mid.Across}
		g.at = append(g.at, d)
		g.aa += d.Along * d.Along
		g.ac += d.Along * d.Across
		g.cc += d.Across * d.Across
	}
	if c.Long > 0 && c.Wide > 0 {
		for _, s := range [4][2]float64{{1, 1}, {1, -1}, {-1, -1}, {-1, 1}} {
			g.corner = append(g.corner, Plan{s[0]*c.Long/2 - g.mid.Along, s[1]*c.Wide/2 - g.mid.Across})
		}
	}
	return g
}

// elastic returns the pull on each bolt when the foot is stiff and the bolts
// are springs that pull and press: T_i = out/n + b.p_i with sum T_i p_i = -tilt,
// tilt pointing to where the foot goes down. It returns nil where the bolts
// lie on a line, or in one spot, that the tilt does not follow.
func (g *group) elastic(out float64, tilt Plan) []float64 {
	// Principal axes of the bolts: along the greater one first.
	mean, half := (g.aa+g.cc)/2, math.Hypot((g.aa-g.cc)/2, g.ac)
	great, small := mean+half, mean-half
	angle := 0.5 * math.Atan2(2*g.ac, g.aa-g.cc)
	sin, cos := math.Sincos(angle)
	tg, ts := tilt.Along*cos+tilt.Across*sin, -tilt.Along*sin+tilt.Across*cos
	size := math.Hypot(tilt.Along, tilt.Across)
	slope := func(t, second float64) (float64, bool) {
		if second <= flat*max(great, flat) {
			return 0, math.Abs(t) <= flat*size
		}
		return -t / second, true
	}
	bg, ok1 := slope(tg, great)
	bs, ok2 := slope(ts, small)
	if !ok1 || !ok2 {
		return nil
	}
	pull := make([]float64, len(g.at))
	for i, p := range g.at {
		pull[i] = out/float64(len(g.at)) + bg*(p.Along*cos+p.Across*sin) + bs*(-p.Along*sin+p.Across*cos)
	}
	return pull
}

// flat is the relative size below which bolts count as lying on one line:
// far above rounding, far below a drilled foot.
const flat = 1e-9

// pivot returns the pull on each bolt when the foot turns about its edge:
// T_i = (tilt + out r_mid) r_i / sum r_i^2, r_i from the edge that goes down. It
// returns nil where the foot does not turn over, that is where the edge would
// have to pull, or where its size is not known.
func (g *group) pivot(out float64, tilt Plan) []float64 {
	size := math.Hypot(tilt.Along, tilt.Across)
	if size == 0 || g.corner == nil {
		return nil
	}
	along := func(p Plan) float64 { return (p.Along*tilt.Along + p.Across*tilt.Across) / size }
	edge := math.Inf(-1)
	for _, p := range g.corner {
		edge = max(edge, along(p))
	}
	sum, squares := 0.0, 0.0
	for _, p := range g.at {
		r := edge - along(p)
		sum, squares = sum+r, squares+r*r
	}
	over := size + out*edge
	if over <= 0 || squares == 0 || over*sum/squares < out {
		return nil
	}
	pull := make([]float64, len(g.at))
	for i, p := range g.at {
		pull[i] = over * (edge - along(p)) / squares
	}
	return pull
}

// shear returns the shear on each bolt: the load shared evenly, and its twist
// about their middle. The second value is false where a single bolt, or several
// in one spot, would have to keep the foot from twisting.
func (g *group) shear(along, across, twist float64) ([]float64, bool) {
	n, polar := float64(len(g.at)), g.aa+g.cc
	turn := 0.0
	if twist != 0 {
		if polar <= flat*flat {
			return nil, false
		}
		turn = twist / polar
	}
	out := make([]float64, len(g.at))
	for i, p := range g.at {
		out[i] = math.Hypot(along/n-turn*p.Across, across/n+turn*p.Along)
	}
	return out, true
}
