package desk

import (
	"encoding/json"
	"fmt"
	"strconv"

	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/source"
	"dogshore/unit"
)

// From returns who wrote the value that holds for one field, when and how
// they knew: the end of a working. Nil if nobody has said it.
func From(r *journal.Record, self record.Ref, field string) *figure.Entered {
	h, ok := r.Held(self, field)
	if !ok || h.Entry == nil {
		return nil
	}
	return entered(h, AsWritten(self, field, h.Value))
}

func entered(h journal.Held, as string) *figure.Entered {
	return &figure.Entered{
		As: as, Who: h.Entry.Author, Day: sinceText(h.Entry.Since),
		Grounds: string(h.Entry.Grounds), Origin: h.Entry.Origin, ID: h.Entry.ID,
	}
}

// sinceText leaves out the day from which structure holds that always held.
func sinceText(d calendar.Day) string {
	if d == journal.Always {
		return ""
	}
	return d.String()
}

// AsWritten prints a value in the words it was written in, where it kept
// them.
func AsWritten(self record.Ref, field string, v record.Value) string {
	switch {
	case len(v) > 0 && v[0] == '"':
		var text string
		if json.Unmarshal([]byte(v), &text) == nil {
			return text
		}
	case len(v) > 0 && v[0] == '{':
		var kept struct {
			As string `json:"as"`
		}
		if json.Unmarshal([]byte(v), &kept) == nil && kept.As != "" {
			return kept.As
		}
	}
	k := record.KindOf(self.Kind())
	if k == nil || k.Field(field) == nil {
		return string(v)
	}
	return k.Field(field).Format(v)
}

// Typed returns the figure of one field as it was written: the end of a
// working. says is what it is, in words.
func Typed(r *journal.Record, self record.Ref, field, says string) figure.Figure {
	f := figure.Figure{Says: says, Text: "not said", Source: source.Source{How: source.Entered}}
	h, ok := r.Held(self, field)
	if !ok || h.Entry == nil {
		return f
	}
	f.Text = AsWritten(self, field, h.Value)
	f.Entry = entered(h, f.Text)
	k := record.KindOf(self.Kind())
	switch d := k.Field(field); d.Type {
	case record.DayType:
		day, _ := calendar.ParseISO(f.Text)
		f.Value, f.Unit, f.Text = float64(day), "day", day.Said()
	case record.RefType:
		f.Text = r.Name(record.Ref(f.Text))
	case record.SpanType:
		var s calendar.Span
		_ = json.Unmarshal([]byte(h.Value), &s)
		f.Value, f.Unit, f.Text = float64(s.First), "day", s.Said()
		f.Entry.As = f.Text // "2027-04-20" is how a form writes what was said
	case record.QuantityType:
		var q unit.Quantity
		_ = json.Unmarshal([]byte(h.Value), &q)
		f.Value, f.Unit = inPeoplesUnit(q)
		if q.As == "" && f.Unit != "" {
			f.Text = fmt.Sprintf("%s %s", strconv.FormatFloat(f.Value, 'g', 6, 64), f.Unit)
		}
	}
	return f
}

// inPeoplesUnit gives working time in working days and elapsed time in days;
// everything else stays as it is held.
func inPeoplesUnit(q unit.Quantity) (float64, string) {
	switch q.Dim {
	case unit.Work:
		return q.SI, "working days"
	case unit.Time:
		return q.SI / 86400, "days"
	}
	return q.SI, ""
}
