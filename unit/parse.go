package unit

import (
	"fmt"
	"strings"
)

// Ambiguous is what a parser returns when a text can be read in more ways
// than one and a guess could be wrong by a factor: "1.200" is 1.2 or 1200.
type Ambiguous struct {
	Text     string
	Readings []string // each a text that would be read without doubt
}

func (a *Ambiguous) Error() string {
	return fmt.Sprintf("%q can be read as %s", a.Text, join(a.Readings))
}

// Absent is what a parser returns for a cell that says that nothing is known
// yet: "n/a", "tbc", "?", "-".
type Absent struct {
	Text string
	Due  bool // "tbc", "to be told": somebody still owes it
}

func (a *Absent) Error() string { return fmt.Sprintf("%q says that it is not known", a.Text) }

func join(s []string) string {
	out := ""
	for i, x := range s {
		switch {
		case i == 0:
		case i == len(s)-1:
			out += " or "
		default:
			out += ", "
		}
		out += x
	}
	return out
}

// Habit is what the sheet around a cell has settled already. The zero Habit
// settles nothing, and what then has two readings is asked about.
type Habit struct {
	Decimal  rune   // the decimal mark, ',' or '.'; 0 if the sheet does not show it
	Unit     string // the unit in the column's header, for cells without one
	Currency string // the currency of amounts without one
}

// longestNumber bounds the text of a number with its unit.
const longestNumber = 200

// unknown maps what people write for "not known" to whether somebody owes it.
var unknown = map[string]bool{
	"-": false, "--": false, "---": false, "n/a": false, "na": false, "n.a.": false, "not applicable": false,
	"?": false, "??": false, "???": false, "unknown": false, "not known": false, "none": false, "nil": false,
	"tbc": true, "tbd": true, "tba": true, "t.b.c.": true, "t.b.d.": true, "to be told": true,
	"to be confirmed": true, "to be decided": true, "to be advised": true, "to follow": true, "open": true,
}

// SaysNothing returns the *Absent that text amounts to, or nil if it says
// something.
func SaysNothing(text string) *Absent {
	if len(text) > 40 {
		return nil
	}
	word := strings.ToLower(strings.TrimSpace(dashes.Replace(text)))
	if due, ok := unknown[word]; ok {
		return &Absent{Text: text, Due: due}
	}
	return nil
}

var dashes = strings.NewReplacer("–", "-", "—", "-", "\u2212", "-")

// plain spells a number's text in few characters: one kind of space, minus,
// prime and fraction. What it returns is read the same as what it was given.
func plain(text string) string {
	text = strings.ReplaceAll(spelling.Replace(text), "''", `"`)
	return strings.Join(strings.Fields(text), " ")
}

var spelling = strings.NewReplacer(
	"\u00a0", " ", "\u2009", " ", "\u202f", " ", "\u2007", " ", "\u2002", " ", "\u2003", " ", "\ufeff", "",
	"\u2212", "-", "–", "-", "—", "-", "‑", "-", "‐", "-",
	"’", "'", "‘", "'", "′", "'", "“", `"`, "”", `"`, "″", `"`,
	"½", " 1/2", "¼", " 1/4", "¾", " 3/4", "⅛", " 1/8", "⅜", " 3/8", "⅝", " 5/8", "⅞", " 7/8", "⅓", " 1/3", "⅔", " 2/3",
	"⁄", "/", "µ", "u", "μ", "u", "…", "..",
)

// settle reads text by read. If a number in it has two readings that the
// habit does not settle, both are tried, and what can't be told apart is
// returned as *Ambiguous.
func settle[T any](text string, h Habit, read func(*scanner) (T, error), same func(a, b T) bool) (T, error) {
	s := scan(text, h)
	v, err := read(s)
	if !s.twoWays {
		return v, err
	}
	h.Decimal = '.'
	sa := scan(text, h)
	a, errA := read(sa)
	h.Decimal = ','
	sb := scan(text, h)
	b, errB := read(sb)
	switch {
	case errA != nil && errB != nil:
		return a, errA
	case errA != nil:
		return b, nil
	case errB != nil || same(a, b):
		return a, nil
	}
	var none T
	return none, &Ambiguous{Text: text, Readings: []string{sa.spelled(), sb.spelled()}}
}
