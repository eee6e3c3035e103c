// Package dxf reads the outlines out of a drawing in the drawing interchange
// format (DXF, text or binary): bytes in, runs of points in metres out. It
// knows nothing of boats.
//
// Read are lines, polylines with bulges, arcs, circles, ellipses, splines,
// points, and the blocks that are inserted, nested, scaled and turned. Curves
// become chords that lie within a stated distance of them; pieces that meet
// end to end on one layer are joined to runs. What is not read (texts,
// dimensions, hatches, solids ...) is counted by sort and layer, so that the
// caller can say what is missing.
//
// A drawing is a stranger's file: its size, its nesting, the count of what it
// draws and of the points that come out are bounded, and what goes beyond is
// an error that says so, never half a drawing that looks whole.
//
// Written against the published description of the format from memory, and
// held by tests against drawings that another program wrote, with the points
// that it gave for them (testdata/make.py).
package dxf
