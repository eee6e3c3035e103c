package template

// assembly is one of the dozen or so large pieces of work that a build is
// divided into; it becomes a part, its stages become steps.
type assembly struct {
	key, name string
	short     string // as in names of steps; the name if empty
	side      string // port, starboard, middle, both
	only      string // words that must hold of the build: "catamaran", "infused series"
	stages    []stage
	inside    []piece // parts of it that the drawing shows one by one
}

// piece is a part of an assembly without steps of its own.
type piece struct {
	key, name, side, only string
}

// stage is one step of an assembly, in the usual order.
type stage struct {
	slug    string // of the picture key
	name    string // of the step; made from the assembly and the stage if empty
	only    string
	trade   string
	point   string // hold, witness, record: whether it usually waits before it begins; no clause, so it binds nobody
	look    string
	measure string
	after   []string // steps of other assemblies that it waits for; "a|b" is the first of them that there is
	covers  []cover
}

// cover is something that a stage hides.
type cover struct {
	key      string
	of       string // the step whose work is hidden, as in stage.after
	what     string // the part or place that it belongs to, as a reference
	only     string
	hides    string
	look     string
	evidence string
	gravity  string
}

// Grave words, as the record has them.
const (
	structure = "structure"
	safety    = "safety"
	cutting   = "needs cutting"
	finish    = "finish"
)

// Points, as the record has them.
const (
	hold    = "hold"
	witness = "witness"
	noted   = "record"
)

// assemblies lists them in the usual order of their beginnings.
func assemblies() []assembly {
	return []assembly{
		hull, deck, bridgedeck,
		bulkheads, keel,
		tanks, engines, steering, pipes, wiring,
		joinery,
		windows, fittings, rig,
		outside, boat,
	}
}
