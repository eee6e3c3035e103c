package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"net/url"
	"slices"

	"dogshore/desk/deck"
	"dogshore/drawing"
	"dogshore/jackstay"
	"dogshore/journal"
	"dogshore/record"
)

// handAnswer is what can be said while a hand drags: where the lines run that
// it holds, how far they let one go, and what they put on their points.
type handAnswer struct {
	Lines  []handLine `json:"lines"`
	Says   []string   `json:"says"`
	Solves int        `json:"solves"`
}

// handLine is one line in millimetres of the drawing's sheet.
type handLine struct {
	Run   string   `json:"run"`   // SVG path
	Reach []string `json:"reach"` // SVG paths
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
	view := drawing.Deck(v.rev.Deck.Plan, chosen).View
	out := handAnswer{Says: []string{}}
	for _, l := range lines {
		out.Solves += l.Solves
		out.Says = append(out.Says, v.handSays(l)...)
		x := handLine{}
		for _, c := range a.Case.Lines {
			if c.ID == l.ID {
				for i, sp := range c.Supports {
					at := view.At(sp.At.X, sp.At.Y)
					x.Run += fmt.Sprintf("%c%.2f %.2f", "ML"[min(i, 1)], at.X, at.Y)
				}
			}
		}
		if reach := longest(l.Reaches); reach != nil {
			for _, piece := range reach.Soft {
				path := ""
				for i, q := range piece {
					at := view.At(q.X, q.Y)
					path += fmt.Sprintf("%c%.2f %.2f", "ML"[min(i, 1)], at.X, at.Y)
				}
				x.Reach = append(x.Reach, path+"Z")
			}
		}
		out.Lines = append(out.Lines, x)
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(out)
}

func longest(of []jackstay.Reach) *jackstay.Reach {
	if len(of) == 0 {
		return nil
	}
	best := slices.MaxFunc(of, func(a, b jackstay.Reach) int {
		switch {
		case a.Leg < b.Leg:
			return -1
		case a.Leg > b.Leg:
			return 1
		}
		return 0
	})
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
	for _, h := range drawing.Deck(v.rev.Deck.Plan, chosen).Handles {
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
