package jackstay

// vecDist is how far two spots are apart, for tests.
func (s Spot) vecDist(o Spot) float64 { return s.vec().dist(o.vec()) }

// VecDist is vecDist for tests outside the package.
func (s Spot) VecDist(o Spot) float64 { return s.vecDist(o) }
