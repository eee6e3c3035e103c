package deck

import (
	"dogshore/desk"
	"fmt"
	"slices"

	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/record"
	"dogshore/rope"
)

// walk goes each task's way on the arrangement's lines and eyes, as the first
// of who is on record with a tether.
func (d *reading) walk(a *Arrangement, deck [32]byte, keep *Memo) {
	for _, t := range d.tasks {
		if len(t.Way) < 2 {
			continue
		}
		w, err := keep.walk(deck, a.Case, a.Result, way(t))
		if err != nil {
			a.add(Finding{Sort: Unknown, Of: t.Self, Says: fmt.Sprintf("%s: %v", t.Name, err)})
			continue
		}
		a.Tasks = append(a.Tasks, Task{Task: t, Walked: w})
	}
}

// way is a task as the engine walks it: on hands and knees where nobody says
// otherwise, the work at its end.
func way(t record.Task) jackstay.Way {
	out := jackstay.Way{ID: string(t.Self)}
	for _, p := range t.Way {
		out.Stops = append(out.Stops, jackstay.Waypoint{At: plane.Point{X: p[0], Y: p[1]}, By: jackstay.Kneeling, As: jackstay.Kneeling})
	}
	last := &out.Stops[len(out.Stops)-1]
	last.Task, last.Hands = t.Name, 1
	if t.Hands == "both" {
		last.Hands = 2
	}
	if t.Posture != "" {
		last.As = jackstay.Posture(t.Posture)
	}
	return out
}

// Gaps are the stretches of a task's way on no hook, as paths.
func (t Task) Gaps() [][]plane.Point {
	var out [][]plane.Point
	way := points(t.Way)
	for _, g := range t.Walked.Gaps {
		out = append(out, stretch(way, g.From, g.To))
	}
	return out
}

// stretch is the part of a path from one distance along it to another.
func stretch(path []plane.Point, from, to float64) []plane.Point {
	var out []plane.Point
	along := 0.0
	for i := 0; i+1 < len(path); i++ {
		step := path[i+1].Sub(path[i])
		long := step.Norm()
		a, b := max(from, along), min(to, along+long)
		if long > 0 && a <= b {
			if len(out) == 0 {
				out = append(out, path[i].Add(step.Scale((a-along)/long)))
			}
			out = append(out, path[i].Add(step.Scale((b-along)/long)))
		}
		along += long
	}
	return out
}

// Bare is how much of the way is on no hook, m.
func (t Task) Bare() float64 {
	bare := 0.0
	for _, g := range t.Walked.Gaps {
		bare += g.To - g.From
	}
	return bare
}

// findTasks says where a way has a gap, and where a change of hook leaves one
// on none.
func (d *reading) findTasks(a *Arrangement) {
	for _, t := range a.Tasks {
		w := t.Walked
		f := Finding{Sort: Gap, Of: t.Self, Caution: rope.CautionDragged.Text(), Figures: d.w.task(t)}
		switch {
		case len(w.Gaps) > 0:
			first := w.Gaps[0]
			where := fmt.Sprintf("the first gap begins %.1f m along the way", first.From)
			if first.From < 0.05 {
				where = "the first gap begins where one sets out"
			}
			f.Says = fmt.Sprintf("%s: %.1f of %.1f m on no hook; %s. An eye near %.1f m forward, %s would come first to mind.",
				t.Name, t.Bare(), w.Length, where, first.Eye.X, desk.Abeam(first.Eye.Y))
			a.add(f)
		case w.Moments > 0:
			f.Says = fmt.Sprintf("%s: at %d of its %d changes the only hook is let go first.", t.Name, w.Moments, w.Changes)
			a.add(f)
		}
		if len(w.Gaps) == 0 && slices.Contains(w.CantDo, t.Name) {
			f.Says = fmt.Sprintf("%s: no leg that reaches lets one be as the work needs, %s.", t.Name, orKneeling(t.Posture))
			a.add(f)
		}
	}
}

func orKneeling(posture string) string {
	if posture == "" {
		return string(jackstay.Kneeling)
	}
	return posture
}
