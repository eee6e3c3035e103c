package intake

import (
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/record"
	"dogshore/workbook"
)

// This file compares what rows say with what was exported and with what the
// record says by now. Only what differs becomes a fact.

// draft is a row's facts being gathered, by the day from which they hold.
type draft struct {
	read  News
	since map[calendar.Day][]Fact
	days  []calendar.Day
}

func (d *draft) add(since calendar.Day, f Fact) {
	if d.since[since] == nil {
		d.days = append(d.days, since)
	}
	d.since[since] = append(d.since[since], f)
}

// values reads the cells of a table's rows.
func (r *reader) values(t *table) {
	for _, l := range t.lines {
		r.line(l)
	}
	var computed []Cell
	for _, l := range t.lines {
		for _, c := range t.columns {
			if l.cells[c.n].Formula && l.cells[c.n].Text != "" {
				computed = append(computed, l.at(c.n))
			}
		}
	}
	if len(computed) > 0 {
		src := &r.out.Sources[t.source]
		src.Notes = append(src.Notes, fmt.Sprintf("%s read as last computed (%s the first)", many(len(computed), "formula"), computed[0]))
	}
	r.askMark(t)
}

func (r *reader) line(l *line) {
	how := r.how(l)
	d := &draft{since: map[calendar.Day][]Fact{}, read: News{At: l.at(0), Self: l.self, New: !r.rec.Has(l.self), Grounds: how.grounds, By: how.by}}
	for i := range l.t.kind.Fields {
		f := &l.t.kind.Fields[i]
		c, ok := l.field(f.Name)
		if !ok {
			if f.Need && d.read.New && !l.held {
				r.lacks(l.t, f)
				l.held = true
			}
			continue
		}
		if l.cells[c.n].Text == "" && l.cells[c.n].Form == 0 {
			r.blank(l, c, d, how)
			continue
		}
		v, ok := r.value(l, c, true)
		if !ok {
			l.held = l.held || f.Need && d.read.New
			continue
		}
		r.compare(l, c, v, d, how)
	}
	if l.held || len(d.days) == 0 {
		return
	}
	d.read.Name = r.names.Name(l.self)
	for _, day := range d.days {
		out := d.read
		out.Since, out.Facts = day, d.since[day]
		r.out.Reads = append(r.out.Reads, out)
	}
}

// needed asks for what a new subject can't be without.
func (r *reader) needed(l *line, f *record.Field, at Cell) {
	r.ask(Ask{ID: at.String(), At: at, Text: joinedLine(l), Free: true,
		Question: fmt.Sprintf("%s needs its %s: %s", one(l.t.kind.Title), f.Title, f.Says)})
}

// lacks refuses, once, the new rows of a table that has no column for what
// they need.
func (r *reader) lacks(t *table, f *record.Field) {
	at := t.at
	at.Row = t.header
	id := at.String() + " " + f.Name
	if !r.asked[id] {
		r.asked[id] = true
		r.out.refuse(at, "", "there is no column %q, and no new %s can be without it (%s); rows of those that the record knows are read", f.Title, t.kind.Title, f.Says)
	}
}

// one puts the article before a word.
func one(title string) string {
	if strings.ContainsRune("aeiou", rune(title[0])) {
		return "an " + title
	}
	return "a " + title
}

// blank looks at an empty cell: nothing, unless a value was exported there or
// a new subject needs one.
func (r *reader) blank(l *line, c column, d *draft, how how) {
	if c.field.Need && d.read.New && !l.held {
		r.needed(l, c.field, l.at(c.n))
		l.held = true
		return
	}
	base, ok := l.t.export.Field(l.self, c.field.Name)
	cur, holds := r.rec.Held(l.self, c.field.Name)
	if !ok || base.Text == "" || !holds {
		return
	}
	const leave, away = "leave it", "take it away"
	id := l.at(c.n).String() + " blank"
	switch a, _ := r.answer(id); a {
	case leave:
	case away:
		r.change(l, c, record.Clear, d, how)
	default:
		r.ask(Ask{ID: id, At: l.at(c.n), Readings: []string{leave, away},
			Question: fmt.Sprintf("the cell was emptied; the record says %q", short(c.field.Format(cur.Value)))})
	}
}

// compare decides whether a value is news.
func (r *reader) compare(l *line, c column, v record.Value, d *draft, how how) {
	f := c.field
	base, exported := l.t.export.Field(l.self, f.Name)
	cur, holds := r.rec.Held(l.self, f.Name)
	switch {
	case exported && (base.Text == l.text(c.n) || base.Value != "" && f.Same(base.Value, v)),
		holds && f.Same(cur.Value, v):
		r.out.Same++
	case exported && strings.HasSuffix(base.Text, workbook.CutOff):
		r.out.refuse(l.at(c.n), short(l.text(c.n)), "this text was too long for a cell, and only its beginning was changed here: change it on its own page")
	case !exported && !holds:
		r.fresh(l, c, v, d, how)
	case exported && holds && (base.Entry == cur.Entry.ID || base.Value != "" && f.Same(base.Value, cur.Value)):
		r.change(l, c, v, d, how)
	case !exported && (r.opt.Correct || how.since != 0 || r.opt.Since != 0):
		r.change(l, c, v, d, how)
	default:
		r.conflict(l, c, v, d, how)
	}
}

