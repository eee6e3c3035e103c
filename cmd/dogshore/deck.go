package main

import (
	"context"
	"errors"
	"fmt"
	"os"

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
		p.arrangement(r, x)
		if c.Paper != "" && !found {
			if err := c.write(r, a.Plan, x, s); err != nil {
				return fmt.Errorf("deck: %w", err)
			}
		}
		found = true
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
	sheets := drawing.DeckRequest(b, r.Day.Said(), plan, x)
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

// arrangement prints one way, gravest findings first, each with its caution
// once.
func (p *page) arrangement(r *journal.Record, x *deck.Arrangement) {
	p.line("")
	p.para(bold, "", "", x.Name)
	cost := ""
	for _, part := range []string{x.Cost.Price.Text(), x.Cost.Weighs().Text(), x.Cost.Days.Text(), x.Cost.By.Line(r.Day)} {
		if part != "" {
			if cost != "" {
				cost += "; "
			}
			cost += part
		}
	}
	if cost != "" {
		p.para(plainInk, "  ", "  ", cost)
	}
	p.para(plainInk, "  ", "  ", desk.Capital(x.Sum()))
	said := map[string]bool{}
	for _, f := range x.Findings {
		ink := plainInk
		if f.Sort.Grave() {
			ink = redLead
		}
		p.para(ink, "  - ", "    ", desk.Capital(string(f.Sort))+": "+f.Says)
		if f.Caution != "" && !said[f.Caution] {
			said[f.Caution] = true
			p.para(plainInk, "    caution: ", "    ", f.Caution)
		}
	}
}
