package jackstay

import "dogshore/plane"

// VecDist is how far two spots are apart.
func (s Spot) VecDist(o Spot) float64 { return s.vec().dist(o.vec()) }

// bar is an edge along the boat, y to port.
func bar(y float64) []plane.Point { return []plane.Point{{X: -50, Y: y}, {X: 50, Y: y}} }
