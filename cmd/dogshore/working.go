package main

import (
	"strings"

	"dogshore/figure"
)

// workings prints figures down to what was typed, seen or measured.
func (p *page) workings(all []figure.Figure) {
	for _, f := range all {
		if f.Says == "" && f.Text == "" {
			continue
		}
		p.line("")
		p.working(f, 2)
	}
}

func (p *page) working(f figure.Figure, depth int) {
	in := strings.Repeat(" ", depth)
	says := inWords(f)
	if f.Symbol != "" {
		says = f.Symbol + ", " + says
	}
	p.para(bold, in, in+"  ", says)
	in += "  "
	if f.Rule != "" {
		p.para(plainInk, in, in+"  ", f.Rule)
	}
	if src := f.Source.String(); src != "" && (f.Entry == nil || f.Source.Text != "") {
		p.para(plainInk, in, in+"  ", src)
	}
	if e := f.Entry; e != nil {
		line := e.Grounds + "; entered by " + e.Who
		if e.Day != "" {
			line += "; holds since " + e.Day
		}
		if e.Origin != "" {
			line += " (" + e.Origin + ")"
		}
		if e.As != "" && e.As != f.Text {
			line += ": \u201c" + e.As + "\u201d"
		}
		p.para(plainInk, in, in+"  ", line)
	}
	for _, x := range f.Of {
		p.working(x, depth+4)
	}
}
