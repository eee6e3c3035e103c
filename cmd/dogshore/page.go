package main

import (
	"fmt"
	"io"
	"os"
	"strings"
	"unicode/utf8"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/review"
)

// page prints a review on a terminal: text that wraps at its width, with bold
// heads and one colour when it is a terminal that one looks at, and with
// neither when it goes into a file or a pipe.
type page struct {
	w     io.Writer
	width int
	inked bool
	err   error

	cautions map[string]int // printed in full, at which act
}

func newPage(w io.Writer) *page {
	p := &page{w: w, width: columns(), cautions: map[string]int{}}
	if f, ok := w.(*os.File); ok && os.Getenv("NO_COLOR") == "" && os.Getenv("TERM") != "dumb" {
		if st, err := f.Stat(); err == nil {
			p.inked = st.Mode()&os.ModeCharDevice != 0
		}
	}
	return p
}

// Marks around text: bold, and red lead for what can't be undone if missed.
const (
	plainInk = ""
	bold     = "\x1b[1m"
	redLead  = "\x1b[38;5;202m"
	endInk   = "\x1b[0m"
)

// What the page lists at most: reasons of an act, changes of a sort, acts to
// rule on, doubts.
const (
	mostWhy   = 2
	mostSince = 16
	mostAsks  = 5
	mostDoubt = 8
)

func (p *page) review(v review.Review, all bool) {
	p.head(v)
	for _, f := range v.Facts {
		p.para(bold, "", "", desk.Capital(f.Name))
		p.para(plainInk, "  ", "  ", f.Says)
	}
	p.begin(v)
	n := p.acts(v, "For the next visit", v.First.AtVisit, 0)
	p.coming(v)
	n = p.acts(v, "At home, before it", v.First.AtHome, n)
	n = p.acts(v, "To the yard", v.First.ToYard, n)
	switch rest := v.Rest(); {
	case len(v.Acts) == 0:
		p.line("")
		p.para(plainInk, "", "", "Nothing on record asks for anything. That says only what the record knows.")
	case all:
		p.acts(v, "One step down", rest, n)
	case len(rest) > 0:
		p.line("")
		p.para(plainInk, "", "", more(v.First)+": --all prints them.")
	}
	p.asks(v)
	p.ruled(v)
	p.stands(v)
	p.since(v)
	p.doubts(v)
	p.line("")
	p.para(plainInk, "", "", "--act N unfolds an act down to what was typed, seen or measured.")
}

func (p *page) head(v review.Review) {
	name := v.Build.Name
	if name == "" {
		name = "A build without a name"
	}
	if v.Build.HullNumber != "" {
		name += ", hull " + v.Build.HullNumber
	}
	p.para(bold, "", "", name+": review as of "+v.Day.Said())
	level := "Level: order. What comes next and what it covers up; no dates are earned yet."
	switch v.Level {
	case desk.ByForecast:
		level = "Level: forecast. Chances are learned from what was seen; they assume the same crew and order, and are no promise of the yard's."
	case desk.ByDates:
		level = "Level: told dates. Dates are the yard's, the contract's, or reckoned from durations; each says which."
	}
	if v.Known != journal.Now {
		level += " With what was known then."
	}
	p.para(plainInk, "", "", level)
	if v.Build.Notice != "" {
		p.para(plainInk, "", "", v.Build.Notice)
	}
	p.line("")
}

func (p *page) begin(v review.Review) {
	if len(v.Begin) == 0 {
		return
	}
	p.line("")
	p.para(bold, "", "", "What to enter first")
	for _, b := range v.Begin {
		p.para(plainInk, "  - ", "    ", b)
	}
}

// acts prints a list of acts, numbered on from n, and returns the last number.
func (p *page) acts(v review.Review, title string, acts []desk.Act, n int) int {
	if len(acts) == 0 {
		return n
	}
	p.line("")
	p.para(bold, "", "", title)
	for _, a := range acts {
		n++
		p.act(v, n, a)
	}
	return n
}

func (p *page) act(v review.Review, n int, a desk.Act) {
	lead := "    "
	if n > 0 {
		lead = fmt.Sprintf("%3d ", n)
	}
	p.para(bold, lead, "    ", a.Say)
	ink := plainInk
	grave := a.Gravity == desk.Structure || a.Gravity == desk.Safety || a.Gravity == desk.Cutting
	if a.Ahead == 0 && a.Before != "" && !a.Gone && grave {
		ink = redLead
	}
	if when := v.Line(a); when != "" {
		p.para(ink, "    ", "    ", desk.Sentence(desk.Capital(when)))
	}
	for _, h := range a.How {
		p.para(plainInk, "    how: ", "         ", h)
	}
	why := telling(a)
	for _, w := range why[:min(len(why), mostWhy)] {
		p.para(plainInk, "    why: ", "         ", inWords(w))
	}
	if len(why) > mostWhy {
		p.para(plainInk, "    why: ", "         ", fmt.Sprintf("and %s; --act %d shows all", desk.Count(len(why)-mostWhy, "more reason"), n))
	}
	if a.Missed != "" {
		p.para(plainInk, "    if missed: ", "         ", a.Missed)
	}
	if a.Caution != "" {
		p.para(plainInk, "    caution: ", "         ", p.caution(a.Caution, n))
	}
}

// caution prints a caution in full where it first stands on the page, and
// points there after that.
func (p *page) caution(text string, n int) string {
	if at, ok := p.cautions[text]; ok {
		return fmt.Sprintf("as at %d.", at)
	}
	if n > 0 {
		p.cautions[text] = n
	}
	return text
}

