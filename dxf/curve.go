package dxf

import "math"

// curve makes the points of one entity.
type curve struct {
	r      *drawer
	m      matrix // from the entity's coordinates to the drawing's
	points []Point
	closed bool
	why    string // it can't be read, if that is known better than by its values
}

func (c *curve) add(p Point) { c.points = append(c.points, c.m.of(p)) }

// tolerance is how far a chord may lie from its curve before m stretches it;
// 0 if the unit is not known.
func (c *curve) tolerance() float64 {
	if s := c.m.stretch(); c.r.chord > 0 && s > 0 {
		return c.r.chord / s
	}
	return 0
}

// coarseAngle is the step of curves whose size in metres is not known.
const coarseAngle = math.Pi / 32

// chords says into how many chords an arc of a radius and an angle (in
// radians) is parted so that each lies within tol of it. A chord over the
// angle a lies at most
//
//	r (1 - cos(a/2))
//
// from its arc. The same holds of an ellipse with r for its greater half
// axis and a for the step of its parameter, for it is a flattened circle. No
// step is above a right angle, so that small circles stay round.
func (c *curve) chords(r, angle float64) int {
	step := coarseAngle
	if tol := c.tolerance(); tol > 0 {
		step = math.Pi / 2
		if tol < r {
			step = min(step, 2*math.Acos(1-tol/r))
		}
	}
	n := math.Ceil(math.Abs(angle)/step - 1e-9)
	if !(n <= maxChords) { // also where the step is nothing
		c.r.coarse++
		n = maxChords
	}
	return max(int(n), 1)
}

func (c *curve) line(e *entity) bool {
	p, okP := e.point(10)
	q, okQ := e.point(11)
	c.add(p)
	c.add(q)
	return okP && okQ && e.has(10) && e.has(11)
}

func (c *curve) point(e *entity) bool {
	p, ok := e.point(10)
	c.add(p)
	return ok && e.has(10)
}

// arc reads an arc or a circle: anti-clockwise, about its own z axis.
func (c *curve) arc(e *entity) bool {
	centre, okC := e.point(10)
	r, okR := e.number(40, 0)
	from, okF := e.number(50, 0)
	to, okT := e.number(51, 360)
	own, okO := e.own()
	if !(okC && okR && okF && okT && okO) || r <= 0 {
		return false
	}
	c.m = c.m.times(own)
	if c.closed = e.sort == "CIRCLE"; c.closed {
		from, to = 0, 360
	}
	sweep := math.Mod(to-from, 360)
	if sweep <= 0 {
		sweep += 360
	}
	from, sweep = from*math.Pi/180, sweep*math.Pi/180
	n := c.chords(r, sweep)
	for i := range n + 1 {
		sin, cos := math.Sincos(from + sweep*float64(i)/float64(n))
		if c.closed && i == n {
			break
		}
		c.add(Point{centre.X + r*cos, centre.Y + r*sin, centre.Z})
	}
	return true
}

// ellipse reads an ellipse or a piece of one, by its greater half axis, the
// ratio of the lesser to it, and a parameter from and to.
func (c *curve) ellipse(e *entity) bool {
	centre, okC := e.point(10)
	major, okM := e.point(11)
	n := Point{0, 0, 1}
	okN := true
	if e.has(210) {
		n, okN = e.point(210)
	}
	ratio, okR := e.number(40, 0)
	from, okF := e.number(41, 0)
	to, okT := e.number(42, 2*math.Pi)
	if !(okC && okM && okN && okR && okF && okT) || major.norm() == 0 || ratio == 0 {
		return false
	}
	minor := n.unit().cross(major).scale(ratio)
	sweep := math.Mod(to-from, 2*math.Pi)
	if sweep <= 1e-9 {
		sweep += 2 * math.Pi
	}
	c.closed = sweep > 2*math.Pi-1e-9
	steps := c.chords(max(major.norm(), minor.norm()), sweep)
	for i := range steps + 1 {
		if c.closed && i == steps {
			break
		}
		sin, cos := math.Sincos(from + sweep*float64(i)/float64(steps))
		c.add(centre.add(major.scale(cos)).add(minor.scale(sin)))
	}
	return true
}

