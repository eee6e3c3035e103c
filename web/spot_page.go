package web

import (
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"net/http"
	"net/url"
	"regexp"
	"strconv"
	"strings"

	"dogshore/desk"
	"dogshore/desk/photo"
	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/record"
)

// tapSheet is the boat's drawing to be tapped: a helper of the page reads the
// place, by where the views lie.
type tapSheet struct {
	Drawing template.HTML // "" if no part has an outline
	Views   string        // JSON, of drawing.ViewOfBoat
	Lies    bool          // the plans are drawn as parts lie in the shed
}

// tapped is the drawing with the pictures' places on it. Its parts lead
// nowhere: to is put in the place of their pages, "" for none.
func (v *view) tapped(a photo.Answer, lies bool, to string) (tapSheet, error) {
	var parts []record.Part
	any := false
	for _, p := range journal.All[record.Part](v.rec) {
		if p.Withdrawn == record.Yes {
			continue
		}
		if lies {
			p.Plan = mirrored(p.Plan)
		}
		parts = append(parts, p)
		any = any || len(p.Plan) > 2 || len(p.Profile) > 2
	}
	if !any {
		return tapSheet{}, nil
	}
	sheet := drawing.Boat(parts, drawing.StandingOf(v.rev.Plan.Steps), false)
	sheet.Photos(v.photoMarks(a, lies), func(m drawing.PhotoMark) string { return v.behindMark(m, lies) })
	views, err := json.Marshal(sheet.Views())
	if err != nil {
		return tapSheet{}, err
	}
	svg := string(sheet.SVG())
	if to == "" {
		svg = strings.ReplaceAll(drawnAnchor.ReplaceAllString(svg, "<g>"), "</a>", "</g>")
		svg = strings.Replace(svg, `role="group"`, `role="img"`, 1)
	} else {
		svg = strings.ReplaceAll(svg, `href="/part/`, `href="`+to)
	}
	return tapSheet{Drawing: v.keepDay(template.HTML(svg)), Views: string(views), Lies: lies}, nil
}

var drawnAnchor = regexp.MustCompile(`<a [^>]*>`)

// photoMarks are the pictures whose place is known.
func (v *view) photoMarks(a photo.Answer, lies bool) []drawing.PhotoMark {
	var out []drawing.PhotoMark
	for _, p := range a.Photos {
		if !p.Spot.Known {
			continue
		}
		m := drawing.PhotoMark{X: p.Spot.X, Y: p.Spot.Y, Z: p.Spot.Z, Towards: photo.Towards(p.Facing), Href: pathOf(p.Self), Says: p.Name}
		if p.Facing != "" {
			m.Says += ", looking " + p.Facing
		}
		if lies {
			m.Y, m.Towards[1] = -m.Y, -m.Towards[1]
		}
		out = append(out, m)
	}
	return out
}

// behindMark is where several pictures of one place lead.
func (v *view) behindMark(m drawing.PhotoMark, lies bool) string {
	if lies {
		m.Y = -m.Y
	}
	return v.Link("/behind/at?" + url.Values{"x": {metre(m.X)}, "y": {metre(m.Y)}, "z": {metre(m.Z)}}.Encode())
}

func metre(x float64) string { return strconv.FormatFloat(math.Round(100*x)/100, 'f', -1, 64) }

// tapOf reads a tapped place from a form or an address: x, and y or z or both.
func tapOf(r *http.Request) (t photo.Tap, wrong string) {
	get := func(name string) (v float64, none bool) {
		text := strings.ReplaceAll(strings.TrimSpace(r.FormValue(name)), ",", ".")
		if text == "" {
			return 0, true
		}
		v, err := strconv.ParseFloat(text, 64)
		if err != nil || math.IsNaN(v) || math.Abs(v) > 200 {
			wrong = fmt.Sprintf("“%s” is no place on a boat: write metres, as 4.2.", text)
		}
		return v, false
	}
	var noX bool
	t.X, noX = get("x")
	t.Y, t.NoY = get("y")
	t.Z, t.NoZ = get("z")
	if wrong == "" && (noX || t.NoY && t.NoZ) {
		wrong = "Say how far forward the place is, and how far to port or how high."
	}
	return t, wrong
}

// spotForm says where on the boat a picture was taken.
type spotForm struct {
	Sheet           tapSheet
	X, Y, Z, Facing string
	Says            string // where it is, in words; "" if nobody has said
	Ways            []string
	Doubt           string // what of the spot was not pointed at
	Wrong           string
}