// telling picks the reasons that the page has not given yet: not the date,
// which stands in its own line, nor that a step has not begun. --act shows all.
func telling(a desk.Act) []figure.Figure {
	var out []figure.Figure
	for _, f := range a.Why {
		said := f.Text != "" && strings.Contains(strings.ToLower(a.Say), strings.ToLower(f.Text))
		dated := a.By.Known() && f.Says == a.By.Work.Says && f.Text == a.By.Work.Text
		waits := strings.HasPrefix(f.Text, "not started") || f.Text == "not known" || f.Text == "none"
		if !said && !dated && !waits {
			out = append(out, f)
		}
	}
	return out
}

func inWords(f figure.Figure) string {
	if f.Text == "" {
		return f.Says
	}
	return f.Says + ": " + f.Text
}

// coming says when to come, whom to send, and what to ask for instead.
func (p *page) coming(v review.Review) {
	c := v.Visit.Next
	if c.Why == "" {
		return
	}
	p.line("")
	p.para(bold, "", "", "When to come")
	when := ""
	if c.Day.Known() {
		when = desk.Sentence(desk.Capital(c.Day.Line(v.Day))) + " "
	} else if c.Fixed.Known() {
		when = "Fixed for " + desk.Coarse(c.Fixed, v.Day) + ". "
	}
	p.para(plainInk, "  ", "  ", when+c.Why)
	if len(c.Pictures) == 0 {
		return
	}
	p.para(plainInk, "  ", "  ", "If you can't: "+c.Who+"; or ask the yard for these pictures, before that step:")
	for _, x := range c.Pictures {
		p.para(plainInk, "  - ", "    ", x)
	}
}

func (p *page) asks(v review.Review) {
	p.list("Passed over at the last two visits: do, drop, or waive with a name?", len(v.Asks), mostAsks, func(i int) string {
		return v.Asks[i].Act.Say + " (" + v.Asks[i].Act.ID + ")"
	})
}

// list prints the first of n lines under a title, and counts the rest.
func (p *page) list(title string, n, most int, line func(i int) string) {
	if n == 0 {
		return
	}
	p.line("")
	p.para(bold, "", "", title)
	for i := range min(n, most) {
		p.para(plainInk, "  - ", "    ", line(i))
	}
	if n > most {
		p.para(plainInk, "  - ", "    ", fmt.Sprintf("and %d more; --json lists all", n-most))
	}
}

func (p *page) ruled(v review.Review) {
	if len(v.Ruled) == 0 {
		return
	}
	p.line("")
	p.para(bold, "", "", "Dropped or waived")
	words := map[string]string{"drop": "dropped", "waive": "waived"}
	for _, x := range v.Ruled {
		says := x.Act.Say + " " + desk.Capital(words[x.Ruling.Says])
		if who := v.Names[x.Ruling.By]; who != "" {
			says += " by " + who
		}
		if x.Ruling.Until.Known() {
			says += ", until " + desk.Coarse(x.Ruling.Until, v.Day)
		}
		if x.Ruling.Why != "" {
			says += ": " + x.Ruling.Why
		}
		p.para(plainInk, "  - ", "    ", desk.Sentence(says))
	}
}

func (p *page) since(v review.Review) {
	c := v.Since
	if c.Visit.Self == "" {
		return
	}
	p.line("")
	p.para(bold, "", "", "Since the visit of "+desk.Coarse(c.Visit.Day, v.Day))
	p.moved(c.Launch)
	if len(c.Happened)+len(c.Learned) == 0 {
		p.para(plainInk, "  ", "  ", "Nothing new is on record.")
		return
	}
	p.differences(v, "Happened since:", c.Happened)
	p.differences(v, "Learned since, of the time before:", c.Learned)
}

func (p *page) differences(v review.Review, title string, all []review.Difference) {
	if len(all) == 0 {
		return
	}
	p.para(plainInk, "  ", "  ", title)
	// The latest matter most; what is cut is the older end.
	cut := max(0, len(all)-mostSince)
	if cut > 0 {
		p.para(plainInk, "  - ", "    ", fmt.Sprintf("%s earlier; --json lists all", desk.Count(cut, "change")))
	}
	for _, d := range all[cut:] {
		says := desk.Sentence(desk.Capital(d.Says))
		if d.Day.Known() {
			says = desk.Coarse(d.Day, v.Day) + ": " + says
		}
		p.para(plainInk, "  - ", "    ", says)
	}
}

func (p *page) doubts(v review.Review) {
	p.list("What the record can't make sense of", len(v.Doubts), mostDoubt, func(i int) string {
		return desk.Sentence(desk.Capital(v.Doubts[i].Says))
	})
}

// more says what stands one step down.
func more(f review.FirstPage) string {
	var parts []string
	if f.More > 0 {
		parts = append(parts, desk.Count(f.More, "more act"))
	}
	if f.Later > 0 {
		parts = append(parts, fmt.Sprintf("%d for later steps", f.Later))
	}
	return strings.Join(parts, " and ")
}

// para prints a text that wraps at the page's width; lead stands before its
// first line, rest before the others.
func (p *page) para(ink, lead, rest, text string) {
	for _, given := range strings.Split(text, "\n") {
		line, room := lead, p.width
		fresh := true
		for _, word := range strings.Fields(given) {
			if !fresh && utf8.RuneCountInString(line)+1+utf8.RuneCountInString(word) > room {
				p.inkedLine(ink, line)
				line, fresh = rest, true
			}
			if !fresh {
				line += " "
			}
			line += word
			fresh = false
		}
		if !fresh {
			p.inkedLine(ink, line)
		}
		lead = rest
	}
}

func (p *page) inkedLine(ink, line string) {
	if p.inked && ink != plainInk {
		line = ink + line + endInk
	}
	p.line(line)
}

func (p *page) line(s string) {
	if p.err == nil {
		_, p.err = fmt.Fprintln(p.w, s)
	}
}
