package programme

import (
	"fmt"
	"math"
	"slices"
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
// nothing. Below the level of a forecast it returns the draws all
// the same; Enough and Short say so.
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
	at, wait := make([]float64, len(o.trades)), priorWait
	var p posterior
	for range passes {
		p = o.posterior(o.follow(at, wait))
		l.Draws = l.Draws[:0]
		for k := range learnedDraws {
			l.Draws = append(l.Draws, p.draw(k))
		}
		at, wait = l.middle()
	}
	l.bands(p)
	return l, nil
}

// passes is how often the course is laid anew, at what was learned the time
// before; at first at the middle of what is held beforehand.
const passes = 3

// middle returns the mean of each trade's ln pace, and of the mean wait.
func (l *Learned) middle() (at []float64, wait float64) {
	at = make([]float64, len(l.Trades))
	for _, d := range l.Draws {
		for t, v := range d.Trade {
			at[t] += math.Log(v) / float64(len(l.Draws))
		}
		wait += d.Wait / float64(len(l.Draws))
	}
	return at, wait
}

// Short says what is missing for a forecast, "" if nothing is.
func (l Learned) Short() string {
	if l.Enough() {
		return ""
	}
	return fmt.Sprintf("learned from %d chains of steps seen from first to last, at %d visits: chances need %d and %d",
		l.Chains, l.Visits, LeastChains, LeastVisits)
}

// posterior is what is known of paces and waiting: the common pace by its
// distribution, each trade's by its likelihood, which with the common one gives
// its own.
type posterior struct {
	common, wait sampler
	trade        [][]float64 // log likelihood on the grid of paces
}

// posterior learns from a course the common pace, each trade's integrated out
// for each of its values:
//
//	p(common) ~ N(common) Π_t ∫ N(x - common) L_t(x) dx
//
// with L_t what trade t's spells say.
func (o *observer) posterior(c *course) posterior {
	byTrade := make([][]spell, len(o.trades))
	for _, s := range c.spells {
		byTrade[s.trade] = append(byTrade[s.trade], s)
	}
	p := posterior{wait: waiting(c.pauses)}
	logs := make([]float64, paces.n)
	for i := range logs {
		logs[i] = bell(paces.at(i), priorCommon)
	}
	for _, spells := range byTrade {
		trade := logLikelihood(spells)
		p.trade = append(p.trade, trade)
		if len(spells) > 0 {
			integrate(logs, trade)
		}
	}
	p.common = paces.sampler(weights(logs))
	return p
}

// waiting learns the mean wait, on a grid of its logarithm.
func waiting(pauses []spell) sampler {
	g := grid{math.Log(priorWait) - 4, 0.1, 81}
	logs := make([]float64, g.n)
	for i := range logs {
		x := g.at(i)
		logs[i] = bell(x-math.Log(priorWait), priorWaitSpread)
		for k := range pauses {
			p := &pauses[k]
			logs[i] += math.Log(max(least, p.from.reach(exponential(math.Exp(x)), p.to)))
		}
	}
	return g.sampler(weights(logs))
}

// integrate adds to each common pace the logarithm of what a trade's runs say
// of it, over all that the trade's own pace may then be.
func integrate(logs, trade []float64) {
	kernel := make([]float64, paces.n)
	for d := range kernel {
		kernel[d] = math.Exp(bell(float64(d)*paces.step, priorTrade))
	}
	says := make([]float64, len(trade))
	for i, v := range trade {
		says[i] = math.Exp(v)
	}
	for i := range logs {
		sum := 0.0
		for j, v := range says {
			sum += v * kernel[max(i-j, j-i)]
		}
		logs[i] += math.Log(max(least, sum))
	}
}

// draw returns the k-th of learnedDraws draws. Each quantity is drawn once from
// each of as many equal shares of its distribution; which meet is settled by a
// lattice, the powers of 21 modulo 256, on which no two of the first twelve
// quantities run along each other.
func (p *posterior) draw(k int) Pace {
	power := 1
	share := func() float64 {
		u := (float64(k*power%learnedDraws) + 0.5) / learnedDraws
		power = power * 21 % learnedDraws
		return u
	}
	common := p.common.quantile(share())
	out := Pace{Wait: math.Exp(p.wait.quantile(share()))}
	logs := make([]float64, paces.n)
	for _, trade := range p.trade {
		for i, v := range trade {
			logs[i] = v + bell(paces.at(i)-common, priorTrade)
		}
		out.Trade = append(out.Trade, math.Exp(paces.sampler(weights(logs)).quantile(share())))
	}
	return out
}

// bands says what was learned in three numbers each.
func (l *Learned) bands(p posterior) {
	at := func(u float64) float64 { return math.Exp(p.common.quantile(u)) }
	l.Common = Band{at(0.1), at(0.5), at(0.9)}
	l.Waiting = band(l.Draws, func(d Pace) float64 { return d.Wait })
	for t := range l.Trades {
		l.ByTrade = append(l.ByTrade, band(l.Draws, func(d Pace) float64 { return d.Trade[t] }))
	}
}

// band returns the points below which a tenth, half and nine tenths of the
// draws lie.
func band(draws []Pace, of func(Pace) float64) Band {
	v := make([]float64, len(draws))
	for i, d := range draws {
		v[i] = of(d)
	}
	slices.Sort(v)
	at := func(u float64) float64 {
		x := u*float64(len(v)) - 0.5
		i := int(x)
		return v[i] + (x-float64(i))*(v[i+1]-v[i])
	}
	return Band{at(0.1), at(0.5), at(0.9)}
}