// vertex is a corner of a polyline, with the bulge of what follows it.
type vertex struct {
	at    Point
	bulge float64
}

// light reads a polyline whose corners stand in its own values.
func (c *curve) light(e *entity) bool {
	z, ok := e.number(38, 0)
	own, okO := e.own()
	var list []vertex
	for _, p := range e.pairs {
		v, okV := p.number()
		switch {
		case p.code == 10:
			list = append(list, vertex{at: Point{v, 0, z}})
		case len(list) == 0 || p.code != 20 && p.code != 42:
			continue
		case p.code == 20:
			list[len(list)-1].at.Y = v
		case p.code == 42:
			list[len(list)-1].bulge = v
		}
		ok = ok && okV
	}
	c.m = c.m.times(own)
	c.closed = e.whole(70)&1 != 0
	return c.corners(list) && ok && okO
}

// Marks of a polyline and its vertices (group code 70).
const (
	closedMark  = 1
	threeD      = 8
	meshMark    = 16
	facesMark   = 64
	vertexFrame = 16 // a point that only steers the curve
)

// heavy reads a polyline whose corners are entities of their own.
func (c *curve) heavy(e *entity) bool {
	marks := e.whole(70)
	if marks&(meshMark|facesMark) != 0 {
		c.why = "a mesh"
		return false
	}
	start, ok := e.point(10)
	own, okO := e.own()
	if marks&threeD == 0 {
		c.m = c.m.times(own)
	}
	var list []vertex
	for i := range e.sub {
		v := &e.sub[i]
		if v.sort != "VERTEX" || v.whole(70)&vertexFrame != 0 {
			continue
		}
		at, okV := v.point(10)
		bulge, okB := v.number(42, 0)
		if marks&threeD == 0 {
			at.Z = start.Z
		} else {
			bulge = 0
		}
		list = append(list, vertex{at, bulge})
		ok = ok && okV && okB
	}
	c.closed = marks&closedMark != 0
	return c.corners(list) && ok && okO
}

// corners draws a polyline.
func (c *curve) corners(list []vertex) bool {
	if len(list) < 2 {
		c.why = "fewer than two corners"
		return false
	}
	for i, v := range list {
		c.add(v.at)
		switch {
		case i+1 < len(list):
			c.bulge(v, list[i+1].at)
		case c.closed:
			c.bulge(v, list[0].at)
		}
		if len(c.points) > maxPoints {
			return true // all says so
		}
	}
	return true
}

// bulge draws the points between a corner and the next one, q: an arc of the
// included angle
//
//	a = 4 atan(bulge)
//
// anti-clockwise where the bulge is above zero, in the plane of the polyline.
// With the chord d its radius is d (1+b²) / (4|b|), and its centre lies to the
// left of the chord's middle by d (1-b²) / (4b).
func (c *curve) bulge(v vertex, q Point) {
	b := v.bulge
	d := math.Hypot(q.X-v.at.X, q.Y-v.at.Y)
	if b == 0 || d == 0 || math.Abs(b) < 1e-12 {
		return
	}
	r := d * (1 + b*b) / (4 * math.Abs(b))
	off := (1 - b*b) / (4 * b)
	centre := Point{(v.at.X+q.X)/2 - off*(q.Y-v.at.Y), (v.at.Y+q.Y)/2 + off*(q.X-v.at.X), v.at.Z}
	angle := 4 * math.Atan(b)
	n := c.chords(r, angle)
	from := v.at.sub(centre)
	for i := 1; i < n; i++ {
		sin, cos := math.Sincos(angle * float64(i) / float64(n))
		c.add(centre.add(Point{cos*from.X - sin*from.Y, sin*from.X + cos*from.Y, 0}))
	}
}
