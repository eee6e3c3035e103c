package web

import (
	"encoding/json"
	"fmt"
	"html/template"
	"math"
	"net/http"
	"net/url"
	"strings"

	"dogshore/desk/deck"
	"dogshore/drawing"
	"dogshore/record"
	"dogshore/unit"
)

// deckPage shows the deck with one arrangement of its lines, what it leaves
// open, and the others beside it.
type deckPage struct {
	Sheet
	Choices  []deckChoice // two or more ways, side by side
	Chosen   deckChoice
	Any      bool // there is an arrangement
	Drawing  template.HTML
	Numbers  []Line // what the numbers in the drawing stand for
	Handles  []deckHandle
	Moved    bool
	Author   string
	Box      string   // of the drawing's sheet: "0 0 190 120"
	Scale    string   // from metres to the sheet, and its origin: "12.1 6 40"
	Findings []Row    // the gravest
	More     *Section // the rest, one tap down
	Sections []Section
	Rules    []ruleRow
	Missing  []string
	Cautions []string
	Add      []Add
}

// deckChoice is one arrangement in the table of all.
type deckChoice struct {
	Href   string
	Here   bool
	Option record.Ref
	Point  Named
	Name   string
	Sum    string
	Cells  []string // as the table's columns
}

// deckColumns are the table's columns behind the name.
var deckColumns = []string{"over the side", "not clipped on", "can catch", "over its rating", "weight", "price", "days", "until"}

// deckHandle is a place that a hand can move.
type deckHandle struct {
	Self  record.Ref
	Name  string
	Text  string // the spot, as it is typed: "2.3; 3.2; 1.98"
	Was   string // as it is on record
	X, Y  string // on the drawing's sheet, mm
	Z     string
	Moved bool
	Bad   string // what was wrong with what was typed
}

func (s *Site) deckPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Deck")
	if err != nil {
		return err
	}
	page, err := v.deckPage(r)
	if err != nil {
		return err
	}
	page.Author = author(r)
	return s.render(w, http.StatusOK, "deck", page)
}

// deckPage makes the page of the arrangement that the address names, with what
// it moves.
func (v *view) deckPage(r *http.Request) (*deckPage, error) {
	a := v.rev.Deck
	page := &deckPage{Sheet: v.Sheet, Missing: a.Missing, Any: len(a.Arrangements) > 0}
	if v.Owns() {
		page.Add = []Add{v.adding("jackstay", "Add a jackstay"), v.adding("fitting", "Add a fitting"), v.adding("tether", "Add a tether"), v.adding("preventer", "Add a preventer"), v.adding("level", "Add a deck level"), v.adding("obstacle", "Add an obstacle")}
	}
	if !page.Any {
		if a.Known() {
			page.draw(v, a.Plan, nil)
		}
		return page, nil
	}
	chosen, err := v.arrangement(r)
	if err != nil {
		return nil, err
	}
	plan, x := a.Plan, *chosen
	moved, bad := v.moves(r, chosen)
	if len(moved) > 0 {
		var ok bool
		if plan, x, ok = deck.Try(v.rec, v.rev.Plan, chosen.Option, moved); !ok {
			return nil, notFound("There is no such arrangement of the deck.")
		}
	}
	page.Moved = len(moved) > 0
	for i := range a.Arrangements {
		one := &a.Arrangements[i]
		if one.Option == chosen.Option {
			one = &x
		}
		page.Choices = append(page.Choices, v.choice(one, one.Option == chosen.Option))
	}
	page.Chosen = v.choice(&x, true)
	page.draw(v, plan, &x)
	page.markMoved(v, chosen, bad)
	page.say(v, &x)
	return page, nil
}

// arrangement is the one that the address names; without a name the first.
func (v *view) arrangement(r *http.Request) (*deck.Arrangement, error) {
	key := r.FormValue("option")
	for i := range v.rev.Deck.Arrangements {
		a := &v.rev.Deck.Arrangements[i]
		if a.Option.Key() == key && (key != "" || a.Option == "") || key == "" && !r.Form.Has("option") {
			return a, nil
		}
	}
	return nil, notFound("There is no such arrangement of the deck.")
}

