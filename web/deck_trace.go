package web

import (
	"fmt"
	"net/http"
	"net/url"
	"strings"

	"dogshore/desk"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/plane"
	"dogshore/record"
	"dogshore/unit"
)

// tracesPage lists the pictures that the deck plan is traced over.
type tracesPage struct {
	Sheet
	Rows    []Row
	Name    string
	Problem string
	Author  string
}

// tracePage shows one picture with what is on record over it, and takes the
// two points that scale it, and outlines.
type tracePage struct {
	Sheet
	Key     string
	Name    string
	Picture tracePicture
	Scale   traceScale
	Shapes  []traceShape
	Kinds   []traceKind
	Kind    *record.Kind
	Edit    record.Ref // the outline that is changed; "" for a new one
	Called  string
	Path    string // the field that holds the outline
	Inputs  []Input
	Lists   []NameList
	Foot    Foot
	Problem string
}

// tracePicture is the picture in its own pixels, the right way up.
type tracePicture struct {
	Src  string
	W, H int
	Gone string // why it can't be shown
	Fine bool   // shown as it is, not made smaller
}

// traceKind is one of the kinds that are drawn.
type traceKind struct {
	Name, Title string
	Here        bool
}

// tracedKinds are the kinds with outlines that are drawn over a picture, and
// the field that holds them.
var tracedKinds = []struct{ kind, path string }{{"level", "plan"}, {"edge", "path"}, {"obstacle", "plan"}, {"sweep", "plan"}}

func tracedPath(kind string) string {
	for _, x := range tracedKinds {
		if x.kind == kind {
			return x.path
		}
	}
	return ""
}

// traceShape is an outline on record, in the picture's pixels.
type traceShape struct {
	Self     record.Ref
	Named    Named
	Kind     string
	Closed   bool
	Spot     bool   // one point
	Points   string // "x,y x,y" of an SVG polygon
	Vertices []traceVertex
	Says     string
	Edit     string
}

// traceVertex is a corner of it: in pixels, and in metres as it is typed.
type traceVertex struct{ Left, Down, Text string }

// mostShown is the greatest picture that is handed to the browser as it is, in
// pixels; greater ones are shown as they are made small for the screen.
const mostShown = 16e6

// tracesPage lists the tracings and takes a new picture.
func (s *Site) tracesPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Tracing")
	if err != nil {
		return err
	}
	return s.showTraces(w, r, v, "", "")
}

func (s *Site) showTraces(w http.ResponseWriter, r *http.Request, v *view, name, says string) error {
	page := &tracesPage{Sheet: v.Sheet, Name: name, Problem: says, Author: author(r)}
	for _, x := range journal.All[record.Tracing](v.rec) {
		row := Row{Link: Named{Ref: x.Self, Href: v.Link("/deck/trace/" + url.PathEscape(x.Self.Key())), Name: x.Name}, State: "not scaled yet"}
		if _, ok := scaleOf(x); ok {
			row.State = "scaled by two points"
		}
		if x.Off.Known {
			row.Lines = append(row.Lines, Line{Label: "a traced point may be off by", Text: x.Off.Text()})
		}
		page.Rows = append(page.Rows, row)
	}
	status := http.StatusOK
	if says != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "deck_traces", page)
}

// tracePage shows one picture to draw over.
func (s *Site) tracePage(w http.ResponseWriter, r *http.Request) error {
	v, x, err := s.tracing(r)
	if err != nil {
		return err
	}
	k, edit, err := v.traced(r)
	if err != nil {
		return err
	}
	typed := map[string]string{}
	if edit != "" && !r.Form.Has("name") {
		typed, _ = v.texts(edit)
	} else {
		for i := range k.Fields {
			typed[k.Fields[i].Name] = r.FormValue(k.Fields[i].Name)
		}
		for _, other := range tracedKinds { // the outline goes along when the kind is changed
			if p := tracedPath(k.Name); typed[p] == "" {
				typed[p] = r.FormValue(other.path)
			}
		}
	}
	return s.showTrace(w, r, v, x, k, edit, typed, nil, "")
}

// tracing finds the tracing that an address names.
func (s *Site) tracing(r *http.Request) (*view, record.Tracing, error) {
	if err := r.ParseForm(); err != nil {
		return nil, record.Tracing{}, err
	}
	v, err := s.view(r, "Tracing")
	if err != nil {
		return nil, record.Tracing{}, err
	}
	x, ok := journal.Get[record.Tracing](v.rec, record.R("tracing", r.PathValue("key")))
	if !ok {
		return nil, x, notFound("There is no tracing “%s”.", r.PathValue("key"))
	}
	return v, x, nil
}

// traced reads which kind is drawn, and which outline is changed.
func (v *view) traced(r *http.Request) (*record.Kind, record.Ref, error) {
	edit, kind := record.Ref(r.FormValue("edit")), r.FormValue("kind")
	if edit != "" {
		if _, err := v.known(edit); err != nil {
			return nil, "", err
		}
		kind = edit.Kind()
	}
	if to := r.FormValue("to"); to != "" { // it is something else
		kind, edit = to, ""
	}
	if kind == "" {
		kind = tracedKinds[0].kind
	}
	if tracedPath(kind) == "" {
		return nil, "", notFound("“%s” is nothing that is drawn over a picture.", kind)
	}
	return record.KindOf(kind), edit, nil
}

