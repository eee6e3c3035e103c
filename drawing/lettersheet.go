package drawing

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/internal/draw"
	"dogshore/record"
)

// LetterPaper is a letter as paper has it. Its labels are said in both
// languages already where the glossary has them.
type LetterPaper struct {
	Build      string
	Title      string   // its name in the title block: "Letter of 16 March 2027"
	Head       []string // to whom, after which visit, of which day
	Notice     string   // stands on every sheet of an invented build
	Opens      string
	Closes     string
	Points     []LetterPoint // for the page
	Annex      []LetterPoint // for the sheets behind it
	Parts      []record.Part // for the plan
	PointsHead string        // heading over the points
	AnnexHead  string        // heading of the sheets behind
	See        string        // "further points: see the annex"
	Forward    string        // what stands at the bow
	Visit      string        // in the title block
}

// LetterPoint is one numbered point.
type LetterPoint struct {
	Number int
	Text   string
	Under  []string // what kind, on what, before what, by when: labels with values
	Behind string   // that its pictures stand behind the page
	On     record.Outline
	Photos []LetterPhoto
}

// LetterPhoto is a picture of a point.
type LetterPhoto struct {
	JPEG       []byte
	Says       string
	Marked     bool    // somebody pointed at what it shows
	Left, Down float64 // where that is, in parts of the picture's width and height
}

// Sizes of the letter, in millimetres.
const (
	letterNumberW = 9.0
	letterPlanW   = 84.0
	letterFoot    = bottom - 8 // above the title block
	letterMost    = 3.5        // type, at most
	letterLeast   = 2.8        // and at least: 8 points
)

// Letter draws a letter: one page with its points, and sheets behind it with
// the points of the annex and the pictures. Where the points do not fit on the
// page in the smallest type, the last of them go to the annex, and the page
// says so. An error is a picture that can't be drawn.
func Letter(l LetterPaper) ([]*draw.Drawing, error) {
	points := slices.Clone(l.Points)
	annex := slices.Clone(l.Annex)
	first := newPage(l.Title, "Numbered points after a visit, for the yard.")
	first.letterHead(l)
	size := letterMost
	moved := false
	for {
		need := lettersHeight(points, size) + closing(l, moved, size)
		if first.y+need <= letterFoot || len(points) == 0 {
			break
		}
		if size > letterLeast+0.01 {
			size -= 0.1
			continue
		}
		annex = append([]LetterPoint{points[len(points)-1]}, annex...)
		points, moved = points[:len(points)-1], true
	}
	for _, x := range points {
		first.letterPoint(x, size)
	}
	if len(annex) > 0 && moved {
		first.para(draw.Strong, l.See, size)
	}
	first.y += 1
	first.para(draw.Plain, l.Closes, size)
	pages := []*page{first}
	more, err := l.behind(annex)
	if err != nil {
		return nil, err
	}
	pages = append(pages, more...)
	out := make([]*draw.Drawing, len(pages))
	for i, g := range pages {
		g.titleBlock([]string{l.Build, l.Title, l.Visit, fmt.Sprintf("Sheet %d of %d", i+1, len(pages))})
		out[i] = g.Drawing
	}
	return out, nil
}

// letterHead draws the head: what it is on the left, the plan on the right.
func (g *page) letterHead(l LetterPaper) {
	width := right - left
	top0 := g.y
	plan := Where(l.Parts, marks(l.Points), letterPlanW, l.Forward)
	if plan != nil {
		width -= letterPlanW + 4
		g.Put(plan, right-letterPlanW, top0, 1)
	}
	g.y += 5
	for _, line := range draw.Wrap(l.Build, 5.6, true, width) {
		g.write(draw.Strong, left, g.y, 5.6, width, line)
		g.y += 6.4
	}
	for i, h := range l.Head {
		name := draw.Plain
		if i == 0 {
			name = draw.Strong
		}
		for _, line := range draw.Wrap(h, 3.5, i == 0, width) {
			g.write(name, left, g.y, 3.5, width, line)
			g.y += 4.6
		}
	}
	for _, line := range draw.Wrap(l.Notice, 2.7, false, width) {
		g.write(draw.Faint, left, g.y, 2.7, width, line)
		g.y += 3.4
	}
	g.y += 1.5
	for _, line := range draw.Wrap(l.Opens, 3.3, false, width) {
		g.write(draw.Plain, left, g.y, 3.3, width, line)
		g.y += 4.3
	}
	if plan != nil {
		g.y = max(g.y, top0+plan.H+2)
	}
	g.Line(draw.Outline, p(left, g.y), p(right, g.y))
	g.y += 4.6
	g.write(draw.Strong, left, g.y, 3.5, right-left, l.PointsHead)
	g.y += 2.6
}

// marks are the numbered marks of points that lie somewhere.
func marks(points []LetterPoint) []Mark {
	var out []Mark
	for _, x := range points {
		out = append(out, Mark{x.Number, x.On})
	}
	return out
}

const letterW = right - left - letterNumberW

// lines breaks a point into lines of its text and of what stands under it.
func (x LetterPoint) lines(size float64) (text, under []string) {
	return draw.Wrap(x.Text, size, false, letterW), draw.Wrap(strings.Trim(strings.Join(append(slices.Clone(x.Under), x.Behind), " · "), " ·"), size*0.86, false, letterW)
}

func lineHeight(size float64) float64 { return size * 1.28 }

func lettersHeight(points []LetterPoint, size float64) float64 {
	h := 0.0
	for _, x := range points {
		h += x.height(size)
	}
	return h
}

func (x LetterPoint) height(size float64) float64 {
	text, under := x.lines(size)
	return float64(len(text))*lineHeight(size) + float64(len(under))*lineHeight(size*0.86) + size*0.75
}

// closing is the height of what stands below the points.
func closing(l LetterPaper, moved bool, size float64) float64 {
	n := len(draw.Wrap(l.Closes, size, false, right-left))
	if moved {
		n++
	}
	return 1 + float64(n)*lineHeight(size)
}

func (g *page) letterPoint(x LetterPoint, size float64) {
	text, under := x.lines(size)
	g.y += size * 0.4
	g.Text(draw.Strong, p(left+letterNumberW-2.4, g.y+size), size*1.15, draw.End, fmt.Sprintf("%d", x.Number))
	for _, line := range text {
		g.y += lineHeight(size)
		g.Text(draw.Plain, p(left+letterNumberW, g.y-size*0.28), size, draw.Start, line)
	}
	for _, line := range under {
		g.y += lineHeight(size * 0.86)
		g.Text(draw.Faint, p(left+letterNumberW, g.y-size*0.24), size*0.86, draw.Start, line)
	}
	g.y += size * 0.35
}

// para writes a paragraph over the whole width.
func (g *page) para(name, text string, size float64) {
	for _, line := range draw.Wrap(text, size, name == draw.Strong, right-left) {
		g.y += lineHeight(size)
		g.Text(name, p(left, g.y-size*0.28), size, draw.Start, line)
	}
}
