package record

import (
	"fmt"
	"strings"

	"dogshore/unit"
)

// Stretch is one point of a stretch test: so much longer under so much force.
type Stretch struct {
	Strain float64 // 0.01 for 1 %
	Force  float64 // N
}

// mostStretches bounds a stretch test.
const mostStretches = 100

// ParseStretch reads a stretch test as its maker prints it, "1 % at 2 kN; 4 %
// at 10 kN". Stretch and force must both rise from point to point: with a force
// that falls, where a line comes to rest is not one place. An error names the
// point that is wrong and says what would be right.
func ParseStretch(text string) ([]Stretch, error) {
	var out []Stretch
	parts := strings.FieldsFunc(text, func(r rune) bool { return r == ';' || r == '\n' })
	if len(parts) > mostStretches {
		return nil, fmt.Errorf("a stretch test of %d points: %d are read", len(parts), mostStretches)
	}
	for _, part := range parts {
		if strings.TrimSpace(part) == "" {
			continue
		}
		n := len(out) + 1
		strain, force, ok := strings.Cut(part, " at ")
		if !ok {
			return nil, fmt.Errorf("point %d is %q: write how much longer at which force, as 1 %% at 2 kN", n, strings.TrimSpace(part))
		}
		e, err := unit.ParseQuantity(strings.TrimSpace(strain), unit.Number, unit.Habit{})
		if err != nil {
			return nil, fmt.Errorf("point %d, how much longer: %w", n, err)
		}
		f, err := unit.ParseQuantity(strings.TrimSpace(force), unit.Force, unit.Habit{})
		if err != nil {
			return nil, fmt.Errorf("point %d, the force: %w", n, err)
		}
		last := Stretch{}
		if len(out) > 0 {
			last = out[len(out)-1]
		}
		if !(e.SI > last.Strain && f.SI > last.Force) {
			return nil, fmt.Errorf("point %d, %s: both the stretch and the force must be greater than at the point before", n, strings.TrimSpace(part))
		}
		if e.SI > 2 {
			return nil, fmt.Errorf("point %d: a stretch of %.0f %% is no line's; write 4 %% or 0.04", n, 100*e.SI)
		}
		out = append(out, Stretch{e.SI, f.SI})
	}
	if len(out) == 0 {
		return nil, fmt.Errorf("no point is in it: write how much longer at which force, as 1 %% at 2 kN; 4 %% at 10 kN")
	}
	return out, nil
}
