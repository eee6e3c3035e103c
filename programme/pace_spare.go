package programme

import "slices"

// inNoHurry is the float, in working days, above which a step's waiting
// teaches nothing: a yard leaves lying what has time, and that says nothing of
// how long it lets the steps wait that the launch hangs on. A week, the usual
// way between two visits; invented.
const inNoHurry = 5

// spare reports of each step whether the plan left it time, by the network
// alone: as if nothing had been seen yet. Where some length is not known no
// float is, and every step teaches.
func spare(c *ForecastCase) []bool {
	plain := c.Case()
	plain.Steps = slices.Clone(plain.Steps)
	for i := range plain.Steps {
		plain.Steps[i].Seen, plain.Steps[i].Left = nil, nil
		plain.Steps[i].NotFrom, plain.Steps[i].NotAfter = 0, 0
	}
	out := make([]bool, len(plain.Steps))
	r, err := Pass(plain)
	if err != nil {
		return out
	}
	for i, t := range r.Steps {
		out[i] = t.Floats && t.Total > inNoHurry
	}
	return out
}
