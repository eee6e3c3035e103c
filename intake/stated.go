package intake

import (
	"fmt"
	"regexp"
	"strings"

	"dogshore/calendar"
	"dogshore/record"
)

// This file finds the dates that a message states, and offers each as a
// statement: only as a question, for what a sentence means, only a person can
// tell.

// mostStated bounds how many dates of one message are offered.
const mostStated = 12

// event is a word that says what happens then.
var events = []struct {
	word *regexp.Regexp
	what string
}{
	{regexp.MustCompile(`(?i)\blaunch`), "launch"},
	{regexp.MustCompile(`(?i)\bhand(ed)?[ -]?over`), "hand-over"},
	{regexp.MustCompile(`(?i)\b(arriv|deliver|come in|due in)`), "arrives"},
	{regexp.MustCompile(`(?i)\border`), "is ordered"},
	{regexp.MustCompile(`(?i)\b(start|begin|commenc|go in|goes in)`), "starts"},
	{regexp.MustCompile(`(?i)\b(finish|done|ready|complet|end)`), "is done"},
}

var sentence = regexp.MustCompile(`[^\n]+?(?:[.!?](?:\s|$)|\n|$)`)

func (r *reader) statedDates(at Cell, m Message, from record.Ref, on calendar.Day) {
	found := 0
	for i, s := range sentence.FindAllString(m.Text, 400) {
		s = strings.TrimSpace(s)
		span, ok := dateIn(s, on)
		if !ok || strings.HasPrefix(s, ">") {
			continue
		}
		if found++; found > mostStated {
			r.out.skip(at, short(s), "more dates than %d in one message: write the rest by hand", mostStated)
			return
		}
		r.offer(fmt.Sprintf("%s date %d", at, i+1), at, s, span, from, on)
	}
}

// offer asks what a date in a sentence is the date of, and takes the answer as
// a statement.
func (r *reader) offer(id string, at Cell, said string, span calendar.Span, from record.Ref, on calendar.Day) {
	const nothing = "no statement"
	what := ""
	for _, e := range events {
		if e.word.MatchString(said) {
			what = e.what
			break
		}
	}
	about := r.mentioned(said)
	if boat := r.names.Of("build"); what == "launch" || what == "hand-over" {
		about = append(boat[:len(boat):len(boat)], about...)
	}
	kinds := []string{"step", "item", "point", "question", "build", "defect"}
	var readings []string
	refs := map[string]record.Ref{}
	for _, a := range about[:min(4, len(about))] {
		text := strings.TrimSpace(fmt.Sprintf("%s %s %s", r.names.Say(a, kinds), what, span))
		readings = append(readings, text)
		refs[text] = a
	}
	answer, ok := r.answer(id)
	self, known := refs[answer]
	if found := r.names.Find(answer, kinds, 0); !known && ok && len(found) == 1 {
		self, known = found[0], true
	}
	switch {
	case known:
		r.statement(at, record.Statement{About: self, What: what, When: span, By: from, On: on, Said: said})
	case !ok || answer != nothing:
		r.ask(Ask{ID: id, At: at, Text: said, Readings: append(readings, nothing), Free: true,
			Question: fmt.Sprintf("is %s said to be the date of something? Answer with the step, item or point", span)})
	}
}

func (r *reader) statement(at Cell, s record.Statement) {
	self := record.R("statement", record.Slug(s.About.Key()+" "+s.On.String()+" "+s.What+" "+s.When.String()))
	n := News{At: at, Self: self, Name: short(s.Said), New: true, Since: min(s.On, r.opt.Today), Grounds: record.Written, By: r.opt.Author}
	values := record.Values(s)
	k := record.KindOf("statement")
	for i := range k.Fields {
		f := &k.Fields[i]
		v, ok := values[f.Name]
		if !ok {
			continue
		}
		if cur, holds := r.rec.Held(self, f.Name); holds && f.Same(cur.Value, v) {
			r.out.Same++
			continue
		}
		n.Facts = append(n.Facts, Fact{At: at, Field: f, Value: v})
	}
	if len(n.Facts) > 0 {
		r.out.Reads = append(r.out.Reads, n)
	}
}

// mentioned returns the steps, items and points whose names stand in a
// sentence, the longest names first.
func (r *reader) mentioned(said string) []record.Ref {
	loose := record.Loose(said)
	var out []record.Ref
	for _, kind := range []string{"step", "item", "point"} {
		for _, self := range r.names.Of(kind) {
			name := record.Loose(r.names.Name(self))
			if len(name) < 4 || !strings.Contains(loose, name) {
				continue
			}
			at := len(out)
			for at > 0 && len(record.Loose(r.names.Name(out[at-1]))) < len(name) {
				at--
			}
			out = append(out[:at], append([]record.Ref{self}, out[at:]...)...)
		}
	}
	return out
}

var bareMonth = regexp.MustCompile(`^[A-Za-z]+\.?$`)

// dateIn finds the first date in a sentence: the longest run of up to five
// words that reads as one. A month's name alone is none, for "may" is a verb
// as well.
func dateIn(s string, on calendar.Day) (calendar.Span, bool) {
	words := strings.Fields(s)
	for i := range words {
		for n := min(5, len(words)-i); n > 0; n-- {
			text := strings.Trim(strings.Join(words[i:i+n], " "), ",;:!?()\"'")
			if span, err := calendar.ParseSpan(text, on); err == nil && dotted.MatchString(text) {
				return span, true // 12.4. has its dot
			}
			text = strings.Trim(text, ".")
			if bareMonth.MatchString(text) || !strings.ContainsAny(text, "0123456789") && n < 2 || isCount(text) {
				continue
			}
			if first := strings.ToLower(words[i]); first == "in" || first == "the" || first == "on" || first == "by" {
				break // the date begins behind it
			}
			if span, err := calendar.ParseSpan(text, on); err == nil {
				return span, true
			}
		}
	}
	return calendar.Span{}, false
}

var dotted = regexp.MustCompile(`^\d{1,2}\.\d{1,2}\.$`)

var count = regexp.MustCompile(`^\d{1,2}[./]\d{1,2}$`)

// isCount tells "3/4" or "2.5" from a date.
func isCount(text string) bool { return count.MatchString(text) }
