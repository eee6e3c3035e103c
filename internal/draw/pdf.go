package draw

import (
	"bytes"
	"fmt"
	"slices"
	"strings"
	"time"

	"codeberg.org/go-pdf/fpdf"
)

// pen is how a line or surface name looks on paper.
type pen struct {
	width float64
	dash  []float64
	fill  int // grey of the surface: 255 paper, 0 ink, -1 none
	edge  bool
	shade float64 // how much of what is behind the surface covers
}

var pens = map[string]pen{
	Outline: {0.35, nil, 255, true, 1},
	Thin:    {0.18, nil, 255, true, 1},
	Hidden:  {0.25, []float64{1.6, 0.9}, 255, true, 1},
	Unknown: {0.3, []float64{3.2, 1.6}, 255, true, 1},
	Centre:  {0.18, []float64{5, 1, 0.6, 1}, 255, true, 1},
	Bold:    {0.7, nil, 255, true, 1},
	Hatched: {0.2, nil, -1, true, 1},
	Paper:   {0, nil, 255, false, 1},
	Ink:     {0, nil, 0, false, 1},
	Tint:    {0, nil, 0, false, 0.14},
	Deep:    {0, nil, 0, false, 0.38},
	Rule:    {0.1, nil, 255, true, 1},
	Shut:    {0, nil, 0, false, 0.06},
	Lead:    {0.5, nil, 255, true, 1},
}

// PDF writes drawings as pages of one document, each page as large as its
// drawing. The same drawings give the same bytes. Links are left out: paper
// can't follow them.
func PDF(title string, sheets ...*Drawing) ([]byte, error) {
	p := fpdf.New("P", "mm", "A4", "")
	never := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	p.SetCreationDate(never)
	p.SetModificationDate(never)
	p.SetCatalogSort(true)
	p.SetProducer("dogshore", true)
	p.SetTitle(strings.ToValidUTF8(title, ""), true)
	p.SetLang("en")
	p.SetAutoPageBreak(false, 0)
	p.SetMargins(0, 0, 0)
	addFonts(p, slices.ContainsFunc(sheets, (*Drawing).both))
	for _, d := range sheets {
		p.AddPageFormat("P", fpdf.SizeType{Wd: d.W, Ht: d.H})
		p.SetLineJoinStyle("round")
		p.SetLineCapStyle("round")
		apart := 0
		for _, m := range d.marks {
			switch {
			case m.kind == markLayer && m.apart:
				apart++
			case m.kind == markLayerEnd && m.apart:
				apart--
			case apart == 0:
				m.pdf(p)
			}
		}
		if Lacks(d) != "" { // in the margin, so that it moves nothing
			m := mark{kind: markText, name: Faint, runs: [][]Point{{{X: 10, Y: 5}}}, size: 2.3, anchor: Start, text: string(lacking) + " stands for a sign that can't be printed here; the program has it."}
			m.pdf(p)
		}
	}
	var b bytes.Buffer
	if err := p.Output(&b); err != nil {
		return nil, fmt.Errorf("write %s as PDF: %w", title, err)
	}
	return b.Bytes(), nil
}

// both reports whether a drawing needs the second type.
func (d *Drawing) both() bool {
	return slices.ContainsFunc(d.marks, func(m mark) bool {
		return m.kind == markText && slices.ContainsFunc(runs(m.text), func(r run) bool { return r.of == other })
	})
}

func (m mark) pdf(p *fpdf.Fpdf) {
	switch m.kind {
	case markLink, markEnd, markLayer, markLayerEnd:
		return
	case markText:
		m.pdfText(p)
		return
	case markPicture:
		m.pdfPicture(p)
		return
	}
	k := pens[m.name]
	p.SetLineWidth(k.width)
	p.SetDashPattern(k.dash, 0)
	p.SetDrawColor(0, 0, 0)
	if k.fill >= 0 {
		p.SetFillColor(k.fill, k.fill, k.fill)
	}
	if k.shade < 1 {
		p.SetAlpha(k.shade, "Normal")
		defer p.SetAlpha(1, "Normal")
	}
	style := "D"
	switch {
	case m.kind == markLine:
	case k.fill >= 0 && k.edge:
		style = "FD"
	case k.fill >= 0:
		style = "F"
	}
	if m.kind == markDot {
		c := m.runs[0][0]
		p.Circle(c.X, c.Y, m.r, style)
		return
	}
	for _, run := range m.runs {
		p.MoveTo(run[0].X, run[0].Y)
		for _, q := range run[1:] {
			p.LineTo(q.X, q.Y)
		}
		if m.kind == markArea {
			p.ClosePath()
		}
	}
	p.DrawPath(style)
}

func (m mark) pdfText(p *fpdf.Fpdf) {
	at := m.runs[0][0]
	strong := m.name == Strong
	w := Width(m.text, m.size, strong)
	x := at.X - shift(m.anchor)*w
	if m.name == Label {
		p.SetFillColor(255, 255, 255)
		p.Rect(x-0.4, at.Y-0.75*m.size, w+0.8, m.size, "F")
	}
	style := ""
	if strong {
		style = "B"
	}
	grey := 0
	if m.name == Faint {
		grey = 70
	}
	p.SetTextColor(grey, grey, grey)
	for _, r := range runs(m.text) {
		p.SetFont(families[r.of], style, m.size/mmPerPt)
		p.Text(x, at.Y, r.text)
		x += Width(r.text, m.size, strong)
	}
}
