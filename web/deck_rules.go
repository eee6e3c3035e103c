package web

import (
	"fmt"

	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/jackstay"
)

// deckRules is the lines of rules and standards that stand alike to the figures
// entered.
type deckRules struct {
	Title  string
	Folded bool
	Rows   []ruleRow
}

// ruleRow is one line of a rule or standard.
type ruleRow struct{ Says, Where, Because string }

func deckRuled(x *deck.Arrangement) []deckRules {
	var out []deckRules
	for _, g := range []struct {
		kept   jackstay.Kept
		title  string
		folded bool
	}{
		{jackstay.NotMet, "Not met by the figures entered", false},
		{jackstay.KeptTwice, "Entered twice, differently", false},
		{jackstay.Met, "Met by the figures entered", true},
		{jackstay.KeptUnknown, "Not known: what it would need is not on record", true},
		{jackstay.NotHer, "Does not apply to her", true},
	} {
		group := deckRules{Title: g.title, Folded: g.folded}
		for _, r := range x.Rules {
			if r.Kept == g.kept {
				group.Rows = append(group.Rows, ruled(r))
			}
		}
		if len(group.Rows) > 0 {
			out = append(out, group)
		}
	}
	return out
}

func ruled(r jackstay.Answer) ruleRow {
	row := ruleRow{Says: desk.Capital(r.Says), Where: deck.Where(r) + ", edition " + r.Edition + "; " + r.Source.String()}
	switch {
	case r.Asks != "":
		row.Because = "It would need: " + string(r.Asks) + "."
	case r.Value != nil && r.Unit == "" && (*r.Value == 0 || *r.Value == 1):
		row.Because = map[bool]string{true: "Entered: yes.", false: "Entered: no."}[*r.Value == 1]
	case r.Value != nil && r.Unit == "m" && *r.Value < 1:
		row.Because = fmt.Sprintf("Entered: %.4g mm.", 1000**r.Value)
	case r.Value != nil:
		row.Because = "Entered: " + assumedText(*r.Value, r.Unit) + "."
	}
	return row
}
