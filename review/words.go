package review

import (
	"encoding/json"
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// appeared says in words that a subject is new.
func appeared(r *journal.Record, k *record.Kind, self record.Ref) string {
	if say, ok := observed[k.Name]; ok {
		return say(r, self)
	}
	return fmt.Sprintf("new %s: %s", k.Title, r.Name(self))
}

// observed says of each kind of observation what it brought.
var observed = map[string]func(*journal.Record, record.Ref) string{
	"visit":           visited,
	"sighting":        seen,
	"measurement":     measured,
	"evidence":        evidenced,
	"agreement":       agreed,
	"decision":        decided,
	"confirmation":    confirmed,
	"question":        questioned,
	"answer":          answered,
	"statement":       stated,
	"defect":          found,
	"remedy":          remedied,
	"release":         released,
	"order":           ordered,
	"arrival":         arrived,
	"sister_sighting": onSister,
}

// called is how a change speaks of a subject: a visit is not its date.
func called(r *journal.Record, self record.Ref) string {
	if self.Kind() == "visit" {
		return visited(r, self)
	}
	return r.Name(self)
}

func visited(r *journal.Record, self record.Ref) string {
	v, _ := journal.Get[record.Visit](r, self)
	switch {
	case v.Planned == record.Yes:
		return "a visit is planned for " + v.Day.Said()
	case v.By == "call":
		return "call on " + v.Day.Said()
	case v.By == "pictures":
		return "pictures of " + v.Day.Said()
	}
	return "visit on " + v.Day.Said()
}

func seen(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Sighting](r, self)
	how := "seen"
	v, _ := journal.Get[record.Visit](r, x.Visit)
	switch g := r.From(self).Grounds; {
	case g == record.Told || v.By == "call":
		how = "said to be"
	case g == record.Written:
		how = "written to be"
	case g == record.Shown || v.By == "pictures":
		how = "in a picture"
	}
	return fmt.Sprintf("%s: %s %s", r.Name(x.Step), how, x.State)
}

func measured(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Measurement](r, self)
	say := "measured: " + x.What + " " + field(r, self, "got")
	if x.Should.Known {
		say += ", should be " + field(r, self, "should")
	}
	return say
}

func evidenced(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Evidence](r, self)
	what := x.What
	if what == "" {
		what = "a picture"
	}
	return fmt.Sprintf("on file: %s of %s", what, quoted(r.Name(x.Shows)))
}

func agreed(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Agreement](r, self)
	return "agreed" + with(r, x.With) + ": " + x.Says
}

func decided(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Decision](r, self)
	what := x.Says
	if what == "" && x.Option != "" {
		what = r.Name(x.Option)
	}
	return strings.TrimSuffix(fmt.Sprintf("decided%s: %s %s", with(r, x.With), r.Name(x.Point), what), " ")
}

func confirmed(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Confirmation](r, self)
	what := r.Name(x.Of)
	if d, ok := journal.Get[record.Decision](r, x.Of); ok {
		what = r.Name(d.Point)
	}
	return "confirmed" + by(r, x.By) + ": " + what
}

func questioned(r *journal.Record, self record.Ref) string {
	return "question: " + r.Name(self)
}

func answered(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Answer](r, self)
	to := r.Name(x.To)
	if l, ok := journal.Get[record.Line](r, x.To); ok {
		to = fmt.Sprintf("line %d", int(l.Number.SI))
	}
	return fmt.Sprintf("answered%s to %s: %s", by(r, x.By), to, x.Text)
}

func stated(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Statement](r, self)
	who := "said of " + r.Name(x.About)
	if x.By != "" {
		who = r.Name(x.By) + " " + who
	}
	switch {
	case x.When.Known():
		return fmt.Sprintf("%s: %s %s", who, x.What, field(r, self, "when"))
	case x.Left.Known:
		return fmt.Sprintf("%s: %s left", who, field(r, self, "left"))
	}
	return who + ": " + x.Said
}

func found(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Defect](r, self)
	if x.Part != "" {
		return fmt.Sprintf("found on %s: %s", r.Name(x.Part), x.What)
	}
	return "found: " + x.What
}

func remedied(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Remedy](r, self)
	how := "found"
	if g := r.From(self).Grounds; g == record.Told || g == record.Written {
		how = "said to be"
	}
	return fmt.Sprintf("%s: %s %s", r.Name(x.Defect), how, x.State)
}

func released(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Release](r, self)
	return "released" + by(r, x.By) + ": " + r.Name(x.Step)
}

func ordered(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Order](r, self)
	return "ordered" + by(r, x.By) + ": " + r.Name(x.Item)
}

func arrived(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.Arrival](r, self)
	if x.Whole == record.No {
		return "arrived in part: " + r.Name(x.Item)
	}
	return "arrived: " + r.Name(x.Item)
}

func onSister(r *journal.Record, self record.Ref) string {
	x, _ := journal.Get[record.SisterSighting](r, self)
	say := "on " + r.Name(x.Sister)
	if x.Step != "" {
		say += ", " + r.Name(x.Step)
	}
	if x.State != "" {
		say += ": " + x.State
	}
	if x.Lesson != "" {
		say += "; " + x.Lesson
	}
	return say
}

func by(r *journal.Record, who record.Ref) string {
	if who == "" {
		return ""
	}
	return " by " + r.Name(who)
}

func with(r *journal.Record, who record.Ref) string {
	if who == "" {
		return ""
	}
	return " with " + r.Name(who)
}

// field prints a field as it was written.
func field(r *journal.Record, self record.Ref, name string) string {
	h, ok := r.Held(self, name)
	if !ok {
		return ""
	}
	return shown(r, record.KindOf(self.Kind()).Field(name), h.Value)
}

// shown prints a value as a person reads it: a reference by its name, a text
// in quotes, the rest as it was written.
func shown(r *journal.Record, f *record.Field, v record.Value) string {
	var kept struct {
		As string `json:"as"`
	}
	_ = json.Unmarshal([]byte(v), &kept)
	iso := f.Type == record.SpanType && strings.HasPrefix(kept.As, "20") // how forms and sheets write it, not people
	if kept.As != "" && !iso {
		return kept.As
	}
	switch f.Type {
	case record.RefType:
		var ref record.Ref
		_ = json.Unmarshal([]byte(v), &ref)
		return r.Name(ref)
	case record.DayType:
		var d calendar.Day
		_ = json.Unmarshal([]byte(v), &d)
		return d.Said()
	case record.SpanType:
		var s calendar.Span
		_ = json.Unmarshal([]byte(v), &s)
		return s.Said()
	case record.TextType:
		var s string
		_ = json.Unmarshal([]byte(v), &s)
		return quoted(s)
	}
	return f.Format(v)
}

func quoted(s string) string { return "\u201c" + s + "\u201d" }

func lower(s string) string { return strings.ToLower(s[:1]) + s[1:] }
