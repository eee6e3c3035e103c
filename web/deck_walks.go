package web

import (
	"dogshore/desk/deck"
	"dogshore/figure"
	"dogshore/record"
)

// deckWalks is what is said of going about the deck.
type deckWalks struct {
	Tasks   []deckWalk
	Facts   []deck.Said // how she lies, what hangs together, what no ring reaches
	Remarks []deck.Said
}

// deckWalk is a task's way, stretch by stretch.
type deckWalk struct {
	deckPick
	Figures []figure.Figure
}

func (v *view) deckWalks(x *deck.Arrangement) deckWalks {
	w := deckWalks{Facts: saidOf(x.Facts, ""), Remarks: saidOf(x.Remarks, "")}
	for _, t := range x.Tasks {
		pick := deckPick{Of: v.Ref(t.Self), State: taskState(t), Grave: !t.Walked.Clipped, Facts: v.taskFacts(t)}
		w.Tasks = append(w.Tasks, deckWalk{pick, x.Of(t.Self)})
	}
	return w
}

// Any reports whether there is anything to say.
func (w deckWalks) Any() bool { return len(w.Tasks)+len(w.Facts)+len(w.Remarks) > 0 }

// stepNamed is a step with how far it is, for a table.
func (v *view) stepNamed(ref record.Ref) string {
	for _, s := range v.rev.Plan.Steps {
		if s.Self == ref {
			return v.event(s.Self, s.Ahead, s.Begun.Known())
		}
	}
	return v.event(ref, -1, false)
}