// fresh takes a value that the record does not have yet. That something is
// withdrawn is a change even so: it holds from a day on.
func (r *reader) fresh(l *line, c column, v record.Value, d *draft, how how) {
	if c.field.Name == "withdrawn" {
		r.change(l, c, v, d, how)
		return
	}
	d.add(how.from(l), Fact{At: l.at(c.n), Field: c.field, Value: v})
}

// conflict asks which of two values holds, where the record says something
// that the person who wrote the cell may not have seen.
func (r *reader) conflict(l *line, c column, v record.Value, d *draft, how how) {
	cur, holds := r.rec.Held(l.self, c.field.Name)
	sheet, now := c.field.Format(v), "nothing"
	if holds {
		now = c.field.Format(cur.Value)
	}
	question := fmt.Sprintf("the record says %q; which holds?", short(now))
	if base, ok := l.t.export.Field(l.self, c.field.Name); ok {
		question = fmt.Sprintf("it was %q when this was exported, and the record has moved to %q since; which holds?", short(base.Text), short(now))
	}
	id := l.at(c.n).String() + " change"
	switch a, ok := r.answer(id); {
	case ok && a == sheet:
		r.change(l, c, v, d, how)
	case ok && a == now:
	default:
		r.ask(Ask{ID: id, At: l.at(c.n), Text: l.text(c.n), Question: question, Readings: []string{sheet, now}})
	}
}

// change takes a value over one that the record has, from the day that was
// said; without one it waits.
func (r *reader) change(l *line, c column, v record.Value, d *draft, how how) {
	fact := Fact{At: l.at(c.n), Field: c.field, Value: v}
	cur, holds := r.rec.Held(l.self, c.field.Name)
	if holds {
		fact.Was, fact.Over = c.field.Format(cur.Value), cur.Entry.ID
	}
	switch {
	case how.since != 0:
		d.add(how.since, fact)
	case r.opt.Since != 0 && !l.t.kind.Adds:
		d.add(r.opt.Since, fact)
	case holds && (r.opt.Correct || l.t.kind.Adds):
		d.add(cur.Entry.Since, fact)
	case r.opt.Correct || l.t.kind.Adds:
		d.add(how.from(l), fact)
	default:
		r.waits++
	}
}

// missing asks about exported rows that are gone.
func (r *reader) missing(t *table) {
	if t.export == nil || t.part {
		return
	}
	there := map[record.Ref]bool{}
	for _, l := range t.lines {
		there[l.self] = true
	}
	var gone []record.Ref
	for _, self := range t.export.Refs() {
		if self.Kind() == t.kind.Name && !there[self] && r.rec.Has(self) {
			gone = append(gone, self)
		}
	}
	const each = 20 // more than these are one question
	if len(gone) > each {
		id := t.at.String() + " gone"
		if _, ok := r.answer(id); !ok {
			r.ask(Ask{ID: id, At: t.at, Readings: []string{leaveRows}, Question: fmt.Sprintf("%d rows are gone that were exported, %q the first; nothing is withdrawn by taking out a row", len(gone), r.names.Name(gone[0]))})
		}
		return
	}
	for _, self := range gone {
		r.gone(t, self)
	}
}

const (
	leaveRows    = "leave them"
	leaveRow     = "leave it"
	withdrawThis = "withdraw it"
)

func (r *reader) gone(t *table, self record.Ref) {
	id := t.at.String() + " gone " + string(self)
	ask := Ask{ID: id, At: t.at, Text: r.names.Name(self), Question: "this row was exported and is gone; nothing is withdrawn by taking out a row", Readings: []string{leaveRow}}
	f := t.kind.Field("withdrawn")
	if f != nil {
		ask.Readings = append(ask.Readings, withdrawThis)
	}
	a, ok := r.answer(id)
	switch {
	case ok && a == withdrawThis && f != nil:
		if r.opt.Since == 0 {
			r.waits++
			return
		}
		r.out.Reads = append(r.out.Reads, News{At: t.at, Self: self, Name: r.names.Name(self), Since: r.opt.Since, Grounds: record.Written, By: r.opt.Author,
			Facts: []Fact{{At: t.at, Field: f, Value: record.Encode(record.Yes)}}})
	case !ok || a != leaveRow:
		r.ask(ask)
	}
}
