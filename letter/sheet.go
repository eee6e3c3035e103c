package letter

import (
	"errors"
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/visit"
	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/journal"
	"dogshore/record"
)

// Pictures finds the picture of a photo as a JPEG at the size of a screen,
// without anything in it but the picture.
type Pictures func(record.File) ([]byte, error)

// Sheets draws the letter for paper: one page with at most ten points, and
// sheets behind it with the rest and with the pictures. Labels stand in both
// languages where the glossary has them; what somebody wrote stands as it was
// written. A picture that can't be had is named instead of shown.
func (l Letter) Sheets(r *journal.Record, pictures Pictures) ([]*draw.Drawing, error) {
	g := Words(r).OnPaper()
	build, _ := journal.Get[record.Build](r, record.R("build", "build"))
	both := func(label string) string { return g.Both(desk.Capital(label)) }
	paper := drawing.LetterPaper{
		Build: l.subject(build), Title: both("letter") + ", " + l.Day.String(), Notice: build.Notice,
		Opens: l.Opens, Closes: l.Closes, Parts: journal.All[record.Part](r),
		PointsHead: both("points"), AnnexHead: both("annex"), See: both("further points: see the annex") + ".",
		Forward: g.Both("forward"), Visit: both("visit") + ": none",
	}
	if l.To != "" {
		paper.Head = append(paper.Head, both("to")+": "+r.Name(l.To))
	}
	paper.Head = append(paper.Head, both("day")+": "+l.Day.Said())
	if v, ok := journal.Get[record.Visit](r, l.Visit); ok {
		paper.Visit = both("visit") + ": " + v.Day.String()
		paper.Head = append(paper.Head, both("visit")+": "+v.Day.Said())
	}
	paper.Points = l.onPaper(r, g, l.Lines, pictures)
	paper.Annex = l.onPaper(r, g, l.Annex, pictures)
	sheets, err := drawing.Letter(paper)
	if err != nil {
		return nil, fmt.Errorf("letter for paper: %w", err)
	}
	return sheets, nil
}

// PDF is Sheets as a document, and how many sheets it has.
func (l Letter) PDF(r *journal.Record, pictures Pictures) (data []byte, sheets int, err error) {
	all, err := l.Sheets(r, pictures)
	if err != nil {
		return nil, 0, err
	}
	build, _ := journal.Get[record.Build](r, record.R("build", "build"))
	data, err = draw.PDF(fmt.Sprintf("%s: points of %s", l.subject(build), l.Day.Said()), all...)
	return data, len(all), err
}

// Lacks returns the letters that the printed sheets can't carry; the plain text
// has them all.
func (l Letter) Lacks(r *journal.Record) (string, error) {
	sheets, err := l.Sheets(r, func(record.File) ([]byte, error) { return nil, errors.New("only the words count") })
	return draw.Lacks(sheets...), err
}

// FileName is what the letter's file is called.
func (l Letter) FileName() string { return "letter-" + l.Day.String() + ".pdf" }

func (l Letter) onPaper(r *journal.Record, g Glossary, lines []visit.LetterLine, pictures Pictures) []drawing.LetterPoint {
	both := func(label string) string { return g.Both(desk.Capital(label)) }
	var out []drawing.LetterPoint
	for _, pt := range points(r, lines) {
		x := drawing.LetterPoint{Number: pt.Number, Text: pt.Text, On: pt.plan}
		under := func(label, value string) {
			if value != "" {
				x.Under = append(x.Under, both(label)+": "+value)
			}
		}
		x.Under = append(x.Under, "["+both(pt.sort)+"]")
		under("on", named(r, g, pt.on))
		under("before", named(r, g, pt.before))
		under("drawing", strings.Join(pt.papers, ", "))
		under("answer by", isoAndSaid(pt.By))
		for _, ph := range pt.photos {
			data, err := pictures(ph.File)
			if err != nil {
				under("picture", ph.Name+" (on file, not printed)")
				continue
			}
			x.Photos = append(x.Photos, drawing.LetterPhoto{JPEG: data, Says: caption(r, g, ph.Photo), Marked: ph.Marked, Left: ph.Left, Down: ph.Down})
		}
		if n := len(x.Photos); n > 0 {
			x.Behind = fmt.Sprintf("%s: %s, %d", both("picture"), g.Both("annex"), n)
		}
		out = append(out, x)
	}
	return out
}

func named(r *journal.Record, g Glossary, ref record.Ref) string {
	if ref == "" {
		return ""
	}
	return g.Both(r.Name(ref))
}

// isoAndSaid prints a day so that it is read in any language, and as said.
func isoAndSaid(d calendar.Day) string {
	if !d.Known() {
		return ""
	}
	return d.String() + " (" + d.Said() + ")"
}

// caption names a picture neutrally: what is on it by the record, when it was
// taken, its file. What the owner noted beside it is the owner's.
func caption(r *journal.Record, g Glossary, ph record.Photo) string {
	var parts []string
	if ph.Part != "" {
		parts = append(parts, named(r, g, ph.Part))
	} else if ph.Place != "" {
		parts = append(parts, named(r, g, ph.Place))
	}
	day := ph.Day
	if v, ok := journal.Get[record.Visit](r, ph.Visit); ok && !day.Known() {
		day = v.Day
	}
	if day.Known() {
		parts = append(parts, day.Said())
	}
	return strings.Join(append(parts, ph.Name), ", ")
}

func (l Letter) subject(b record.Build) string {
	if b.HullNumber != "" {
		return b.Name + ", hull " + b.HullNumber
	}
	return b.Name
}
