package review

import (
	"dogshore/desk"
	"dogshore/desk/deck"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// Standing returns the names of the acts on the first page of a record's
// review that could be met at once: looks and releases whose step is next,
// and whatever is done without waiting for the boat. The answer depends on the
// record alone, so a caller who keeps it by day and arrival need not ask
// twice.
func Standing(r *journal.Record, keep *deck.Memo) map[string]bool {
	var v Review
	v.run(r, plan.ReadDates(r), keep) // chances move no act to another page
	out := map[string]bool{}
	for _, a := range firstPage(v.Acts, r.Day).All() {
		waits := a.Where == desk.AtVisit && a.Before != "" && a.Ahead > 0
		if !waits {
			out[a.ID] = true
		}
	}
	return out
}

// asks finds the acts that stood on the first page going into the last two
// visits, and stand there still: nobody met them, and nobody said that they
// need not be met. What was promised to be done (a ruling "do") since then is
// given its time.
func (v *Review) asks(now *journal.Record, past Past) {
	if past.Going == nil || past.Two[0].Self == "" {
		return
	}
	stood := past.Stood
	if stood == nil {
		stood = Standing(past.Going, past.Deck)
		v.Runs++
	}
	rulings := desk.Rulings(now)
	for _, a := range v.First.All() {
		if !stood[a.ID] {
			continue
		}
		if x, ok := rulings[a.ID]; ok && x.Says == "do" && x.Day >= past.Two[0].Day {
			continue
		}
		v.Asks = append(v.Asks, Asking{Act: a, Visits: []record.Ref{past.Two[0].Self, past.Two[1].Self}})
	}
}
