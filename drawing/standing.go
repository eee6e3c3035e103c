package drawing

import (
	"strings"

	"dogshore/desk/plan"
	"dogshore/internal/draw"
	"dogshore/record"
)

// Standing is where a part stands. The zero Standing says that nothing is
// known.
type Standing struct {
	Stage string         // slug of the last stage that is done; "" if none is
	How   record.Grounds // how that is known
	Doing string         // the step under way, as the programme calls it
}

// StandingOf reads where each part stands off its steps.
func StandingOf(steps []plan.Step) map[record.Ref]Standing {
	last := map[record.Ref]plan.Step{}
	out := map[record.Ref]Standing{}
	for _, s := range steps {
		if s.Part == "" {
			continue
		}
		x := out[s.Part]
		switch s.State {
		case "done":
			if l, ok := last[s.Part]; ok && l.Rank.SI > s.Rank.SI {
				break
			}
			last[s.Part] = s
			x.Stage, x.How = s.Stage, s.Grounds
		case "under way":
			x.Doing = s.Name
			if x.Stage == "" {
				x.How = s.Grounds
			}
		case "not started":
			if x.Stage == "" && x.Doing == "" {
				x.How = s.Grounds
			}
		}
		out[s.Part] = x
	}
	return out
}

// own reports whether somebody has seen it, in the flesh or in a picture.
func (s Standing) own() bool { return s.How.Rank() >= record.Shown.Rank() }

// tone is the density of the hatching.
func (s Standing) tone() float64 {
	stage, ok := record.StageOf(s.Stage)
	if !ok {
		return 0
	}
	return stage.Density
}

// edge is the line round a part: whole if somebody has seen it, short dashes
// if it is told or follows from something else, long dashes if nothing is known.
func (s Standing) edge() string {
	switch {
	case s.How == "":
		return draw.Unknown
	case s.own():
		return draw.Outline
	}
	return draw.Hidden
}

// String says the same in words.
func (s Standing) String() string {
	if s.How == "" && s.Doing == "" {
		return "not known"
	}
	var words []string
	switch stage, ok := record.StageOf(s.Stage); {
	case ok:
		words = append(words, strings.ToLower(stage.Name)+", "+how(s.How))
	case s.Stage != "":
		words = append(words, s.Stage+", "+how(s.How))
	case s.Doing == "":
		words = append(words, "not begun, "+how(s.How))
	}
	if s.Doing != "" {
		words = append(words, strings.ToLower(s.Doing[:1])+s.Doing[1:]+" under way")
	}
	return strings.Join(words, "; ")
}

func how(g record.Grounds) string {
	switch g {
	case record.Inferred:
		return "follows from a later stage, not seen"
	case record.Told:
		return "told, not seen"
	case record.Shown:
		return "seen in a picture"
	case "":
		return "how is not known"
	}
	return string(g)
}