func (s *Site) showTrace(w http.ResponseWriter, r *http.Request, v *view, x record.Tracing, k *record.Kind, edit record.Ref, typed, wrong map[string]string, says string) error {
	page := &tracePage{Sheet: v.Sheet, Key: x.Self.Key(), Name: x.Name, Kind: k, Edit: edit, Path: tracedPath(k.Name), Problem: says}
	page.Picture = s.pictureToTrace(v, x)
	page.Scale = v.traceScale(r, x, page.Picture)
	if m, ok := scaleOf(x); ok {
		page.Shapes = v.traceShapes(m, page.Key, edit)
	}
	for _, t := range tracedKinds {
		page.Kinds = append(page.Kinds, traceKind{t.kind, record.KindOf(t.kind).Title, t.kind == k.Name})
	}
	if !v.Past {
		page.Inputs, page.Lists = v.inputs(k, typed, wrong)
		page.Foot = Foot{Editing: edit != "", Holds: r.FormValue("holds"), Day: r.FormValue("holds-from"), Wrong: wrong["holds-from"], Grounds: r.FormValue("grounds"), All: record.AllGrounds, Author: author(r)}
		if page.Foot.Holds == "" {
			page.Foot.Holds = map[bool]string{true: "correction", false: "always"}[edit != ""]
		}
		if page.Foot.Day == "" {
			page.Foot.Day = v.Today.String()
		}
	}
	if edit != "" {
		page.Called = v.called(edit).Name
		was, over := v.texts(edit)
		for i := range page.Inputs {
			name := page.Inputs[i].Field.Name
			page.Inputs[i].Was, page.Inputs[i].Over = was[name], over[name]
			if r.Method == http.MethodPost { // the value that this form showed
				page.Inputs[i].Was, page.Inputs[i].Over = r.PostFormValue("was."+name), r.PostFormValue("over."+name)
			}
		}
	}
	status := http.StatusOK
	if says != "" || page.Scale.Bad != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "deck_trace", page)
}

// pictureToTrace is the picture of a tracing, with its size the right way up.
func (s *Site) pictureToTrace(v *view, x record.Tracing) tracePicture {
	if !x.File.Known() {
		return tracePicture{Gone: "There is no picture yet. Hand one in on the list of tracings."}
	}
	p, err := pictureIn(v, x.File)
	if err != nil {
		return tracePicture{Gone: "The picture can't be shown: " + err.Error() + "."}
	}
	out := tracePicture{W: p.Width, H: p.Height, Src: "/picture/" + x.File.SHA256 + "/screen"}
	if p.Orientation >= 5 { // lying on its side
		out.W, out.H = p.Height, p.Width
	}
	if (p.Format == picture.JPEG || p.Format == picture.PNG) && float64(p.Width)*float64(p.Height) <= mostShown {
		out.Src, out.Fine = "/file/"+x.File.SHA256+"/"+url.PathEscape(shownName(x.File.Name, p.Format)), true
	} else {
		s.small(v.folder).Want(x.File)
	}
	return out
}

// shownName is a name by which the file's page shows it as what it is.
func shownName(name string, f picture.Format) string {
	ext := map[picture.Format]string{picture.JPEG: ".jpg", picture.PNG: ".png"}[f]
	return strings.TrimSuffix(record.Slug(name), "-") + ext
}

// traceShapes are the outlines on record, in the picture's pixels.
func (v *view) traceShapes(m plane.Similarity, key string, edit record.Ref) []traceShape {
	var out []traceShape
	for _, t := range tracedKinds {
		k := record.KindOf(t.kind)
		for _, self := range v.rec.Refs(t.kind) {
			h, ok := v.rec.Held(self, t.path)
			outline, err := decodeOutline(h.Value)
			if !ok || err != nil || len(outline) == 0 || self == edit {
				continue
			}
			s := traceShape{Self: self, Named: v.Ref(self), Kind: t.kind, Closed: t.kind != "edge" && len(outline) > 2}
			var points []string
			for _, p := range outline {
				u := m.Back(plane.Point{X: p[0], Y: p[1]})
				x := traceVertex{pixel(u.X), pixel(-u.Y), unit.Plain(p[0]) + " " + unit.Plain(p[1])}
				points = append(points, x.Left+","+x.Down)
				s.Vertices = append(s.Vertices, x)
			}
			if s.Spot = len(points) == 1; s.Spot { // a dot is a line of no length with round ends
				points = append(points, points[0])
			}
			s.Points = strings.Join(points, " ")
			s.Says = desk.Capital(k.Title) + ", " + count(len(outline), "point", "points")
			s.Edit = "/deck/trace/" + url.PathEscape(key) + "?edit=" + url.QueryEscape(string(self)) + "#outline"
			out = append(out, s)
		}
	}
	return out
}

func pixel(v float64) string { return fmt.Sprintf("%.1f", v) }
