package web

import (
	"net/http"
	"net/url"
	"sort"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/record"
)

// programmeAsked is what the address of the programme asks for.
type programmeAsked struct {
	Part, Place record.Ref
	Trade       string
	From, To    calendar.Day
	Scale       string
}

// scales are how wide a day is drawn, in millimetres; nothing: all days fit
// the sheet.
var scales = []struct {
	name  string
	width float64
}{{"to fit", 0}, {"months", 0.7}, {"weeks", 2}, {"days", 6}}

// Bounds of what is drawn: the years that an address may name, and how wide a
// sheet may become.
const (
	longestRange = 366 * 6
	widestSheet  = 4000
)

func (v *view) programmeAsked(q url.Values) (programmeAsked, error) {
	a := programmeAsked{Part: record.Ref(q.Get("part")), Place: record.Ref(q.Get("place")), Trade: q.Get("trade"), Scale: q.Get("scale")}
	for name, day := range map[string]*calendar.Day{"from": &a.From, "to": &a.To} {
		d, err := calendar.ParseISO(q.Get(name))
		if err != nil {
			return a, problem{http.StatusBadRequest, desk.Capital(err.Error()), "Give days as 2027-04-12, or leave them out."}
		}
		*day = d
	}
	if a.From.Known() && a.To.Known() && a.To <= a.From {
		return a, problem{http.StatusBadRequest, "The programme ends on " + a.To.Said() + ", before it begins on " + a.From.Said() + ".", "Give the first day, then the last."}
	}
	for _, s := range scales {
		if s.name == a.Scale {
			return a, nil
		}
	}
	a.Scale = scales[0].name
	return a, nil
}

// fit chooses the days that were left open: from a few weeks ago to the last
// date that the steps have.
func (a *programmeAsked) fit(g *drawing.Programme) {
	low, high := g.Reach()
	if !a.From.Known() {
		a.From = g.Today - 35
		if high < a.From || a.To.Known() && a.To <= a.From {
			a.From = min(low, a.To-1)
		}
		if !low.Known() {
			a.From = g.Today - 35
		}
	}
	if !a.To.Known() {
		a.To = max(high+14, a.From+60)
	}
	a.To = min(a.To, a.From+longestRange)
}

// width is how wide the axis is drawn.
func (a *programmeAsked) width() float64 {
	for _, s := range scales {
		if s.name == a.Scale && s.width > 0 {
			return min(widestSheet, max(drawing.AxisWidth, s.width*float64(a.To-a.From+1)))
		}
	}
	return drawing.AxisWidth
}

// sift keeps the steps of a part and what lies in it, of a trade, and in a
// place or covering something there.
func (v *view) sift(a programmeAsked) []plan.Step {
	covered := map[record.Ref]bool{}
	if a.Place != "" {
		for _, c := range v.rev.Plan.Covers {
			if v.inside(c.What, a.Place) {
				covered[c.Step] = true
			}
		}
	}
	var out []plan.Step
	for _, st := range v.rev.Plan.Steps {
		if a.Part != "" && !v.inside(st.Part, a.Part) || a.Trade != "" && st.Trade != a.Trade {
			continue
		}
		if a.Place != "" && !covered[st.Self] && !v.inside(st.Part, a.Place) {
			continue
		}
		out = append(out, st)
	}
	return out
}

// inside reports whether a part or place is, or lies in, another.
func (v *view) inside(what, of record.Ref) bool {
	for n := 0; what != "" && n < 100; n++ {
		if what == of {
			return true
		}
		switch what.Kind() {
		case "part":
			p, _ := journal.Get[record.Part](v.rec, what)
			if of.Kind() == "place" && p.Place != "" && v.inside(p.Place, of) {
				return true
			}
			what = p.Within
		case "place":
			p, _ := journal.Get[record.Place](v.rec, what)
			what = p.Within
		default:
			return false
		}
	}
	return false
}

func (v *view) partChoices(chosen record.Ref) []Choice {
	var out []Choice
	seen := map[record.Ref]bool{"": true}
	for _, st := range v.rev.Plan.Steps {
		for at := st.Part; !seen[at]; {
			seen[at] = true
			out = append(out, Choice{Value: string(at), Text: v.rec.Name(at), Chosen: at == chosen})
			p, _ := journal.Get[record.Part](v.rec, at)
			at = p.Within
		}
	}
	return byText(out)
}

func (v *view) placeChoices(chosen record.Ref) []Choice {
	var out []Choice
	for _, p := range journal.All[record.Place](v.rec) {
		out = append(out, Choice{Value: string(p.Self), Text: v.rec.Name(p.Self), Chosen: p.Self == chosen})
	}
	return byText(out)
}

func (v *view) tradeChoices(chosen string) []Choice {
	var out []Choice
	seen := map[string]bool{"": true}
	for _, st := range v.rev.Plan.Steps {
		if !seen[st.Trade] {
			seen[st.Trade] = true
			out = append(out, Choice{Value: st.Trade, Text: st.Trade, Chosen: st.Trade == chosen})
		}
	}
	return byText(out)
}

func scaleChoices(chosen string) []Choice {
	var out []Choice
	for _, s := range scales {
		out = append(out, Choice{Value: s.name, Text: s.name, Chosen: s.name == chosen})
	}
	return out
}

func byText(all []Choice) []Choice {
	sort.SliceStable(all, func(i, k int) bool { return all[i].Text < all[k].Text })
	return all
}
