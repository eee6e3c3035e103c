package plan

import (
	"fmt"

	"dogshore/figure"
	"dogshore/record"
)

// standing counts where the build stands: how many steps were seen done, how
// many are done by inference or word only, and how many there are.
func (d *reading) standing() []figure.Figure {
	var seen, told, inferred, way int
	for i := range d.a.Steps {
		switch s := &d.a.Steps[i]; {
		case s.State == underWay:
			way++
		case s.State != done:
		case s.Grounds == record.Inferred:
			inferred++
		case s.Grounds == record.Told:
			told++
		default:
			seen++
		}
	}
	all := count("N", "steps in the programme", len(d.a.Steps))
	of := []figure.Figure{
		count("A", "seen done, in a picture or on paper too", seen),
		count("B", "done, because a later step was seen: nobody of yours saw them", inferred),
		count("C", "done by word only", told),
	}
	total := count("D", "steps done", seen+inferred+told)
	total.Rule, total.Of = "D = A + B + C", of
	total.Text = fmt.Sprintf("%d of %d", seen+inferred+told, len(d.a.Steps))
	return []figure.Figure{total, count("W", "steps under way", way), all}
}

func count(symbol, says string, n int) figure.Figure {
	return figure.Figure{Symbol: symbol, Says: says, Value: float64(n), Text: fmt.Sprint(n), Source: derived}
}
