package programme

import (
	"math"
	"sync"
)

// posterior is what is known of paces and waiting: the common pace by its
// distribution, each trade's by its likelihood, which with the common one gives
// its own.
type posterior struct {
	common, wait sampler
	trade        [][]float64 // log likelihood on the grid of paces
	says         []*curve    // the same
	waiting      *curve
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
	p := posterior{waiting: says(coarseWaits, c.pauses)}
	logs := p.waiting.on(waits)
	for i := range logs {
		logs[i] += bell(waits.at(i)-math.Log(priorWait), priorWaitSpread)
	}
	p.wait = waits.sampler(weights(logs))
	logs = make([]float64, paces.n)
	for i := range logs {
		logs[i] = bell(paces.at(i), priorCommon)
	}
	p.says, p.trade = make([]*curve, len(byTrade)), make([][]float64, len(byTrade))
	var all sync.WaitGroup
	for t, spells := range byTrade {
		all.Go(func() {
			p.says[t] = says(coarsePaces, spells)
			p.trade[t] = p.says[t].on(paces)
		})
	}
	all.Wait()
	for t, spells := range byTrade {
		if len(spells) > 0 {
			integrate(logs, p.trade[t])
		}
	}
	p.common = paces.sampler(weights(logs))
	return p
}

// integrate adds to each common pace the logarithm of what a trade's spells say
// of it, over all that the trade's own pace may then be.
func integrate(logs, trade []float64) {
	kernel := make([]float64, paces.n)
	for d := range kernel {
		kernel[d] = math.Exp(bell(float64(d)*paces.step, priorTrade))
	}
	likely := make([]float64, len(trade))
	for i, v := range trade {
		likely[i] = math.Exp(v)
	}
	for i := range logs {
		sum := 0.0
		for j, v := range likely {
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

// middle returns the mean of each trade's ln pace at the middle of the common
// one, and the logarithm of what the mean wait is expected to be.
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
	return at, math.Log(wait)
}

// given returns the weights of trade t's pace at a common one.
func (p *posterior) given(common float64, t int) []float64 {
	logs := make([]float64, paces.n)
	for i, v := range p.trade[t] {
		logs[i] = v + bell(paces.at(i)-common, priorTrade)
	}
	return weights(logs)
}
