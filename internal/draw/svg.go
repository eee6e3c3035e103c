package draw

import (
	_ "embed"
	"fmt"
	"html"
	"html/template"
	"math"
	"strconv"
	"strings"
)

// Style is the style sheet for drawings. It takes its colours from the page:
// currentColor for ink, --paper for paper.
//
//go:embed style.css
var Style string

// SVG writes the drawing for a page. Its colours come from the page's style
// sheet (Style); it carries none itself.
func (d *Drawing) SVG() template.HTML {
	var b strings.Builder
	role := "img"
	for _, m := range d.marks {
		if m.kind == markLink {
			role = "group"
			break
		}
	}
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" class="drawing" role="%s" viewBox="0 0 %s %s">`, role, num(d.W), num(d.H))
	fmt.Fprintf(&b, "<title>%s</title><desc>%s</desc>", html.EscapeString(d.Title), html.EscapeString(d.Desc))
	for _, m := range d.marks {
		m.svg(&b)
	}
	b.WriteString("</svg>\n")
	return template.HTML(b.String())
}

// File writes the drawing as a file of its own, with its style in it: Style,
// and behind it what says which ink and paper it has.
func (d *Drawing) File(style string) []byte {
	open, rest, _ := strings.Cut(string(d.SVG()), "<title>") // every drawing has one
	return []byte(open + "<style>" + Style + style + "</style><title>" + rest)
}

func (m mark) svg(b *strings.Builder) {
	switch m.kind {
	case markLink:
		fmt.Fprintf(b, `<a href="%s" aria-label="%s">`, html.EscapeString(m.name), html.EscapeString(m.text))
	case markEnd:
		b.WriteString("</a>")
	case markLayer:
		fmt.Fprintf(b, `<g%s data-layer="%s"`, map[bool]string{true: ` class="apart"`}[m.apart], html.EscapeString(m.name))
		if m.text != "" {
			fmt.Fprintf(b, ` data-of="%s"`, html.EscapeString(m.text))
		}
		b.WriteString(">")
	case markLayerEnd:
		b.WriteString("</g>")
	case markPicture:
		m.svgPicture(b)
	case markDot:
		c := m.runs[0][0]
		fmt.Fprintf(b, `<circle class="%s" cx="%s" cy="%s" r="%s"/>`, m.name, num(c.X), num(c.Y), num(m.r))
	case markText:
		at := m.runs[0][0]
		fmt.Fprintf(b, `<text class="%s" x="%s" y="%s" font-size="%s" text-anchor="%s">%s</text>`,
			m.name, num(at.X), num(at.Y), num(m.size), m.anchor, html.EscapeString(m.text))
	default:
		fmt.Fprintf(b, `<path class="%s%s" d="`, m.name, map[bool]string{true: " closed"}[m.kind == markArea])
		for _, run := range m.runs {
			for i, p := range run {
				b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0])
				b.WriteString(num(p.X) + " " + num(p.Y))
			}
			if m.kind == markArea {
				b.WriteString("Z")
			}
		}
		b.WriteString(`"/>`)
	}
}

// num writes a number with at most two decimals and no idle zeros: a hundredth
// of a millimetre is finer than any line.
func num(v float64) string {
	r := math.Round(v*100) / 100
	if r == 0 {
		return "0"
	}
	return strconv.FormatFloat(r, 'f', -1, 64)
}
