package dxf

// lengths are the units that $INSUNITS counts, with the metres that one is.
// Those that no boat is drawn in (parsecs, angstroms) are left out: they read
// as not said.
var lengths = map[int]struct {
	name  string
	metre float64
}{
	1: {"inches", 0.0254}, 2: {"feet", 0.3048}, 4: {"millimetres", 0.001}, 5: {"centimetres", 0.01}, 6: {"metres", 1},
	8: {"microinches", 0.0254e-6}, 9: {"mils", 0.0254e-3}, 10: {"yards", 0.9144}, 13: {"microns", 1e-6}, 14: {"decimetres", 0.1},
	15: {"decametres", 10}, 16: {"hectometres", 100}, 7: {"kilometres", 1000}, 3: {"miles", 1609.344},
}

// unit is what the file says of its unit: "" and 0 if it says nothing that
// can be used.
func (f *file) unit() (name string, metre float64) {
	u := lengths[f.units]
	return u.name, u.metre
}
