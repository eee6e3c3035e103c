package plan

import "dogshore/record"

// Chances from which a step counts as one that drives the launch, and as one
// that may.
const (
	Drives   = 0.5
	MayDrive = 0.1
)

// Path returns the steps still to come that drive the launch, in the order of
// the network: on the level of the forecast those that do so in at least half
// of the trials, else the longest chain by the durations entered. It is empty
// where nothing says how long the steps take.
func (a *Answer) Path() []record.Ref {
	long := map[string]bool{}
	for _, id := range a.Network.Critical {
		long[id] = true
	}
	var out []record.Ref
	for i := range a.Steps {
		s := &a.Steps[i]
		switch {
		case s.State == done:
		case a.Forecast.Enough && s.Outlook.Critical >= Drives, !a.Forecast.Enough && long[s.Key()]:
			out = append(out, s.Self)
		}
	}
	return out
}
