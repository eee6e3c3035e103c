package letter

import (
	"slices"
	"strings"

	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// point is a line of a letter with what carries its sense beside the words:
// what sort it is, what it is about, where that lies, which papers and
// pictures go with it.
type point struct {
	visit.LetterLine
	sort   string // one of Labels
	on     record.Ref
	before record.Ref
	papers []string
	photos []Photo
	plan   record.Outline
}

// sorts says what a point is, by what it is about.
var sorts = map[string]string{
	"": "noted", "defect": "seen", "agreement": "agreed", "decision": "decided", "cover": "to be seen",
}

// Photo is a picture of a point, and where on it somebody pointed at what it
// shows, in parts of its width and height as it stands upright.
type Photo struct {
	record.Photo
	Marked     bool
	Left, Down float64
}

// pointed reads where on a picture evidence is; what lies off it says nothing.
func pointed(p record.Photo, e record.Evidence) Photo {
	x := Photo{Photo: p, Left: e.Left.SI, Down: e.Down.SI}
	on := func(v float64) bool { return v >= 0 && v <= 1 }
	x.Marked = e.Left.Known && e.Down.Known && on(x.Left) && on(x.Down)
	return x
}

// Photos lists the pictures of each line, those that the letter shows.
func Photos(r *journal.Record, lines []visit.LetterLine) [][]Photo {
	out := make([][]Photo, len(lines))
	for i, pt := range points(r, lines) {
		out[i] = pt.photos
	}
	return out
}

// photosOfPoint bounds the pictures of one point: three show what ten would.
const photosOfPoint = 3

// points looks up what goes with each line.
func points(r *journal.Record, lines []visit.LetterLine) []point {
	shown := map[record.Ref][]record.Evidence{}
	for _, e := range journal.All[record.Evidence](r) {
		shown[e.Shows] = append(shown[e.Shows], e)
	}
	out := make([]point, len(lines))
	for i, x := range lines {
		pt := point{LetterLine: x, sort: "question"}
		if s, ok := sorts[x.About.Kind()]; ok {
			pt.sort = s
		}
		pt.on, pt.before = matter(r, x.About)
		about := []record.Ref{x.About}
		if d, ok := journal.Get[record.Decision](r, x.About); ok && d.Point != "" {
			about = append(about, d.Point)
		}
		if a, ok := journal.Get[record.Agreement](r, x.About); ok && a.About != "" {
			about = append(about, a.About)
		}
		for _, ref := range about {
			for _, e := range shown[ref] {
				pt.evidence(r, e)
			}
		}
		pt.plan = lies(r, pt.on)
		out[i] = pt
	}
	return out
}

// evidence takes a paper by its name, and a picture that is on file.
func (pt *point) evidence(r *journal.Record, e record.Evidence) {
	if what := strings.TrimSpace(e.What); what != "" && !priced(what) && !slices.Contains(pt.papers, what) {
		pt.papers = append(pt.papers, what)
	}
	ph, ok := journal.Get[record.Photo](r, e.Photo)
	if ok && ph.File.Known() && len(pt.photos) < photosOfPoint {
		pt.photos = append(pt.photos, pointed(ph, e))
	}
}

// priced reports whether a paper's name speaks of money: a quotation stays at
// home unless the owner adds it.
func priced(what string) bool {
	if strings.ContainsAny(what, "€$£¥₺") {
		return true
	}
	return slices.ContainsFunc(strings.FieldsFunc(what, func(r rune) bool { return r < 'A' || r > 'Z' }), func(w string) bool {
		_, is := unit.Exponent(w)
		return is
	})
}

// matter says on which part or place something is, and before which step it
// matters, as far as the record says so.
func matter(r *journal.Record, about record.Ref) (on, before record.Ref) {
	switch about.Kind() {
	case "part", "place":
		return about, ""
	case "step":
		x, _ := journal.Get[record.Step](r, about)
		return x.Part, about
	case "cover":
		x, _ := journal.Get[record.Cover](r, about)
		on, before = x.What, x.Step
		if on == "" || on.Kind() == "item" {
			on, _ = matter(r, x.Step)
		}
	case "defect":
		x, _ := journal.Get[record.Defect](r, about)
		on, before = x.Part, x.Before
	case "item":
		x, _ := journal.Get[record.Item](r, about)
		on, before = x.Part, x.NeededBy
	case "requirement":
		x, _ := journal.Get[record.Requirement](r, about)
		on, before = x.Part, x.Before
	case "point":
		x, _ := journal.Get[record.Point](r, about)
		on, before = x.Part, x.CoveredBy
	case "decision":
		x, _ := journal.Get[record.Decision](r, about)
		on, before = matter(r, x.Point)
	case "agreement":
		x, _ := journal.Get[record.Agreement](r, about)
		on, before = through(r, x.About, x.Before)
	case "question":
		x, _ := journal.Get[record.Question](r, about)
		on, before = through(r, x.About, x.Before)
	}
	if on == "" && before != "" {
		x, _ := journal.Get[record.Step](r, before)
		on = x.Part
	}
	return on, before
}

// through is matter of what an agreement or question is about, which is
// neither of both.
func through(r *journal.Record, about, named record.Ref) (on, before record.Ref) {
	if about.Kind() != "agreement" && about.Kind() != "question" {
		on, before = matter(r, about)
	}
	if named != "" {
		before = named
	}
	return on, before
}

// lies returns the outline, from above, of a part or place, else of the place
// that a part is at, else of what it belongs to; nil if none has one.
func lies(r *journal.Record, on record.Ref) record.Outline {
	for range 16 { // nesting that runs in a ring is a doubt, and no outline
		if x, ok := journal.Get[record.Part](r, on); ok {
			if len(x.Plan) > 2 {
				return x.Plan
			}
			if at, ok := journal.Get[record.Place](r, x.Place); ok && len(at.Plan) > 2 {
				return at.Plan
			}
			on = x.Within
			continue
		}
		x, ok := journal.Get[record.Place](r, on)
		if !ok || len(x.Plan) > 2 {
			return x.Plan
		}
		on = x.Within
	}
	return nil
}
