package programme

import "dogshore/figure"

// Regret returns the working of the chance that the order at a stand is
// regretted: in how many trials another one gains so much.
func (o StandOutlook) Regret() figure.Figure {
	share := 0.0
	if o.Trials > 0 {
		share = float64(o.Regretted) / float64(o.Trials)
	}
	f := figure.Figure{Symbol: "R", Says: "chance that the order at " + o.ID + " is regretted", Value: share, Text: percent(share), Source: byTrials}
	if o.Trials == 0 {
		return f
	}
	least := figure.Figure{
		Symbol: "G", Says: "days sooner that another order, found for the trial alone, launches her at least", Value: leastBand, Unit: "day", Text: "1 day", Source: byTrials,
	}
	f.Rule, f.Of = "R = sooner(G) / N", []figure.Figure{least, count("N", "trials ordered anew", o.Trials)}
	return f
}

// Functions are what the rule of Regret calls: sooner(g) is in how many trials
// another order gains g days or more.
func (o StandOutlook) Functions() map[string]func(...float64) float64 {
	return map[string]func(...float64) float64{
		"sooner": func(a ...float64) float64 {
			n := 0.0
			for _, g := range o.gains {
				if float64(g) >= a[0]*secondsADay {
					n++
				}
			}
			return n
		},
	}
}
