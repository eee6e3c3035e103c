package web

import (
	"fmt"
	"math"
	"net/http"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/drawing"
	"dogshore/gybe"
	"dogshore/jackstay"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/rope"
)

// ruleRow is one line of a rule or standard.
type ruleRow struct {
	Says, Verdict, Where, Because string
}

// findingsShown is how many findings stand open.
const findingsShown = 6

// say fills the lists that stand under the drawing.
func (p *deckPage) say(v *view, a *deck.Arrangement) {
	for _, f := range a.Findings {
		row := Row{Link: v.Ref(f.Of), State: string(f.Sort), Grave: f.Sort.Grave(), Lines: []Line{{Text: f.Says}}}
		p.Findings = append(p.Findings, row)
		if f.Caution != "" && !slices.Contains(p.Cautions, f.Caution) {
			p.Cautions = append(p.Cautions, f.Caution)
		}
	}
	if len(p.Findings) > findingsShown {
		p.More = &Section{Title: "what else it leaves open", Rows: p.Findings[findingsShown:]}
		p.Findings = p.Findings[:findingsShown]
	}
	for _, c := range a.Result.Cautions {
		if !slices.Contains(p.Cautions, c.Says) {
			p.Cautions = append(p.Cautions, c.Says)
		}
	}
	p.Sections = []Section{v.linesOf(a), v.tasksOf(a), v.eyesOf(a), v.anchorsOf(a), v.leadsOf(a), v.assumedOf(a)}
	p.Sections = slices.DeleteFunc(p.Sections, func(s Section) bool { return len(s.Rows) == 0 })
	for _, r := range a.Rules {
		row := ruleRow{Says: desk.Capital(r.Says), Verdict: string(r.Kept), Where: deck.Where(r) + ", edition " + r.Edition + "; " + r.Source.String()}
		switch {
		case r.Asks != "":
			row.Because = "It would need: " + string(r.Asks) + "."
		case r.Value != nil:
			row.Because = fmt.Sprintf("Entered: %.4g %s.", *r.Value, r.Unit)
		}
		p.Rules = append(p.Rules, row)
	}
}

