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
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// deckPage shows the deck with one arrangement of its lines: what stands and
// what must be settled, the drawing, what the arrangement leaves open, the
// others beside it, and every figure below.
type deckPage struct {
	Sheet
	Any    bool // there is an arrangement
	Option record.Ref
	Href   string // of the arrangement, as it is on record
	Moved  bool   // places are tried on
	Author string

	Head    deckHead
	Drawn   []deckDrawn // bow to the right, and bow up for a narrow screen
	Marks   []deckMark
	Picks   []deckPick
	Show    record.Ref // what is shown alone
	Handles []deckHandle

	Worst  []deckOpen // the gravest few
	Open   []deckOpen
	Beside []deckBeside

	Lines    []deckLine
	Walks    deckWalks
	Anchors  []deckAnchor
	Booms    []deckBoom
	Rules    []deckRules
	Assumed  Section
	Missing  []string
	Cautions []string
	Add      []Add
}

// deckDrawn is one way in which the deck is drawn.
type deckDrawn struct {
	Up    bool
	SVG   template.HTML
	Box   string // of the sheet: "0 0 190 120"
	Scale string // from metres to the sheet, and its origin: "12.1 6 40"
}

// deckMark is a mark of the drawing with a sample; with a layer it can be
// switched off.
type deckMark struct {
	Layer, Says string
	Sample      template.HTML
}

// deckHandle is a place that a hand can move.
type deckHandle struct {
	Self  record.Ref
	Name  string
	Text  string // the spot, as it is typed: "2.3; 3.2; 1.98"
	Was   string // as it is on record
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
	page.Option, page.Moved, page.Show = chosen.Option, len(moved) > 0, record.Ref(r.FormValue("show"))
	page.Href = v.deckHref(chosen.Option)
	page.draw(v, plan, &x)
	page.markMoved(v, chosen, bad)
	page.say(v, plan, &x)
	return page, nil
}

func (v *view) deckHref(option record.Ref) string {
	return v.Link("/deck?option=" + url.QueryEscape(option.Key()))
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
	for _, h := range v.handles(a) {
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

// handles are the places of an arrangement that a hand can move.
func (v *view) handles(a *deck.Arrangement) []drawing.Handle {
	return drawing.Deck(v.rev.Deck.Plan, a, drawing.DeckView{}).Handles
}

func spotText(s record.Spot) string {
	return unit.Decimal(round3(s.X)) + "; " + unit.Decimal(round3(s.Y)) + "; " + unit.Decimal(round3(s.Z))
}

// draw makes the drawings and the handles over them.
func (p *deckPage) draw(v *view, plan deck.Plan, x *deck.Arrangement) {
	for _, up := range []bool{false, true} {
		sheet := drawing.Deck(plan, x, drawing.DeckView{Up: up, Only: p.Show})
		p.Drawn = append(p.Drawn, deckDrawn{
			Up: up, SVG: v.keepDay(sheet.SVG()),
			Box:   fmt.Sprintf("0 0 %s %s", unit.Decimal(round3(sheet.W)), unit.Decimal(round3(sheet.H))),
			Scale: fmt.Sprintf("%.6f %.4f %.4f", sheet.View.Scale, sheet.View.Origin.X, sheet.View.Origin.Y),
		})
		if up || x == nil {
			continue
		}
		for _, row := range sheet.Rows {
			p.Picks = append(p.Picks, v.pick(x, row, p.Show))
		}
		for _, h := range sheet.Handles {
			p.Handles = append(p.Handles, deckHandle{Self: h.Self, Name: v.nameOr(string(h.Self)), Text: spotText(h.Spot), Was: spotText(h.Spot)})
		}
	}
	for _, m := range drawing.DeckMarks() {
		if drawnOn(x, m.Layer) {
			p.Marks = append(p.Marks, deckMark{m.Layer, m.Says, m.Sample.SVG()})
		}
	}
}

// drawnOn reports whether a drawing has anything of a layer.
func drawnOn(x *deck.Arrangement, layer string) bool {
	switch layer {
	case "":
		return true
	case drawing.DeckSweptLayer:
		return x != nil && len(x.Sweep.Zones) > 0
	case drawing.DeckPreventerLayer:
		return x != nil && len(x.Gybe) > 0
	case drawing.DeckTaskLayer:
		return x != nil && len(x.Tasks) > 0
	}
	return x != nil && len(x.Result.Lines)+len(x.Result.Points) > 0
}

// markMoved says which places were moved from where, and keeps what was typed
// wrong.
func (p *deckPage) markMoved(v *view, was *deck.Arrangement, bad map[record.Ref]string) {
	before := map[record.Ref]string{}
	for _, h := range v.handles(was) {
		before[h.Self] = spotText(h.Spot)
	}
	for i := range p.Handles {
		h := &p.Handles[i]
		h.Was, h.Bad = before[h.Self], bad[h.Self]
		h.Moved = h.Was != h.Text
	}
}

// say fills what stands around the drawing.
func (p *deckPage) say(v *view, plan deck.Plan, x *deck.Arrangement) {
	p.Head = v.deckHead(x)
	p.Open = v.deckOpen(x)
	p.Worst = worstOf(p.Open)
	p.Beside = v.deckBeside(plan, x)
	p.Lines = v.deckLines(x, p.Picks)
	p.Walks = v.deckWalks(x)
	p.Anchors = v.deckAnchors(x)
	p.Booms = v.deckBooms(x)
	p.Rules = deckRuled(x)
	p.Assumed = v.assumedOf(x)
	p.Cautions = x.Cautions
}

// deckPaper is the request for the designer's check.
func (s *Site) deckPaper(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Deck")
	if err != nil {
		return err
	}
	if err := r.ParseForm(); err != nil {
		return err
	}
	if len(v.rev.Deck.Arrangements) == 0 {
		return notFound("There is no arrangement of the deck to print.")
	}
	a, err := v.arrangement(r)
	if err != nil {
		return err
	}
	b, _ := journal.Get[record.Build](v.rec, buildRef)
	head := v.deckHead(a)
	sheet := drawing.DeckPaper{Build: b, Day: v.Day.Said(), Question: head.Point.Name, Due: head.Due, Plan: v.rev.Deck.Plan, X: a, Steps: map[record.Ref]string{}}
	for _, f := range a.Fittings {
		if f.Before != "" {
			sheet.Steps[f.Before] = v.rec.Name(f.Before)
		}
	}
	return paper(w, "request-deck.pdf", "Request for the designer's check: "+b.Name, drawing.DeckRequest(sheet))
}

// round3 rounds to a millimetre.
func round3(v float64) float64 { return math.Round(1000*v) / 1000 }

func decodeSpot(v record.Value) (record.Spot, error) {
	var s record.Spot
	err := json.Unmarshal([]byte(v), &s)
	return s, err
}
