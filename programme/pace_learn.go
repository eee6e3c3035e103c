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
	var laid *course
	for range passes {
		laid = o.follow(at, wait)
		p = o.posterior(laid)
		at, wait = p.middle()
	}
	draws := make([]draw, learnedDraws)
	for k := range draws {
		draws[k] = p.draw(k)
	}
	l.take(o.settle(draws, laid))
	return l, nil
}

// passes is how often the course is laid anew, at what was learned the time
// before; at first at the middle of what is held beforehand.
const passes = 2

// middle returns the mean of each trade's ln pace at the middle of the common
// one, and what the mean wait is expected to be.
func (p *posterior) middle() (at []float64, wait float64) {
	common := p.common.quantile(0.5)
	for t := range p.trade {
		mean := 0.0
		for i, w := range p.given(common, t) {
			mean += w * paces.at(i)
		}
		at = append(at, mean)
	}
	for k := range learnedDraws {
		wait += math.Exp(p.wait.quantile((float64(k)+0.5)/learnedDraws)) / learnedDraws
	}
	return at, wait
}

// given returns the weights of trade t's pace at a common one.
func (p *posterior) given(common float64, t int) []float64 {
	logs := make([]float64, paces.n)
	for i, v := range p.trade[t] {
		logs[i] = v + bell(paces.at(i)-common, priorTrade)
	}
	return weights(logs)
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
			logs[i] += math.Log(max(least, p.from.reach(pausing(math.Exp(x)), p.to)))
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

// draw is one draw of what was learned, in logarithms.
type draw struct {
	common, wait float64
	trade        []float64
}

// draw returns the k-th of learnedDraws draws. Each quantity is drawn once from
// each of as many equal shares of its distribution; which meet is settled by a
// lattice, the powers of 21 modulo 256, on which no two of the first twelve
// quantities run along each other.
func (p *posterior) draw(k int) draw {
	power := 1
	share := func() float64 {
		u := (float64(k*power%learnedDraws) + 0.5) / learnedDraws
		power = power * 21 % learnedDraws
		return u
	}
	out := draw{common: p.common.quantile(share()), wait: p.wait.quantile(share())}
	for t := range p.trade {
		out.trade = append(out.trade, paces.sampler(p.given(out.common, t)).quantile(share()))
	}
	return out
}

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
func (o *observer) settle(draws []draw, laid *course) []draw {
	logs := make([]float64, len(draws))
	for k, d := range draws {
		logs[k] = o.follow(d.trade, math.Exp(d.wait)).chance(d) - laid.chance(d)
	}
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

// chance returns the logarithm of the chance of all that was seen on a course.
func (c *course) chance(d draw) float64 {
	sum := 0.0
	for k := range c.spells {
		s := &c.spells[k]
		sum += math.Log(max(least, s.from.reach(s.law.at(d.trade[s.trade]), s.to)))
	}
	wait := pausing(math.Exp(d.wait))
	for k := range c.pauses {
		p := &c.pauses[k]
		sum += math.Log(max(least, p.from.reach(wait, p.to)))
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
