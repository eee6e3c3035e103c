package web

import (
	"fmt"
	"regexp"
	"strings"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/figure"
	"dogshore/record"
)

// deckOpen is all that an arrangement leaves open of one sort.
type deckOpen struct {
	ID     string // place on the page
	Sort   deck.Sort
	Title  string
	Grave  bool
	Top    bool   // it is among the gravest, and stands unfolded
	Means  string // what it can come to
	Ask    string // what to do, or to ask
	Before string // the step before which something must be in under what it speaks of
	Items  []deckItem
	Short  string // the first, in a sentence
}

// deckItem is one finding, with all that it is true of.
type deckItem struct {
	Of      []Named
	Says    string
	Figures []figure.Figure
}

// openWords say what a sort of finding can come to and what it asks.
var openWords = map[deck.Sort]struct{ title, means, ask string }{
	deck.Dragged:  {"Over the side and in the water", "Whoever goes over there is dragged, still attached: class C.", "Bring the line inboard, end it farther forward, or shorten the leg."},
	deck.OverSide: {"Over the side, above the water", "Whoever goes over hangs outside the rail and has to be got back aboard: class B.", "Look whether a line farther inboard, or a shorter leg, keeps one aboard."},
	deck.Gap:      {"On no hook", "There one goes without being clipped on.", "Find one more thing to clip to, or begin the line where one comes on deck."},
	deck.Weak:     {"Over what is entered for it", "With the factor that such loads are given it may give way when somebody hangs on it.", "Ask the designer for a stronger line, eye or backing, or where else it may end."},
	deck.Unheld:   {"A preventer that does not hold", "The boom comes across all the same.", "Ask the designer or the sailmaker how else it can be led."},
	deck.Swept:    {"In what the boom sweeps", "Who clips on, works or sits there can be struck.", "Move it out of the hatched zone, or agree that nobody is there under sail."},
	deck.Crossed:  {"In the way", "It chafes or jams, and is left unused.", "Lead it clear."},
	deck.Snag:     {"Can catch", "A line that catches reaches less far; a hook that is pulled sideways over an edge can open.", "Look at it on the boat; cover or clear what is listed."},
	deck.RuleNot:  {"A rule not met", "An inspector for a race or the flag may refuse it.", "Ask which edition counts for her."},
	deck.Unknown:  {"Not known", "Nothing can be said of what it holds.", "Ask the yard what it is made of."},
}

// deckOpen groups the findings by their sort, gravest first.
func (v *view) deckOpen(x *deck.Arrangement) []deckOpen {
	var out []deckOpen
	var of []record.Ref
	for _, f := range x.Findings {
		words := openWords[f.Sort]
		if n := len(out); n == 0 || out[n-1].Sort != f.Sort {
			out = append(out, deckOpen{Sort: f.Sort, ID: "open-" + strings.Trim(notLetters.ReplaceAllString(string(f.Sort), "-"), "-"), Title: words.title, Grave: f.Sort.Grave(), Means: words.means, Ask: words.ask})
			of = nil
		}
		group := &out[len(out)-1]
		of = append(append(of, f.Of), f.Also...)
		group.Before = v.beforeOf(x, of)
		group.Items = append(group.Items, v.deckItem(f))
	}
	for i := range out {
		out[i].Short = out[i].short()
	}
	return out
}

// worstOf are the gravest few. Who can end in the water can hang above it as
// well: of the two the graver stands.
func worstOf(all []deckOpen) []deckOpen {
	var out []deckOpen
	water := false
	for i := range all {
		o := &all[i]
		water = water || o.Sort == deck.Dragged
		if len(out) < worstShown && !(water && o.Sort == deck.OverSide) {
			o.Top = true
			out = append(out, *o)
		}
	}
	return out
}

var notLetters = regexp.MustCompile(`[^a-z]+`)

// alike is how a text says that it is true of the other side as well; the page
// says so beside both names.
var alike = regexp.MustCompile(`^ \((and to|the) [^)]*\)`)

// deckItem says a finding without the name that stands before it.
func (v *view) deckItem(f deck.Finding) deckItem {
	item := deckItem{Says: f.Says, Figures: f.Figures}
	if f.Of == "" {
		return item
	}
	for _, of := range append([]record.Ref{f.Of}, f.Also...) {
		item.Of = append(item.Of, v.Ref(of))
	}
	if rest, ok := strings.CutPrefix(f.Says, item.Of[0].Name); ok {
		rest = alike.ReplaceAllString(rest, "")
		if _, after, more := strings.Cut(rest, ": "); more && strings.HasPrefix(rest, " and ") { // the others are named above
			rest = after
		}
		item.Says = desk.Capital(strings.TrimLeft(rest, ":, "))
	}
	return item
}

// short says the first item in a sentence, and how many more there are.
func (o deckOpen) short() string {
	item := o.Items[0]
	says, _, _ := strings.Cut(item.Says, "; ")
	says, _, _ = strings.Cut(says, ". ")
	if len(item.Of) == 0 {
		return desk.Sentence(says)
	}
	who := item.Of[0].Name
	if more := len(item.Of) - 1; more == 1 {
		who += " and its like"
	} else if more > 1 {
		who += fmt.Sprintf(" and %d like it", more)
	}
	text := who + ": " + desk.Sentence(lowerFirst(says))
	switch more := len(o.Items) - 1; {
	case more == 1:
		text += " One more."
	case more > 1:
		text += fmt.Sprintf(" %d more.", more)
	}
	return text
}

func lowerFirst(s string) string {
	if len(s) > 1 && s[1] >= 'a' && s[1] <= 'z' {
		return strings.ToLower(s[:1]) + s[1:]
	}
	return s
}
