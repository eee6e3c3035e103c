package jackstay

import (
	"math"

	"dogshore/plane"
)

// vec is a place or a force in space.
type vec [3]float64

func (s Spot) vec() vec   { return vec{s.X, s.Y, s.Z} }
func (v Vector) vec() vec { return vec{v.X, v.Y, v.Z} }

func (a vec) spot() Spot        { return Spot{a[0], a[1], a[2]} }
func (a vec) force() Vector     { return Vector{a[0], a[1], a[2]} }
func (a vec) plan() plane.Point { return plane.Point{X: a[0], Y: a[1]} }

func (a vec) add(b vec) vec            { return vec{a[0] + b[0], a[1] + b[1], a[2] + b[2]} }
func (a vec) sub(b vec) vec            { return vec{a[0] - b[0], a[1] - b[1], a[2] - b[2]} }
func (a vec) mul(k float64) vec        { return vec{k * a[0], k * a[1], k * a[2]} }
func (a vec) dot(b vec) float64        { return a[0]*b[0] + a[1]*b[1] + a[2]*b[2] }
func (a vec) norm() float64            { return math.Sqrt(a.dot(a)) }
func (a vec) toward(b vec) vec         { return b.sub(a).unit() }
func (a vec) dist(b vec) float64       { return b.sub(a).norm() }
func (a vec) mix(b vec, t float64) vec { return a.add(b.sub(a).mul(t)) }

// unit returns a at length 1, or nothing if it has no direction.
func (a vec) unit() vec {
	if n := a.norm(); n > 0 {
		return a.mul(1 / n)
	}
	return vec{}
}

// angle returns the angle between two directions, rad.
func (a vec) angle(b vec) float64 {
	u, w := a.unit(), b.unit()
	return 2 * math.Atan2(u.sub(w).norm(), u.add(w).norm())
}

// Norm returns the size of a force, N.
func (v Vector) Norm() float64 { return v.vec().norm() }

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) {
			return false
		}
	}
	return true
}

func (s Spot) finite() bool { return finite(s.X, s.Y, s.Z) }
