package main

import (
	"context"
	"errors"
	"fmt"
	"os"
	"strings"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/journal"
	"dogshore/record"
)

type deckCmd struct {
	Dir    string `arg:"" help:"The build folder."`
	Option string `help:"Only the arrangement of this option, by its key."`
	All    bool   `help:"Print every finding, each leg of each tether, and what is often taken to be the other way round."`
	Why    bool   `help:"Unfold every number to its working, down to what was typed, seen or measured."`
	Paper  string `help:"Write the request for the designer's check of that arrangement to this PDF file."`
}

// Run prints what each arrangement of the deck's lines leaves open.
func (c *deckCmd) Run(ctx context.Context, s streams) error {
	r, err := today(ctx, c.Dir, s)
	if err != nil {
		return fmt.Errorf("deck: %w", err)
	}
	a := deck.Read(r, plan.Read(r), nil)
	p := newPage(s.out)
	p.deckHead(a)
	found := false
	for i := range a.Arrangements {
		x := &a.Arrangements[i]
		if c.Option != "" && x.Option.Key() != c.Option {
			continue
		}
		p.arrangement(r, x, c)
		if c.Paper != "" && !found {
			if err := c.write(r, a.Plan, x, s); err != nil {
				return fmt.Errorf("deck: %w", err)
			}
		}
		found = true
	}
	if c.Option == "" {
		p.compared(a.Compared, c.All)
	}
	if !c.Why && found {
		p.line("")
		p.para(plainInk, "", "", "--all adds each leg and what is often taken to be the other way round; --why unfolds every number.")
	}
	if c.Option != "" && !found {
		return fmt.Errorf("deck: there is no arrangement of an option %q", c.Option)
	}
	if c.Paper != "" && !found {
		return errors.New("deck: there is no arrangement on record to write a request for")
	}
	return p.err
}

func (c *deckCmd) write(r *journal.Record, plan deck.Plan, x *deck.Arrangement, s streams) error {
	b, _ := journal.Get[record.Build](r, "build/build")
	ask := drawing.DeckPaper{Build: b, Day: r.Day.Said(), Plan: plan, X: x, Steps: map[record.Ref]string{}, Due: x.Cost.By.Line(r.Day)}
	if x.Point != "" {
		ask.Question = r.Name(x.Point)
	}
	for _, f := range x.Fittings {
		if f.Before != "" {
			ask.Steps[f.Before] = r.Name(f.Before)
		}
	}
	sheets := drawing.DeckRequest(ask)
	pdf, err := draw.PDF("Request for the designer's check: "+b.Name, sheets...)
	if err != nil {
		return err
	}
	if err := os.WriteFile(c.Paper, pdf, 0o644); err != nil {
		return err
	}
	if err := warnLacks(s, draw.Lacks(sheets...)); err != nil {
		return err
	}
	fmt.Fprintf(s.err, "Wrote %s, %s.\n", c.Paper, desk.Count(len(sheets), "sheet"))
	return nil
}

func (p *page) deckHead(a deck.Answer) {
	p.para(bold, "", "", "Lines on deck")
	if len(a.Arrangements) == 0 {
		p.para(plainInk, "", "", "There is no line, eye or preventer on record yet. The workbook has a sheet for each: deck levels, deck edges, obstacles, fittings, jackstays and their points, tethers, deck tasks, booms, preventers.")
	}
	for _, m := range a.Missing {
		p.para(plainInk, "  not on record: ", "    ", m)
	}
}

// mostFound is how many findings of one sort are printed, unless all are.
const mostFound = 4

// arrangement prints one way, gravest findings first, each caution once on the
// page.
func (p *page) arrangement(r *journal.Record, x *deck.Arrangement, c *deckCmd) {
	p.line("")
	p.para(bold, "", "", x.Name)
	if cost := costLine(r, x); cost != "" {
		p.para(plainInk, "  ", "  ", cost)
	}
	p.para(plainInk, "  ", "  ", desk.Capital(x.Sum()))
	printed := map[deck.Sort]int{}
	for i, f := range x.Findings {
		printed[f.Sort]++
		if n := printed[f.Sort]; n > mostFound && !c.All && !c.Why {
			if last := i+1 == len(x.Findings) || x.Findings[i+1].Sort != f.Sort; last {
				p.para(plainInk, "  - ", "    ", fmt.Sprintf("%s: and %d more; --all prints them", desk.Capital(string(f.Sort)), n-mostFound))
			}
			continue
		}
		p.finding(f)
		if c.Why {
			p.workings(f.Figures)
		}
	}
	p.said("What else is known", x.Facts, c.Why)
	if c.All {
		p.legs(r, x)
		p.said("Often taken to be the other way round", x.Remarks, c.Why)
	}
	if c.Why {
		for _, about := range x.Figures {
			head := r.Name(about.Of)
			if about.Side != "" {
				head += ", boom out to " + about.Side
			}
			p.line("")
			p.para(bold, "  ", "  ", head)
			p.workings(about.Figures)
		}
	}
}

// costLine is what an arrangement adds: price, weight, days, until when.
func costLine(r *journal.Record, x *deck.Arrangement) string {
	var parts []string
	for _, part := range []string{x.Cost.Price.Text(), x.Cost.Weighs().Text(), x.Cost.Days.Text(), x.Cost.By.Line(r.Day)} {
		if part != "" {
			parts = append(parts, part)
		}
	}
	return strings.Join(parts, "; ")
}

func (p *page) finding(f deck.Finding) {
	ink := plainInk
	if f.Sort.Grave() {
		ink = redLead
	}
	p.para(ink, "  - ", "    ", desk.Capital(string(f.Sort))+": "+f.Says)
	if _, said := p.cautions[f.Caution]; f.Caution != "" && !said {
		p.cautions[f.Caution] = 1
		p.para(plainInk, "    caution: ", "    ", f.Caution)
	}
}

func (p *page) said(title string, all []deck.Said, why bool) {
	if len(all) == 0 {
		return
	}
	p.para(plainInk, "  ", "  ", title+":")
	what := ""
	for _, s := range all {
		if why && s.What != what {
			p.para(bold, "    ", "    ", desk.Sentence(desk.Capital(s.What)))
			what = s.What
		}
		p.para(plainInk, "  - ", "    ", s.Says)
		if why {
			p.workings(s.Figures)
		}
	}
}

func (p *page) legs(r *journal.Record, x *deck.Arrangement) {
	if len(x.Legs) == 0 {
		return
	}
	p.para(plainInk, "  ", "  ", "Each leg of each tether:")
	for _, says := range x.LegLines(r.Name) {
		p.para(plainInk, "  - ", "    ", says)
	}
}

// compared prints of each two arrangements what differs by more than is known
// of it; what does not is counted, or printed too.
func (p *page) compared(all []deck.Comparison, each bool) {
	if len(all) == 0 {
		return
	}
	p.line("")
	p.para(bold, "", "", "Beside each other")
	for _, c := range all {
		p.para(plainInk, "  ", "  ", c.AName+" (first) and "+c.BName+" (second):")
		same := 0
		for _, row := range c.Rows {
			if !row.Differs() && !each {
				same++
				continue
			}
			p.para(plainInk, "  - ", "    ", desk.Sentence(desk.Capital(row.Says)))
		}
		if same > 0 {
			p.para(plainInk, "  - ", "    ", fmt.Sprintf("In %s there is no difference that can be told.", desk.Count(same, "more figure")))
		}
	}
}