// linesOf says what each line does.
func (v *view) linesOf(a *deck.Arrangement) Section {
	s := Section{Title: "Lines"}
	for _, l := range a.Result.Lines {
		row := Row{Link: v.Ref(record.Ref(l.ID)), State: string(l.Strength.Verdict)}
		for _, text := range v.handSays(l) {
			row.Lines = append(row.Lines, Line{Text: text})
		}
		for _, on := range l.Supports {
			row.Lines = append(row.Lines, Line{Label: v.rec.Name(record.Ref(on.ID)), Text: fmt.Sprintf("up to %s, the hook %s; should hold %s: %s", bandKN(on.Load), on.How, kN(on.Needed), on.Verdict)})
		}
		for _, b := range l.Brackets {
			row.Lines = append(row.Lines, Line{Label: b.Says, Text: fmt.Sprintf("%s in the line, the hook %s off its straight way", bandKN(b.Tension), bandM(b.Sag))})
		}
		if l.Group != nil {
			row.Lines = append(row.Lines, Line{Label: fmt.Sprintf("%d persons together", l.Group.Persons), Text: bandKN(l.Group.Tension) + " in the line"})
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// handSays is what is said of a line while a hand holds it, and in the list.
func (v *view) handSays(l jackstay.LineResult) []string {
	out := []string{fmt.Sprintf("%s long; after a fall %s in the line, %s on the person.", metres(l.Length), bandKN(l.Tension), bandKN(l.Body))}
	sag := 0.0
	for _, s := range l.Spans {
		sag = max(sag, s.Sag.Soft, s.Sag.As, s.Sag.Stiff)
	}
	if sag > 0 {
		out = append(out, fmt.Sprintf("A sliding person draws it up to %.1f m aside.", sag))
	}
	for _, side := range l.Sides {
		way := side.Under
		if way == nil {
			way = side.Over
		}
		if side.Class == jackstay.Aboard || side.Class == jackstay.Inboard || way == nil {
			continue
		}
		out = append(out, fmt.Sprintf("%s, %s leg: class %s, %.1f m over the edge (within %.1f m).", v.rec.Name(record.Ref(side.Edge)), metres(side.Leg), side.Class, way.By.Soft, math.Max(0.1, way.Error)))
	}
	return out
}

func metres(m float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", m), "0"), ".") + " m"
}

func kN(n float64) string { return fmt.Sprintf("%.1f kN", n/1000) }

// bandKN is a force at half, entered and double stiffness.
func bandKN(b jackstay.Band) string {
	low, high := min(b.Soft, b.As, b.Stiff)/1000, max(b.Soft, b.As, b.Stiff)/1000
	if fmt.Sprintf("%.1f", low) == fmt.Sprintf("%.1f", high) {
		return fmt.Sprintf("%.1f kN", high)
	}
	return fmt.Sprintf("%.1f to %.1f kN", low, high)
}

func bandM(b jackstay.Band) string {
	return fmt.Sprintf("%.1f to %.1f m", min(b.Soft, b.As, b.Stiff), max(b.Soft, b.As, b.Stiff))
}

// tasksOf says whether each task can be done clipped on all the way.
func (v *view) tasksOf(a *deck.Arrangement) Section {
	s := Section{Title: "Tasks"}
	for _, t := range a.Tasks {
		w := t.Walked
		row := Row{Link: v.Ref(t.Self), State: "clipped on all the way, by the figures entered", Grave: !w.Clipped}
		if !w.Clipped {
			row.State = "not clipped on all the way"
		}
		row.Lines = append(row.Lines, Line{Text: fmt.Sprintf("%.1f m; %s of hook; the work needs %s.", w.Length, count(w.Changes, "change", "changes"), count(w.Hands, "hand", "hands"))})
		if w.Moments > 0 {
			row.Lines = append(row.Lines, Line{Text: fmt.Sprintf("At %d of them the only hook is let go first.", w.Moments)})
		}
		for _, g := range w.Gaps {
			row.Lines = append(row.Lines, Line{Label: "on no hook", Text: fmt.Sprintf("from %.1f to %.1f m along the way", g.From, g.To)})
		}
		if w.Low > 0 {
			row.Lines = append(row.Lines, Line{Text: fmt.Sprintf("%.1f m only on hands and knees.", w.Low)})
		}
		for _, x := range w.Dragged {
			on, leg, _ := strings.Cut(x, " on ")
			row.Lines = append(row.Lines, Line{Label: "may end in the water", Text: v.nameOr(on) + ", leg of " + leg})
		}
		for _, x := range w.Through {
			row.Lines = append(row.Lines, Line{Label: "leads through", Text: v.nameOr(x) + ": is it drawn right?"})
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// eyesOf says what a fixed eye sees.
func (v *view) eyesOf(a *deck.Arrangement) Section {
	s := Section{Title: "Eyes to clip to"}
	for _, p := range a.Result.Points {
		row := Row{Link: v.Ref(record.Ref(p.ID)), State: string(p.Verdict), Lines: []Line{{Text: fmt.Sprintf("A fall puts %s on it; it should hold %s.", bandKN(p.Arrest), kN(p.Needed))}}}
		for _, side := range p.Sides {
			if side.Class != jackstay.Aboard && side.Class != jackstay.Inboard {
				row.Lines = append(row.Lines, Line{Text: fmt.Sprintf("%s, %s leg: class %s.", v.rec.Name(record.Ref(side.Edge)), metres(side.Leg), side.Class)})
			}
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// anchorsOf says what the fittings and what is under them hold.
func (v *view) anchorsOf(a *deck.Arrangement) Section {
	s := Section{Title: "Fittings, and what must lie under them"}
	for _, x := range a.Anchors {
		row := Row{Link: v.Ref(x.Self), State: string(x.Result.Verdict), Grave: x.Result.Verdict == rope.MeetsNot}
		for _, p := range x.Result.Parts {
			text := string(p.Verdict)
			if p.Verdict != rope.NotKnown && p.Margin > 0 {
				text += fmt.Sprintf(", margin %.1f with its factor of %.2g taken off", p.Margin, p.Factor)
			}
			if len(p.Missing) > 0 {
				text += "; it would need " + strings.Join(p.Missing, ", ")
			}
			row.Lines = append(row.Lines, Line{Label: p.Says, Text: text})
		}
		row.Lines = append(row.Lines, Line{Label: "asked for under it", Text: strings.TrimPrefix(deck.Demanded(x), x.Name+": ")})
		if x.Before != "" {
			row.Lines = append(row.Lines, Line{Label: "before", Link: v.Ref(x.Before)})
		}
		s.Rows = append(s.Rows, row)
	}
	return s
}

// leadsOf says what each preventer sees.
func (v *view) leadsOf(a *deck.Arrangement) Section {
	s := Section{Title: "Preventers"}
	for _, g := range a.Gybe {
		for _, l := range g.Result.Leads {
			row := Row{Link: v.Ref(record.Ref(l.Preventer)), State: "boom out to " + string(l.Side) + "; " + string(l.Verdict), Grave: l.Verdict == rope.MeetsNot}
			row.Lines = append(row.Lines, v.gybeLine("the wind coming slowly", l.Settles), v.gybeLine("caught aback at once", l.Stops))
			for _, p := range l.Parts {
				row.Lines = append(row.Lines, v.partLine(p))
			}
			for _, f := range l.Fouls {
				row.Lines = append(row.Lines, Line{Label: "comes foul of", Text: v.rec.Name(record.Ref(f.Obstacle))})
			}
			for _, text := range l.Says {
				row.Lines = append(row.Lines, Line{Text: text})
			}
			s.Rows = append(s.Rows, row)
		}
		if m := g.Result.Sheet; m != nil {
			s.Rows = append(s.Rows, Row{Link: v.Ref(g.Boom.Self), Lines: []Line{{Label: "mainsheet by the trade’s formula, to compare", Text: kN(m.Load)}}})
		}
	}
	return s
}

func (v *view) gybeLine(label string, x gybe.Answer) Line {
	if x.Outcome != gybe.Holds {
		return Line{Label: label, Text: x.Says}
	}
	return Line{Label: label, Text: fmt.Sprintf("%.1f to %.1f kN in the line at the boom", x.Tension.Least/1000, x.Tension.Most/1000)}
}

func (v *view) partLine(p gybe.Part) Line {
	name := p.Sort
	if ref := record.Ref(p.Name); ref.Kind() == "fitting" || ref.Kind() == "turn" {
		name = v.rec.Name(ref)
	}
	unit := "kN"
	if p.Unit == "N m" {
		unit = "kN m"
	}
	text := fmt.Sprintf("%.1f to %.1f %s; %s", p.Load.Least/1000, p.Load.Most/1000, unit, p.Verdict)
	if p.Rated > 0 {
		text += fmt.Sprintf(", entered with %.1f %s", p.Rated/1000, unit)
	}
	if len(p.Missing) > 0 {
		text += "; it would need " + strings.Join(p.Missing, ", ")
	}
	return Line{Label: name, Text: text}
}

// assumedOf lists what nobody entered, and what could not be said.
func (v *view) assumedOf(a *deck.Arrangement) Section {
	s := Section{Title: "Taken as usual, since nobody entered it", Folded: true}
	for _, x := range a.Result.Assumed {
		s.Rows = append(s.Rows, Row{Link: Named{Name: x.What}, State: v.nameOr(x.Of), Lines: []Line{{Text: fmt.Sprintf("%.4g %s; %s", x.Value, x.Unit, x.Source)}}})
	}
	for _, l := range a.Result.Lines {
		for _, x := range l.Assumed {
			s.Rows = append(s.Rows, Row{Link: Named{Name: x.What}, State: v.nameOr(x.Of), Lines: []Line{{Text: fmt.Sprintf("%.4g %s; %s", x.Value, x.Unit, x.Source)}}})
		}
	}
	for _, x := range a.Result.Unknown {
		s.Rows = append(s.Rows, Row{Link: Named{Name: x.What}, State: v.nameOr(x.Of), Lines: []Line{{Text: "not said: it would need " + x.Needs}}})
	}
	return s
}

func (v *view) nameOr(of string) string {
	if ref := record.Ref(of); v.rec.Has(ref) {
		return v.rec.Name(ref)
	}
	return of
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
	return paper(w, "request-deck.pdf", "Request for the designer's check: "+b.Name, drawing.DeckRequest(b, v.Day.Said(), v.rev.Deck.Plan, a))
}
