package programme

// lingering is the law of the wait before a step that the plan left time, in
// working days: as likely as not the yard begins it as it begins others, else it
// lingers,
//
//	W ~ Exp(0.5 d) or Exp(10 d), each with a chance of a half     [invented]
//
// Both are fixed, so that such a wait teaches nothing of the yard's. To hold
// every start alike that comes behind what was waited for would put it too late
// where the yard lingers less than that, and so make lengths too short.
type lingering struct{}

const (
	lingers       = 10.0 // working days
	lingerMedian  = 1.12 // of the law, where half of the chance lies
	promptInstead = 0.5  // the chance that it does not linger
)

func (lingering) at(float64) lasting { return lingering{} }
func (lingering) median() float64    { return lingerMedian }

func (lingering) over(x float64) float64 {
	return promptInstead*pausing(priorWait).over(x) + (1-promptInstead)*pausing(lingers).over(x)
}

func (lingering) under(x float64) float64 {
	return promptInstead*pausing(priorWait).under(x) + (1-promptInstead)*pausing(lingers).under(x)
}

func (l lingering) overs(x, _, out []float64) { oneByOne(l.over, x, out) }
func (lingering) unders(x, _, out []float64) {
	for i, v := range x {
		out[i] = promptInstead*priorWait*ramp(v/priorWait) + (1-promptInstead)*lingers*ramp(v/lingers)
	}
}
