package draw

// Runs returns the open lines drawn, for tests.
func (d *Drawing) Runs() [][]Point {
	var out [][]Point
	for _, m := range d.marks {
		if m.kind == markLine {
			out = append(out, m.runs...)
		}
	}
	return out
}
