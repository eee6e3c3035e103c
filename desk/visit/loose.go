package visit

import (
	"cmp"
	"regexp"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// loose finds the agreements and decisions that are not firm. One is firm
// once it is in writing (its own entry, or a confirmation) by somebody who may
// instruct, with every number in it; or once it was seen built.
func (t *table) loose() []Loose {
	confirmed := map[record.Ref][]record.Confirmation{}
	for _, c := range journal.All[record.Confirmation](t.r) {
		if t.grounds(c.Self, "") != record.Told { // "yes, yes" on the telephone confirms nothing
			confirmed[c.Of] = append(confirmed[c.Of], c)
		}
	}
	var out []Loose
	for _, a := range journal.All[record.Agreement](t.r) {
		if t.shown[a.Self] {
			continue
		}
		why := t.reasons(a.Self, a.With, a.Says, confirmed[a.Self])
		if why == "" {
			continue
		}
		step := t.stepOf(a.Before, a.About)
		out = append(out, Loose{About: a.Self, Says: a.Says, With: a.With, Why: why, Before: step, Ahead: t.ahead(step)})
	}
	for _, d := range journal.All[record.Decision](t.r) {
		pt := t.points[d.Point]
		if pt == nil || pt.Decision == nil || pt.Decision.Self != d.Self {
			continue // of a point that is gone, or overtaken by a later decision
		}
		why := t.reasons(d.Self, d.With, d.Says, confirmed[d.Self])
		if why == "" {
			continue
		}
		out = append(out, Loose{About: d.Self, Says: t.decided(d), With: d.With, Why: why, Before: t.pointStep(pt), Ahead: t.ahead(t.pointStep(pt))})
	}
	slices.SortStableFunc(out, func(a, b Loose) int {
		return cmp.Or(cmp.Compare(far(a.Ahead), far(b.Ahead)), cmp.Compare(a.About, b.About))
	})
	return out
}

func (t *table) pointStep(pt *plan.Point) record.Ref {
	if pt.Step != "" {
		return pt.Step
	}
	return pt.CoveredBy
}

// far orders what is not known behind all else.
func far(ahead int) int {
	if ahead < 0 {
		return 1 << 30
	}
	return ahead
}

// decided says in words what a decision settled.
func (t *table) decided(d record.Decision) string {
	says := d.Says
	if says == "" {
		says = t.name(d.Option)
	}
	if says == "" {
		return t.name(d.Point)
	}
	return desk.Sentence(t.name(d.Point)) + " " + says
}

// reasons says why something agreed with a person is not firm, or "".
func (t *table) reasons(self, with record.Ref, says string, confirmed []record.Confirmation) string {
	var why []string
	switch written := t.written(self); {
	case t.anyMay(confirmed):
	case len(confirmed) > 0:
		why = append(why, "confirmed, but by somebody who may not instruct")
	case !written && t.mayNot(with) != "":
		why = append(why, "only told", t.mayNot(with))
	case !written:
		why = append(why, "only told")
	case t.mayNot(with) != "":
		why = append(why, t.mayNot(with))
	}
	if toBeTold.MatchString(says) {
		why = append(why, "a number is still to be told")
	}
	return strings.Join(why, "; ")
}

// written reports whether something stands in writing.
func (t *table) written(self record.Ref) bool {
	g := t.grounds(self, "")
	return g == record.Written || g == record.Certified
}

// toBeTold finds what people write for a number that somebody still owes.
var toBeTold = regexp.MustCompile(`(?i)\bto be (told|confirmed|advised|agreed|decided)\b|\bt\.?b\.?[acd]\b`)

func (t *table) anyMay(confirmed []record.Confirmation) bool {
	for _, c := range confirmed {
		if t.mayNot(c.By) == "" {
			return true
		}
	}
	return false
}

// mayNot says why a person's yes does not change what is built; "" if it
// does, as far as the record goes. Of people whose role carries no such power
// somebody must have said that they have it.
func (t *table) mayNot(who record.Ref) string {
	if who == "" {
		return ""
	}
	x, ok := journal.Get[record.Person](t.r, who)
	if !ok {
		return ""
	}
	switch {
	case x.MayInstruct == record.Yes:
		return ""
	case x.MayInstruct == record.No:
		return "with " + x.Name + ", who may not instruct"
	}
	switch x.Role {
	case "yard hand", "supplier", "broker", "other":
		return "with " + x.Name + ", and nobody has said that they may instruct"
	}
	return ""
}
