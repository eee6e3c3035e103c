package web

import (
	"cmp"
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"
	"strings"

	"dogshore/desk/deck"
	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/jackstay"
	"dogshore/journal"
	"dogshore/plane"
	"dogshore/record"
)

// handAnswer is what can be said while a hand drags: where the lines run that
// it holds, how far they let one go, and their few figures.
type handAnswer struct {
	Lines  []handLine `json:"lines"`
	Says   []string   `json:"says"` // for the hand itself, in a sentence each
	Solves int        `json:"solves"`
}

// handLine is one line in millimetres of the drawing's sheet.
type handLine struct {
	Of    string      `json:"of"`
	Run   string      `json:"run"`   // SVG path
	Reach []string    `json:"reach"` // SVG paths
	Facts [][2]string `json:"facts"` // label and text
}

// deckHand answers while a hand drags: only the lines that it holds are worked.
func (s *Site) deckHand(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Deck")
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	chosen, err := v.arrangement(r)
	if err != nil {
		return err
	}
	moved, _ := v.moves(r, chosen)
	held := record.Ref(r.FormValue("held"))
	a, lines, err := deck.Hand(v.rec, v.rev.Plan, chosen.Option, moved, held)
	if err != nil {
		return refused(err.Error(), "Move it elsewhere.")
	}
	sheet := drawing.Deck(v.rev.Deck.Plan, chosen, drawing.DeckView{Up: r.FormValue("up") == "1"}).View
	out := handAnswer{Lines: []handLine{}, Says: []string{}}
	for _, l := range lines {
		out.Solves += l.Solves
		out.Says = append(out.Says, v.handSays(l))
		out.Lines = append(out.Lines, v.handLine(a, l, sheet))
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(out)
}

// handSays is what stands at the hand: few words, read at a glance.
func (v *view) handSays(l jackstay.LineResult) string {
	text := fmt.Sprintf("%s: %s after a fall; ", v.nameOr(l.ID), bandKN(l.Tension))
	s := worstSide(l.Sides)
	if s == nil {
		return text + "stays aboard."
	}
	return text + fmt.Sprintf("%s at %s, %s.", classWords[s.Class], v.nameOr(s.Edge), overBy(*worstWay(*s)))
}

func (v *view) handLine(a deck.Arrangement, l jackstay.LineResult, sheet draw.View) handLine {
	x := handLine{Of: l.ID}
	for _, f := range v.lineFacts(l) {
		x.Facts = append(x.Facts, [2]string{f.Label, f.Text})
	}
	for _, c := range a.Case.Lines {
		if c.ID != l.ID {
			continue
		}
		var run []plane.Point
		for _, sp := range c.Supports {
			run = append(run, plane.Point{X: sp.At.X, Y: sp.At.Y})
		}
		x.Run = svgPath(run, sheet)
	}
	if reach := longest(l.Reaches); reach != nil {
		for _, piece := range reach.Soft {
			x.Reach = append(x.Reach, svgPath(piece, sheet)+"Z")
		}
	}
	return x
}

func svgPath(of []plane.Point, sheet draw.View) string {
	var b strings.Builder
	for i, q := range of {
		at := sheet.At(q.X, q.Y)
		fmt.Fprintf(&b, "%c%.2f %.2f", "ML"[min(i, 1)], at.X, at.Y)
	}
	return b.String()
}

func longest(of []jackstay.Reach) *jackstay.Reach {
	if len(of) == 0 {
		return nil
	}
	best := slices.MaxFunc(of, func(a, b jackstay.Reach) int { return cmp.Compare(a.Leg, b.Leg) })
	return &best
}

// deckPlaces writes down the places that were tried on: corrections of what is
// on record, each over the entry that the page showed.
func (s *Site) deckPlaces(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Deck")
	if err != nil {
		return err
	}
	chosen, err := v.arrangement(r)
	if err != nil {
		return err
	}
	moved, bad := v.moves(r, chosen)
	to := "/deck?option=" + url.QueryEscape(chosen.Option.Key())
	switch {
	case len(bad) > 0:
		return refused("A place is no place: write it as forward; to port; up, in metres.", "Go back; what was typed is still there.")
	case len(moved) == 0:
		return refused("Nothing was moved, so nothing is written.", "Go back and move an end or an eye first.")
	}
	var facts []journal.Fact
	for _, h := range v.handles(chosen) {
		at, ok := moved[h.Self]
		if !ok {
			continue
		}
		facts = append(facts, journal.Fact{Kind: h.Self.Kind(), Key: h.Self.Key(), Field: "spot", Value: record.Encode(at), Over: v.rec.Over(h.Self, "spot")})
	}
	var entries []journal.Entry
	for _, fact := range facts {
		e := s.draft(w, r, f, v.correcting(record.R(fact.Kind, fact.Key))(fact), record.Told)
		e.Origin, e.Facts = "form Deck", []journal.Fact{fact}
		entries = append(entries, e)
	}
	if _, err := f.Accept(r.Context(), entries...); err != nil {
		return err
	}
	return wrote(w, r, to, "", entries[len(entries)-1].ID)
}
