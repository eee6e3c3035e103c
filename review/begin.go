package review

import (
	"dogshore/desk/plan"
	"dogshore/journal"
)

// begin says what to enter first, in the order in which it pays, while the
// record is nearly empty.
func begin(r *journal.Record, p plan.Answer) []string {
	var out []string
	if len(r.Refs("build")) == 0 && len(p.Steps) == 0 {
		out = append(out, "Start the build: what she is called, what boat she is, how she is built. A template then lays the usual parts and stages.")
		return out
	}
	if len(p.Steps) == 0 {
		out = append(out, "Lay a template, or fill in the start sheet: without parts and stages nothing can come next.")
	}
	if p.LastVisit.Self == "" {
		out = append(out, "Enter the last visit: its day, and who looked. Pictures from the yard count as one.")
	}
	if len(p.Steps) > 0 && len(r.Refs("sighting")) == 0 {
		out = append(out, "Tap the stage that each part is at: about a dozen taps tell what comes next and what it covers up.")
	}
	if len(r.Refs("point")) == 0 && len(p.Steps) > 0 {
		out = append(out, "Note what is still to be settled, each with the step that covers it up or fixes it. Five are enough to start with.")
	}
	return out
}
