package intake

import (
	"errors"
	"fmt"
	"io"
	"net/mail"
	"path/filepath"
	"regexp"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// LongestMessage is how many bytes of a message are read, with what is
// attached to it.
const LongestMessage = 20 << 20

// longestNote is how many characters of text are kept of one message.
const longestNote = 90_000

// Message is a pasted message or mail.
type Message struct {
	From  string // name, address, or both
	Day   calendar.Day
	Title string
	Text  string
	Left  []string // what of it was not read: attachments
}

func isMessage(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".txt", ".eml":
		return true
	}
	return false
}

// message reads one message into a note, and offers the dates it states.
func (r *reader) message(f File) {
	at := Cell{File: f.Name}
	if f.Size > LongestMessage {
		r.out.refuse(at, "", "it has %d MB, and at most %d MB of a message are read", f.Size>>20, LongestMessage>>20)
		return
	}
	raw, err := io.ReadAll(io.NewSectionReader(f.Data, 0, f.Size))
	if err != nil {
		r.out.refuse(at, "", "%v", err)
		return
	}
	m, err := ParseMessage(f.Name, raw, r.opt.Today)
	if err != nil {
		r.out.refuse(at, "", "%v", err)
		return
	}
	for _, x := range m.Left {
		r.out.skip(at, x, "attached, and not kept: hand it in on the picture's page")
	}
	r.out.Sources = append(r.out.Sources, Source{At: at, As: "message", Rows: strings.Count(m.Text, "\n") + 1})
	day, ok := r.messageDay(at, m)
	if !ok {
		return
	}
	from := r.sender(at, m)
	text := strings.TrimSpace(m.Text)
	if m.Title != "" {
		text = m.Title + "\n\n" + text
	}
	self := record.R("note", record.Slug(day.String()+" "+firstWords(text, 6)))
	n := News{At: at, Self: self, Name: short(text), New: !r.rec.Has(self), Since: min(day, r.opt.Today), Grounds: record.Written, By: r.opt.Author}
	k := record.KindOf("note")
	add := func(field string, v record.Value) {
		cur, holds := r.rec.Held(self, field)
		if holds && k.Field(field).Same(cur.Value, v) {
			r.out.Same++
			return
		}
		f := Fact{At: at, Field: k.Field(field), Value: v}
		if holds {
			f.Was, f.Over = k.Field(field).Format(cur.Value), cur.Entry.ID
		}
		n.Facts = append(n.Facts, f)
	}
	add("text", record.Encode(text))
	if from != "" {
		add("from", record.Encode(from))
	}
	add("day", record.Encode(day))
	if len(n.Facts) > 0 {
		r.out.Reads = append(r.out.Reads, n)
	}
	r.statedDates(at, m, from, day)
}

func firstWords(s string, n int) string {
	w := strings.Fields(s)
	return strings.Join(w[:min(n, len(w))], " ")
}

// messageDay returns the message's day, or asks for it.
func (r *reader) messageDay(at Cell, m Message) (calendar.Day, bool) {
	if m.Day != 0 {
		return m.Day, true
	}
	id := at.String() + " day"
	if a, ok := r.answer(id); ok {
		if d, err := calendar.ParseDay(a, r.opt.Today); err == nil {
			return d, true
		}
	}
	r.ask(Ask{ID: id, At: at, Text: short(m.Text), Question: "on which day was this written?", Readings: []string{r.opt.Today.String()}, Free: true})
	return 0, false
}

