package dxf

import "math"

// matrix is an affine map of space: rows of three factors and what is added.
type matrix [3][4]float64

var identity = matrix{{1, 0, 0, 0}, {0, 1, 0, 0}, {0, 0, 1, 0}}

// of returns the place of p under m.
func (m *matrix) of(p Point) Point {
	row := func(r [4]float64) float64 { return r[0]*p.X + r[1]*p.Y + r[2]*p.Z + r[3] }
	return Point{row(m[0]), row(m[1]), row(m[2])}
}

// times returns the map that does n first, then m.
func (m matrix) times(n matrix) matrix {
	var out matrix
	for i := range 3 {
		for k := range 4 {
			out[i][k] = m[i][0]*n[0][k] + m[i][1]*n[1][k] + m[i][2]*n[2][k]
		}
		out[i][3] += m[i][3]
	}
	return out
}

// stretch is not below the most that m lengthens anything: exact where its
// columns stand square on each other, else the root of the sum of squares,
// which is at most 1.74 times as much.
func (m *matrix) stretch() float64 {
	col := func(k int) Point { return Point{m[0][k], m[1][k], m[2][k]} }
	a, b, c := col(0), col(1), col(2)
	most, all := max(a.norm(), b.norm(), c.norm()), math.Sqrt(a.dot(a)+b.dot(b)+c.dot(c))
	if eps := 1e-9 * most * most; math.Abs(a.dot(b)) > eps || math.Abs(b.dot(c)) > eps || math.Abs(a.dot(c)) > eps {
		return all
	}
	return most
}

func (p Point) dot(q Point) float64 { return p.X*q.X + p.Y*q.Y + p.Z*q.Z }

func (p Point) norm() float64 { return math.Sqrt(p.dot(p)) }

func (p Point) sub(q Point) Point { return Point{p.X - q.X, p.Y - q.Y, p.Z - q.Z} }

func (p Point) add(q Point) Point { return Point{p.X + q.X, p.Y + q.Y, p.Z + q.Z} }

func (p Point) scale(k float64) Point { return Point{k * p.X, k * p.Y, k * p.Z} }

func (p Point) cross(q Point) Point {
	return Point{p.Y*q.Z - p.Z*q.Y, p.Z*q.X - p.X*q.Z, p.X*q.Y - p.Y*q.X}
}

func (p Point) unit() Point {
	if n := p.norm(); n > 0 {
		return p.scale(1 / n)
	}
	return Point{0, 0, 1}
}

func apart(p, q Point) float64 { return p.sub(q).norm() }

// own is the map from an entity's own axes to the drawing's: the format gives
// only its z axis (the extrusion, codes 210 to 230), and finds the x axis by
// the world's y axis, or its z axis where the entity's own lies within 1/64 of
// it (the "arbitrary axis" rule).
func (e *entity) own() (matrix, bool) {
	if !e.has(210) {
		return identity, true
	}
	n, ok := e.point(210)
	n = n.unit()
	by := Point{0, 0, 1}
	if math.Abs(n.X) < 1.0/64 && math.Abs(n.Y) < 1.0/64 {
		by = Point{0, 1, 0}
	}
	x := by.cross(n).unit()
	y := n.cross(x)
	return matrix{{x.X, y.X, n.X, 0}, {x.Y, y.Y, n.Y, 0}, {x.Z, y.Z, n.Z, 0}}, ok
}

// inserted is where and how often a block is inserted.
type inserted struct {
	own           matrix
	to, scale     Point
	turn          float64 // degrees
	columns, rows int
	wide, high    float64 // from column to column, and from row to row
}

// insertion reads what an insertion says; ok is false if one of its values is
// no number.
func (e *entity) insertion() (x inserted, ok bool) {
	x.to, ok = e.point(10)
	own, okOwn := e.own()
	x.own, ok = own, ok && okOwn
	for _, v := range []struct {
		code      int
		otherwise float64
		into      *float64
	}{{41, 1, &x.scale.X}, {42, 1, &x.scale.Y}, {43, 1, &x.scale.Z}, {44, 0, &x.wide}, {45, 0, &x.high}, {50, 0, &x.turn}} {
		var okV bool
		*v.into, okV = e.number(v.code, v.otherwise)
		ok = ok && okV
	}
	x.columns, x.rows = max(e.whole(70), 1), max(e.whole(71), 1)
	return x, ok
}

// placed is the map from the block's axes to the drawing's, in one column and
// row: less the block's base, scaled, turned, and put where it belongs.
func (x *inserted) placed(base Point, column, row int) matrix {
	sin, cos := math.Sincos(x.turn * math.Pi / 180)
	over, up := float64(column)*x.wide, float64(row)*x.high
	to := x.to.add(Point{cos*over - sin*up, sin*over + cos*up, 0})
	m := matrix{{cos * x.scale.X, -sin * x.scale.Y, 0, to.X}, {sin * x.scale.X, cos * x.scale.Y, 0, to.Y}, {0, 0, x.scale.Z, to.Z}}
	return x.own.times(m).times(matrix{{1, 0, 0, -base.X}, {0, 1, 0, -base.Y}, {0, 0, 1, -base.Z}})
}
