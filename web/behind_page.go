package web

import (
	"net/http"

	"dogshore/desk/photo"
	"dogshore/record"
)

// behindPage answers "What is behind this?": for a part or a place, the
// pictures from before each step that closed it in.
type behindPage struct {
	Sheet
	Of     Named
	Layers []behindLayer
	Tapped bool     // the place was tapped, and Places lie there
	Tap    tapSheet // of the whole boat, to choose from, where none is chosen
	Places []Named
}

type behindLayer struct {
	Step  Named
	State string
	Hides []string
	Says  string
	Shots []Shot
}

// behindChoice is the page to choose a part or place from, on the boat.
func (s *Site) behindChoice(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Behind")
	if err != nil {
		return err
	}
	page := &behindPage{Sheet: v.Sheet}
	if page.Tap, err = v.tapped(photo.Read(v.rec), r.URL.Query().Get("lies") == "yes", "/behind/part/"); err != nil {
		return err
	}
	for _, kind := range []string{"place", "part"} {
		for _, ref := range v.rec.Refs(kind) {
			page.Places = append(page.Places, Named{Ref: ref, Href: v.Link("/behind/" + string(ref)), Name: v.rec.Name(ref)})
		}
	}
	return s.render(w, http.StatusOK, "behind", page)
}

// mirrored turns an outline over, as a deck lies upside down in its mould: what
// is port on the boat is to starboard there.
func mirrored(o record.Outline) record.Outline {
	out := make(record.Outline, len(o))
	for i, c := range o {
		out[i] = [2]float64{c[0], -c[1]}
	}
	return out
}

func (s *Site) behindPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Behind")
	if err != nil {
		return err
	}
	self := record.R(r.PathValue("kind"), r.PathValue("key"))
	if k := self.Kind(); k != "part" && k != "place" {
		return notFound("Only a part or a place can have something behind it.")
	}
	if _, err := v.known(self); err != nil {
		return err
	}
	page := &behindPage{Sheet: v.Sheet, Of: v.Ref(self)}
	for _, l := range photo.Read(v.rec).Behind(v.rec, v.rev.Plan, self) {
		page.Layers = append(page.Layers, v.layer(l))
	}
	return s.render(w, http.StatusOK, "behind", page)
}

func (v *view) layer(l photo.Layer) behindLayer {
	out := behindLayer{Step: v.Ref(l.Step), State: "not closed yet", Hides: l.Hides}
	if l.Begun {
		out.State = "closed, nobody knows when"
		if l.Closed.Known() {
			out.State = "closed by " + l.Closed.Said()
		}
	}
	switch {
	case len(l.Photos) == 0 && l.Begun:
		out.Says = "No picture from before is on record."
	case len(l.Photos) == 0:
		out.Says = "No picture is on record yet, and it is still open."
	case l.Shown == 0:
		out.Says = "Pictures exist, not checked: nobody has said that one of them shows what is hidden."
	default:
		out.Says = count(l.Shown, "picture is said to show", "pictures are said to show") + " what is hidden."
	}
	for _, p := range l.Photos {
		out.Shots = append(out.Shots, v.shot(p))
	}
	return out
}
