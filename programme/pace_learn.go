package programme

import (
	"math"
	"runtime"
	"slices"
	"sync"
)

// What is held of a yard before anything was seen, in logarithms.
const (
	priorCommon = 0.25 // standard deviation of the pace that all trades share, about 1
	priorTrade  = 0.15 // of a trade's about the common one

	priorWait       = 0.5 // working days, the median of the mean wait; invented
	priorWaitSpread = 1.0 // standard deviation of its logarithm; invented
)

// learnedDraws is how many equally weighted draws are handed on.
const learnedDraws = 256

// Learn reads the yard's pace and its habit of waiting off what was seen.
//
//	ln length of a step = ln median + common + trade + sigma z
//	common ~ N(0, 0.25²), trade ~ N(0, 0.15²), mean wait ~ lognormal, median 0.5 d
//
// Each step teaches by its own sightings: the start and the finish lie in the
// gaps in which they were seen to fall, a step not finished was at least so
// long, and steps that followed each other within one gap are one observation
// of their sum. Steps of suppliers, by the clock, or without a spread teach
// nothing. Below the level of a forecast it returns the draws all the same, and
// Enough is false.
//
// The error is an *Invalid of the network. The same case gives the same draws,
// in any order of its sightings. Doubling a sighting changes nothing.
//
// Source: docs/theory/programme.md, "What is learned"; derived.
func Learn(c ForecastCase) (Learned, error) {
	o, err := observe(&c)
	if err != nil {
		return Learned{}, err
	}
	l := Learned{Trades: o.trades, Visits: o.visits, Chains: o.chains()}
	at, wait := make([]float64, len(o.trades)), math.Log(priorWait)
	var p posterior
	for range passes {
		p = o.posterior(o.follow(at, wait))
		at, wait = p.middle()
	}
	draws := make([]draw, learnedDraws)
	for k := range draws {
		draws[k] = p.draw(k)
	}
	l.take(o.settle(draws, &p))
	return l, nil
}

// passes is how often the course is laid anew, at what was learned the time
// before; at first at the middle of what is held beforehand.
const passes = 2

// fewestAlike is how many equal draws weighted ones must be worth: below it the
// weights rest on too few to be better than none.
const fewestAlike = 24

// settle corrects draws for the course that they were learned from having been
// laid at one pace and wait. For each draw the course is laid anew at its own,
// which gives the chance of all that was seen under the whole model, and the
// draws are taken in proportion to
//
//	P(seen | course at the draw) / P(seen | course laid)
//
// at equal steps along their sum, so that they weigh alike again.
func (o *observer) settle(draws []draw, p *posterior) []draw {
	logs := make([]float64, len(draws))
	var all sync.WaitGroup
	cores := runtime.GOMAXPROCS(0)
	for core := range cores {
		all.Go(func() {
			for k := core; k < len(draws); k += cores {
				logs[k] = o.follow(draws[k].trade, draws[k].wait).chance - p.chance(draws[k])
			}
		})
	}
	all.Wait()
	alike, ws := 0.0, weights(logs)
	for _, w := range ws {
		alike += w * w
	}
	if alike*fewestAlike > 1 {
		return draws
	}
	out, sum, k := make([]draw, 0, len(draws)), ws[0], 0
	for i := range draws {
		for u := (float64(i) + 0.5) / float64(len(draws)); sum < u && k+1 < len(draws); {
			k++
			sum += ws[k]
		}
		out = append(out, draws[k])
	}
	return out
}

// chance returns the logarithm of the chance of all that was seen, for a draw
// on the course that p was learned from, up to a constant.
func (p *posterior) chance(d draw) float64 {
	sum := p.waiting.Predict(d.wait)
	for t, v := range d.trade {
		sum += p.says[t].Predict(v)
	}
	return sum
}

// take hands on draws, and says them in three numbers each.
func (l *Learned) take(draws []draw) {
	l.Common = band(draws, func(d draw) float64 { return d.common })
	l.Waiting = band(draws, func(d draw) float64 { return d.wait })
	for t := range l.Trades {
		l.ByTrade = append(l.ByTrade, band(draws, func(d draw) float64 { return d.trade[t] }))
	}
	for _, d := range draws {
		p := Pace{Wait: math.Exp(d.wait), Trade: make([]float64, len(d.trade))}
		for t, v := range d.trade {
			p.Trade[t] = math.Exp(v)
		}
		l.Draws = append(l.Draws, p)
	}
}

// band returns what a tenth, half and nine tenths of the draws lie below, of a
// quantity of which of gives the logarithm.
func band(draws []draw, of func(draw) float64) Band {
	v := make([]float64, len(draws))
	for i, d := range draws {
		v[i] = of(d)
	}
	slices.Sort(v)
	at := func(u float64) float64 {
		x := u*float64(len(v)) - 0.5
		i := int(x)
		return math.Exp(v[i] + (x-float64(i))*(v[i+1]-v[i]))
	}
	return Band{at(0.1), at(0.5), at(0.9)}
}
