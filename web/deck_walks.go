package web

import (
	"fmt"

	"dogshore/desk/deck"
	"dogshore/record"
)

// deckWalks is what is said of going about the deck.
type deckWalks struct {
	Tasks   []deckPick // each way, stretch by stretch
	Islands []string   // what one can change between without unclipping
	Gaps    []string   // neighbours that a person can't bridge
	Bare    string     // how much of the deck no ring reaches
}

func (v *view) deckWalks(x *deck.Arrangement) deckWalks {
	var w deckWalks
	for _, t := range x.Tasks {
		w.Tasks = append(w.Tasks, deckPick{Of: v.Ref(t.Self), State: taskState(t), Grave: !t.Walked.Clipped, Facts: v.taskFacts(t)})
	}
	if len(x.Result.Islands) > 1 {
		for _, of := range x.Result.Islands {
			var names []string
			for _, id := range of {
				names = append(names, v.nameOr(id))
			}
			w.Islands = append(w.Islands, fewOf(names, len(names)))
		}
	}
	for _, t := range x.Result.Transfers {
		if !t.Can {
			w.Gaps = append(w.Gaps, fmt.Sprintf("%s and %s lie %s apart; %s can be bridged, kneeling, on two legs.", v.nameOr(t.From), v.nameOr(t.To), metres(t.Apart), metres(t.Bridge)))
		}
	}
	if r := x.Result; r.Deck > 0 {
		w.Bare = fmt.Sprintf("%.0f of %.0f m² of deck are reached by no harness ring, lying down, on the longest leg, with nobody pulling.", r.Bare, r.Deck)
	}
	return w
}

// any reports whether there is anything to say.
func (w deckWalks) Any() bool { return len(w.Tasks)+len(w.Islands)+len(w.Gaps) > 0 || w.Bare != "" }

// One reports whether all that there is to clip to hangs together.
func (w deckWalks) One() bool { return len(w.Islands) == 0 && len(w.Gaps) == 0 }

// stepNamed is a step with how far it is, for a table.
func (v *view) stepNamed(ref record.Ref) string {
	for _, s := range v.rev.Plan.Steps {
		if s.Self == ref {
			return v.event(s.Self, s.Ahead, s.Begun.Known())
		}
	}
	return v.event(ref, -1, false)
}
