package jackstay

// pieceGeom is a piece of a line along which a hook runs without being
// unclipped: one span, or several where it can pass the support between.
type pieceGeom struct {
	name string
	path []Spot
}
