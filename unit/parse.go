package unit

import "fmt"

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
