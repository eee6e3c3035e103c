package programme

import (
	"fmt"
	"math"
	"slices"

	"dogshore/calendar"
	"dogshore/figure"
	"dogshore/source"
)

var byTrials = source.Source{How: source.Derived, Text: "order statistic of trials; docs/theory/programme.md, Played forward"}

// Decide returns the working of a point's decide-by: which of the sorted
// trials it is. The point must have one.
func (o Outlook) Decide(point string) figure.Figure {
	p := o.point(point)
	return o.nth("D", "latest moment to decide "+point+", inside each trial", p.Decide, p.Share, len(p.decides))
}

// TooLate returns the working of the chance that it is too late for a point on
// the data date.
func (o Outlook) TooLate(point string) figure.Figure {
	p := o.point(point)
	return figure.Figure{
		Symbol: "L", Says: "chance that it is too late for " + point, Value: p.Late, Text: percent(p.Late),
		Rule: "L = before(DD) / N", Source: byTrials,
		Of: []figure.Figure{o.dataDate(), count("N", "trials", len(p.decides))},
	}
}

// Launched returns the working of the launch by a share of the trials: 0.1,
// 0.5, 0.8 or 0.9.
func (o Outlook) Launched(share float64) figure.Figure {
	m := map[float64]calendar.Moment{0.1: o.Launch.P10, 0.5: o.Launch.P50, 0.8: o.Launch.P80, 0.9: o.Launch.P90}[share]
	return o.nth("T", "launch", m, share, len(o.samples))
}

// ByDay returns the working of the chance that she is launched by the end of a
// day that the case asked for.
func (o Outlook) ByDay(day calendar.Day) figure.Figure {
	f := figure.Figure{Symbol: "F", Says: "chance of a launch by the end of " + day.Said(), Source: byTrials}
	for _, b := range o.Launch.By {
		if b.Day == day {
			f.Value, f.Text = b.Chance, percent(b.Chance)
			end := figure.Figure{
				Symbol: "E", Says: "end of the day", Value: dayNumber(calendar.At(day + 1)), Unit: "day", Text: day.Said(), Source: source.Source{How: source.Entered},
			}
			f.Rule, f.Of = "F = by(E) / N", []figure.Figure{end, count("N", "trials", len(o.samples))}
		}
	}
	return f
}

// Functions are what the rules of an outlook's workings call: nth(k) is the
// k-th of the sorted trials of the point, or of the launch where point is
// empty, before(t) and by(t) how many lie before t, and not after it; ceil
// rounds up.
func (o Outlook) Functions(point string) map[string]func(...float64) float64 {
	trials := o.samples
	if point != "" {
		trials = o.point(point).decides
	}
	sorted := slices.Sorted(slices.Values(trials))
	least := func(t float64) int64 { return round(t*secondsADay) - int64(o.zero) }
	return map[string]func(...float64) float64{
		"ceil": func(a ...float64) float64 { return math.Ceil(a[0]) },
		"nth":  func(a ...float64) float64 { return dayNumber(o.zero + calendar.Moment(sorted[int(a[0])-1])) },
		"before": func(a ...float64) float64 {
			n, _ := slices.BinarySearch(sorted, least(a[0]))
			return float64(n)
		},
		"by": func(a ...float64) float64 {
			n, _ := slices.BinarySearch(sorted, least(a[0])+1)
			return float64(n)
		},
	}
}

func (o Outlook) point(id string) PointOutlook {
	for _, p := range o.Points {
		if p.ID == id {
			return p
		}
	}
	return PointOutlook{}
}

// nth is the working of an order statistic.
func (o Outlook) nth(symbol, says string, m calendar.Moment, share float64, n int) figure.Figure {
	f := figure.Figure{Symbol: symbol, Says: says, Value: dayNumber(m), Unit: "day", Text: m.Day().Said(), Source: byTrials}
	if n == 0 || m == 0 {
		return f
	}
	p := figure.Figure{Symbol: "P", Says: "share of the trials that lie before or at it", Value: share, Text: percent(share), Source: byTrials}
	k := count("k", "its place among the trials, the earliest first", int(math.Ceil(share*float64(n))))
	k.Rule, k.Of = "k = ceil(P * N)", []figure.Figure{p, count("N", "trials", n)}
	f.Rule, f.Of = symbol+" = nth(k)", []figure.Figure{k}
	return f
}

func (o Outlook) dataDate() figure.Figure {
	return figure.Figure{
		Symbol: "DD", Says: "data date", Value: dayNumber(o.zero), Unit: "day", Text: o.zero.Day().Said(), Source: source.Source{How: source.Entered},
	}
}

func count(symbol, says string, n int) figure.Figure {
	return figure.Figure{Symbol: symbol, Says: says, Value: float64(n), Text: fmt.Sprint(n), Source: byTrials}
}

func percent(x float64) string { return fmt.Sprintf("%.3g %%", 100*x) }