func (v *view) spotForm(r *http.Request, p photo.Photo, a photo.Answer) (spotForm, error) {
	own := photo.Answer{Photos: a.Of(func(x photo.Photo) bool { return x.Self == p.Self })}
	sheet, err := v.tapped(own, r.URL.Query().Get("lies") == "yes", "")
	form := spotForm{Sheet: sheet, Facing: p.Facing, Ways: record.KindFor[record.Photo]().Field("facing").Of}
	if p.Spot.Known {
		form.X, form.Y, form.Z = metre(p.Spot.X), metre(p.Spot.Y), metre(p.Spot.Z)
		form.Says = form.X + " m forward, " + desk.Abeam(p.Spot.Y) + ", " + form.Z + " m up"
		if _, says, ok := strings.Cut(p.Spot.As, ", "); ok {
			form.Doubt = says
		}
	}
	return form, err
}

// placePhoto writes where on the boat a picture was taken. What was not
// pointed at comes from the drawing, and the value says so.
func (s *Site) placePhoto(w http.ResponseWriter, r *http.Request) error {
	f, v, self, err := s.photoWritten(r)
	if err != nil {
		return err
	}
	t, wrong := tapOf(r)
	if wrong != "" {
		return refused(wrong, "Nothing is written. Tap the drawing, or write the numbers.")
	}
	spot, from, ok := photo.Whole(v.rec, t)
	if !ok {
		return refused("Nothing is drawn at that place, so its height, or how far to port it is, is not known.", "Nothing is written. Write the number that is missing, or tap a part of the boat.")
	}
	spot.X, spot.Y, spot.Z = math.Round(100*spot.X)/100, math.Round(100*spot.Y)/100, math.Round(100*spot.Z)/100
	spot.As = metre(spot.X) + "; " + metre(spot.Y) + "; " + metre(spot.Z)
	if from != "" {
		what := "the height"
		if t.NoY {
			what = "how far to port"
		}
		spot.As += ", " + what + " taken from the outline of " + v.rec.Name(from)
	}
	facing := record.KindFor[record.Photo]().Field("facing")
	values := map[string]record.Value{"spot": record.Encode(spot)}
	if text := strings.TrimSpace(r.PostFormValue("facing")); text != "" {
		way, err := facing.Parse(text, v.Today)
		if err != nil {
			return refused(err.Error()+".", "Nothing is written.")
		}
		values["facing"] = way
	}
	first := v.rec.From(self)
	how := first.Grounds // as the picture itself is known
	if from != "" {
		how = record.Inferred
	}
	e := s.draft(w, r, f, first.Since, how)
	e.Origin = "page of the picture"
	for _, x := range journal.Facts(self, values) {
		x.Over = v.rec.Over(self, x.Field)
		e.Facts = append(e.Facts, x)
	}
	if _, err := f.Accept(r.Context(), e); err != nil {
		return err
	}
	return wrote(w, r, pathOf(self)+"#spot", self, e.ID)
}

// behindAt answers "What is behind this?" for a place that was tapped.
func (s *Site) behindAt(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Behind")
	if err != nil {
		return err
	}
	t, wrong := tapOf(r)
	if wrong != "" {
		return refused(wrong, "Tap the drawing of the boat, or write the numbers below it.")
	}
	page := &behindPage{Sheet: v.Sheet, Of: Named{Name: placeSaid(t)}, Tapped: true}
	here, layers := photo.Read(v.rec).At(v.rec, v.rev.Plan, t)
	for _, ref := range here {
		page.Places = append(page.Places, Named{Ref: ref, Href: v.Link("/behind/" + string(ref)), Name: v.rec.Name(ref)})
	}
	for _, l := range layers {
		page.Layers = append(page.Layers, v.layer(l))
	}
	return s.render(w, http.StatusOK, "behind", page)
}

// placeSaid says a tapped place in words.
func placeSaid(t photo.Tap) string {
	out := metre(t.X) + " m forward"
	if !t.NoY {
		switch {
		case math.Abs(t.Y) < 0.05:
			out += ", on the centreline"
		case t.Y > 0:
			out += ", " + metre(t.Y) + " m to port"
		default:
			out += ", " + metre(-t.Y) + " m to starboard"
		}
	}
	if !t.NoZ {
		if t.Z < 0 {
			return out + ", " + metre(-t.Z) + " m below the waterline"
		}
		out += ", " + metre(t.Z) + " m above the waterline"
	}
	return out
}
