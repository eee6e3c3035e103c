package intake

import (
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// how is how a row's facts are known, by whom, and from when they hold.
type how struct {
	grounds record.Grounds
	by      string
	since   calendar.Day // as the row itself says; 0 if it does not
	day     calendar.Day // the row's own day, or that of its visit; 0 if it has none
	today   calendar.Day
}

// from is the day from which a row's facts hold that are news.
func (h how) from(l *line) calendar.Day {
	if h.since != 0 {
		return h.since
	}
	return journal.Since(l.t.kind, h.day, h.today)
}

// how reads the columns beside the fields, and fills in what they leave out.
func (r *reader) how(l *line) how {
	h := how{by: r.opt.Author, today: r.opt.Today}
	if by := l.text(l.t.by); l.t.by != 0 && by != "" {
		h.by = by
	}
	if text := l.text(l.t.since); l.t.since != 0 && text != "" {
		d, err := calendar.ParseDay(text, l.today)
		if err != nil {
			r.out.refuse(l.at(l.t.since), text, "%v", err)
			l.held = true
		}
		h.since = d
	}
	visit := r.visitOf(l)
	h.day = visit.Day
	if own := r.day(l); own != 0 {
		h.day = own
	}
	h.grounds = journal.Grounds(l.t.kind, visit.By)
	if text := l.text(l.t.grounds); l.t.grounds != 0 && text != "" {
		g := record.Grounds(strings.ToLower(strings.TrimSpace(text)))
		if g.Rank() < 0 {
			r.out.refuse(l.at(l.t.grounds), text, "how something is known is one of %v", record.AllGrounds)
			l.held = true
			return h
		}
		h.grounds = g
	}
	return h
}

// day returns the row's own day.
func (r *reader) day(l *line) calendar.Day {
	if l.t.kind.Name == "visit" && r.planned(l) {
		return 0
	}
	return r.ownDay(l)
}

func (r *reader) planned(l *line) bool {
	c, ok := l.field("planned")
	if !ok {
		return false
	}
	v, ok := r.value(l, c, false)
	return ok && v == record.Encode(record.Yes)
}

// ownDay returns the row's own day, by which days without a year are read.
func (r *reader) ownDay(l *line) calendar.Day {
	for _, name := range journal.DayFields(l.t.kind) {
		c, ok := l.field(name)
		if !ok || l.text(c.n) == "" {
			continue
		}
		v, ok := r.value(l, c, false)
		if !ok {
			continue
		}
		if d, err := calendar.ParseISO(c.field.Plain(v)); err == nil {
			return d
		}
	}
	return 0
}

// visitOf returns the visit that a row belongs to, of the record or of the
// files being read.
func (r *reader) visitOf(l *line) record.Visit {
	if l.t.kind.Name == "visit" {
		return record.Visit{By: r.plain(l, "by")}
	}
	c, ok := l.field("visit")
	if !ok || l.text(c.n) == "" {
		return record.Visit{}
	}
	found := r.names.Find(l.text(c.n), []string{"visit"}, r.opt.Today)
	if len(found) != 1 {
		return record.Visit{}
	}
	v, _ := journal.Get[record.Visit](r.rec, found[0])
	for _, t := range r.tables {
		if t.kind.Name != "visit" {
			continue
		}
		if row := t.bySelf(found[0]); row != nil {
			if d := r.ownDay(row); d != 0 {
				v.Day = d
			}
			if by := r.plain(row, "by"); by != "" {
				v.By = by
			}
		}
	}
	return v
}

// plain returns a field of a row as text, "" if it has none.
func (r *reader) plain(l *line, field string) string {
	c, ok := l.field(field)
	if !ok || l.text(c.n) == "" {
		return ""
	}
	v, ok := r.value(l, c, false)
	if !ok {
		return ""
	}
	return c.field.Plain(v)
}

// bySelf finds the row about a subject.
func (t *table) bySelf(self record.Ref) *line {
	if t.index == nil {
		t.index = map[record.Ref]*line{}
		for _, l := range t.lines {
			t.index[l.self] = l
		}
	}
	return t.index[self]
}
