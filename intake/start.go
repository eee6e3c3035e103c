package intake

// startSheet reads a start sheet's blocks.
func (r *reader) startSheet(at Cell, g *grid) bool { return false }