// sender finds who wrote a message among the people, or asks. The note is
// kept all the same; nobody is made up.
func (r *reader) sender(at Cell, m Message) record.Ref {
	id := at.String() + " from"
	if a, ok := r.answer(id); ok {
		if found := r.names.Find(a, []string{"person"}, 0); len(found) == 1 {
			return found[0]
		}
	}
	var names []string
	if a, err := mail.ParseAddress(m.From); err == nil {
		if p := r.byAddress(a.Address); p != "" {
			return p
		}
		names = append(names, a.Name, strings.SplitN(a.Address, "@", 2)[0])
	} else {
		names = append(names, m.From)
	}
	var near []string
	for _, n := range names {
		if n == "" {
			continue
		}
		if found := r.names.Find(n, []string{"person"}, 0); len(found) == 1 {
			return found[0]
		}
		near = append(near, r.near(n, []string{"person"})...)
	}
	if m.From == "" {
		for _, p := range r.names.Of("person") {
			near = append(near, r.names.Say(p, []string{"person"}))
		}
	}
	r.ask(Ask{ID: id, At: at, Text: m.From, Question: "who wrote this? A row in People may be missing; without an answer it is kept without a sender", Readings: once(near), Free: true})
	return ""
}

// byAddress finds the one person whose contact holds an address.
func (r *reader) byAddress(address string) record.Ref {
	var found record.Ref
	for _, p := range journal.All[record.Person](r.rec) {
		if address != "" && strings.Contains(strings.ToLower(p.Contact), strings.ToLower(address)) {
			if found != "" {
				return ""
			}
			found = p.Self
		}
	}
	return found
}

func once(texts []string) []string {
	seen := map[string]bool{}
	var out []string
	for _, t := range texts {
		if !seen[t] {
			out = append(out, t)
		}
		seen[t] = true
	}
	return out
}

var headerLine = regexp.MustCompile(`(?i)^(from|sent|date|subject|to|cc):\s*(.*)$`)

// ParseMessage reads a mail (EML), or a pasted text, which may begin with lines
// From:, Date: and Subject:. A day that it does not state is 0.
func ParseMessage(name string, raw []byte, today calendar.Day) (Message, error) {
	text, err := decodeText(raw)
	if err != nil {
		return Message{}, err
	}
	var m Message
	if strings.EqualFold(filepath.Ext(name), ".eml") {
		if m, err = parseMail(raw); err != nil {
			return m, fmt.Errorf("this is no mail that can be read: %w", err)
		}
	} else {
		m = parsePasted(text, today)
	}
	m.Text = strings.TrimSpace(strings.ReplaceAll(m.Text, "\r\n", "\n"))
	switch {
	case m.Text == "":
		return m, errors.New("there is no text in it")
	case len(m.Text)+len(m.Title) > longestNote:
		return m, fmt.Errorf("its text has %d characters, and at most %d are kept as one note: split it", len(m.Text), longestNote)
	}
	return m, nil
}

// parsePasted takes header lines off the top of a pasted text.
func parsePasted(text string, today calendar.Day) Message {
	var m Message
	rest := text
	for {
		line, after, more := strings.Cut(rest, "\n")
		h := headerLine.FindStringSubmatch(strings.TrimSpace(line))
		if h == nil && strings.TrimSpace(line) != "" || !more {
			break
		}
		rest = after
		if h == nil {
			if m.From != "" || m.Day != 0 || m.Title != "" {
				break
			}
			continue
		}
		switch strings.ToLower(h[1]) {
		case "from":
			m.From = strings.TrimSpace(h[2])
		case "date", "sent":
			m.Day = dayOf(h[2], today)
		case "subject":
			m.Title = strings.TrimSpace(h[2])
		}
	}
	m.Text = rest
	return m
}

// dayOf reads a Date: line as mail programs and people write it.
func dayOf(text string, today calendar.Day) calendar.Day {
	text = strings.TrimSpace(text)
	if t, err := mail.ParseDate(text); err == nil {
		return calendar.Of(t)
	}
	words := strings.Fields(strings.NewReplacer(",", " ").Replace(text))
	for n := min(5, len(words)); n > 0; n-- { // the time of day stands behind
		d, err := calendar.ParseDay(strings.Join(words[:n], " "), today)
		var two *unit.Ambiguous
		if err == nil {
			return d
		}
		if errors.As(err, &two) {
			return 0
		}
	}
	return 0
}