// moves reads the places that the form has otherwise than the record.
func (v *view) moves(r *http.Request, a *deck.Arrangement) (moved map[record.Ref]record.Spot, bad map[record.Ref]string) {
	moved, bad = map[record.Ref]record.Spot{}, map[record.Ref]string{}
	field := record.KindFor[record.Fitting]().Field("spot")
	for _, h := range drawing.Deck(v.rev.Deck.Plan, a).Handles {
		text := strings.TrimSpace(r.FormValue("at." + string(h.Self)))
		if text == "" || text == spotText(h.Spot) {
			continue
		}
		value, err := field.Parse(text, v.Today)
		var s record.Spot
		if err == nil {
			s, err = decodeSpot(value)
		}
		if err != nil {
			bad[h.Self] = err.Error()
			continue
		}
		moved[h.Self] = s
	}
	return moved, bad
}

func spotText(s record.Spot) string {
	return unit.Decimal(round3(s.X)) + "; " + unit.Decimal(round3(s.Y)) + "; " + unit.Decimal(round3(s.Z))
}

// draw makes the drawing and the handles over it.
func (p *deckPage) draw(v *view, plan deck.Plan, x *deck.Arrangement) {
	sheet := drawing.Deck(plan, x)
	p.Drawing = v.keepDay(sheet.SVG())
	p.Box = fmt.Sprintf("0 0 %s %s", unit.Decimal(sheet.W), unit.Decimal(round3(sheet.H)))
	p.Scale = fmt.Sprintf("%.6f %.4f %.4f", sheet.View.Scale, sheet.View.Origin.X, sheet.View.Origin.Y)
	for _, row := range sheet.Rows {
		p.Numbers = append(p.Numbers, Line{Label: fmt.Sprint(row.Number), Link: v.Ref(row.Of)})
	}
	for _, h := range sheet.Handles {
		p.Handles = append(p.Handles, deckHandle{
			Self: h.Self, Name: h.Name, Text: spotText(h.Spot), Was: spotText(h.Spot),
			X: fmt.Sprintf("%.3f", h.At.X), Y: fmt.Sprintf("%.3f", h.At.Y), Z: unit.Decimal(round3(h.Spot.Z)),
		})
	}
}

// markMoved says which places were moved from where, and keeps what was typed
// wrong.
func (p *deckPage) markMoved(v *view, was *deck.Arrangement, bad map[record.Ref]string) {
	before := map[record.Ref]string{}
	for _, h := range drawing.Deck(v.rev.Deck.Plan, was).Handles {
		before[h.Self] = spotText(h.Spot)
	}
	for i := range p.Handles {
		h := &p.Handles[i]
		h.Was, h.Bad = before[h.Self], bad[h.Self]
		h.Moved = h.Was != h.Text
	}
}

// choice is one arrangement as the table of all shows it.
func (v *view) choice(a *deck.Arrangement, here bool) deckChoice {
	c := deckChoice{Href: v.Link("/deck?option=" + url.QueryEscape(a.Option.Key())), Here: here, Option: a.Option, Point: v.Ref(a.Point), Name: a.Name, Sum: a.Sum()}
	count := func(sorts ...deck.Sort) string {
		n := 0
		for _, f := range a.Findings {
			for _, s := range sorts {
				if f.Sort == s {
					n++
				}
			}
		}
		if n == 0 {
			return "none found"
		}
		return fmt.Sprint(n)
	}
	until := ""
	if a.Cost.By.Known() {
		until = a.Cost.By.Line(v.Day)
	}
	c.Cells = []string{count(deck.Dragged, deck.OverSide), count(deck.Gap), count(deck.Snag, deck.Crossed), count(deck.Weak, deck.Unheld),
		orNone(a.Cost.Weighs().Text()), orNone(a.Cost.Price.Text()), orNone(a.Cost.Days.Text()), orNone(until)}
	return c
}

// round3 rounds to a millimetre.
func round3(v float64) float64 { return math.Round(1000*v) / 1000 }

func decodeSpot(v record.Value) (record.Spot, error) {
	var s record.Spot
	err := json.Unmarshal([]byte(v), &s)
	return s, err
}

func orNone(s string) string {
	if s == "" {
		return "not said"
	}
	return s
}
