package deck

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"

	"dogshore/record"
	"dogshore/rope"
)

// grave orders the sorts of findings.
var grave = []Sort{Dragged, Gap, OverSide, Weak, Unheld, Swept, Crossed, Snag, RuleNot, Unknown}

// Grave reports whether what a finding of this sort leaves can cost a life.
func (s Sort) Grave() bool { return slices.Index(grave, s) < slices.Index(grave, Snag) }

// find says what the figures of an arrangement come to.
func (d *reading) find(a *Arrangement) {
	for _, l := range a.Result.Lines {
		d.findSides(a, record.Ref(l.ID), l.Sides)
		d.findCatches(a, l)
		d.findStrength(a, l)
	}
	for _, p := range a.Result.Points {
		d.findSides(a, record.Ref(p.ID), p.Sides)
	}
	d.findRopes(a)
	d.findTethers(a)
	d.findCrossed(a)
	d.findTasks(a)
	d.findSwept(a)
	d.findLeads(a)
	d.findAnchors(a)
	d.findRules(a)
	a.Findings = mirrored(a.Findings, d.name)
	slices.SortStableFunc(a.Findings, func(x, y Finding) int {
		return cmp.Compare(slices.Index(grave, x.Sort), slices.Index(grave, y.Sort))
	})
	for _, f := range a.Findings {
		a.caution(f.Caution)
	}
	if len(a.Result.Assumed) > 0 {
		a.caution(rope.CautionAssumed.Text())
	}
}

func (a *Arrangement) add(f Finding) { a.Findings = append(a.Findings, f) }

// caution keeps a caution once.
func (a *Arrangement) caution(text string) {
	if text != "" && !slices.Contains(a.Cautions, text) {
		a.Cautions = append(a.Cautions, text)
	}
}

var sideWords = regexp.MustCompile(`\b(Port|port|Starboard|starboard)\b`)

// otherSide is a text with port and starboard exchanged.
func otherSide(text string) string {
	return sideWords.ReplaceAllStringFunc(text, func(w string) string {
		switch w {
		case "Port":
			return "Starboard"
		case "port":
			return "starboard"
		case "Starboard":
			return "Port"
		}
		return "port"
	})
}

// mirrored makes one finding of two that are each other's image in the
// middle of the boat, and keeps the figures of one.
func mirrored(all []Finding, name func(record.Ref) string) []Finding {
	var out []Finding
	gone := map[int]bool{}
	for i, f := range all {
		if gone[i] {
			continue
		}
		for k := i + 1; k < len(all) && f.Of != ""; k++ {
			g := all[k]
			if gone[k] || g.Sort != f.Sort || g.Of == f.Of || g.Says == f.Says || otherSide(f.Says) != g.Says {
				continue
			}
			gone[k] = true
			if strings.EqualFold(sideWords.FindString(name(f.Of)), "starboard") {
				f, g = g, f // told is the port one
			}
			f.Also = append(append(slices.Clone(f.Also), g.Of), g.Also...)
			f.Says = alike(f.Says, name(f.Of))
			break
		}
		out = append(out, f)
	}
	return out
}

// alike says that what is said of one side is true of the other.
func alike(says, name string) string {
	side := strings.ToLower(sideWords.FindString(otherSide(name)))
	if rest, ok := strings.CutPrefix(says, name); ok && side != "" {
		return name + " (the " + side + " one alike)" + rest
	}
	return "On both sides alike: " + says
}

func metres(v float64) string {
	return strings.TrimRight(strings.TrimRight(fmt.Sprintf("%.2f", v), "0"), ".") + " m"
}

func (d *reading) name(of record.Ref) string {
	if of == "" {
		return ""
	}
	return d.r.Name(of)
}

// list joins names, the first few of many.
func list(names []string) string {
	const most = 4
	more := ""
	if len(names) > most {
		more, names = fmt.Sprintf(" and %d more", len(names)-most), names[:most]
	} else if len(names) > 1 {
		more, names = " and "+names[len(names)-1], names[:len(names)-1]
	}
	return strings.Join(names, ", ") + more
}

// lowered begins a name small inside a sentence, unless it is a proper one.
func lowered(s string) string {
	if len(s) > 1 && s[0] >= 'A' && s[0] <= 'Z' && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
