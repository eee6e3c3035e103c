package programme

import "math"

// posterior is what is known of paces and waiting: the common pace by its
// distribution, each trade's by its likelihood, which with the common one gives
// its own.
type posterior struct {
	common, wait sampler
	trade        [][]float64 // likelihood on the grid of paces, 1 at its largest
	says         []*curve    // the logarithm of the same
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
	for _, spells := range byTrade {
		says := says(coarsePaces, spells)
		likely := says.on(paces)
		for i, v := range likely {
			likely[i] = math.Exp(v)
		}
		p.says, p.trade = append(p.says, says), append(p.trade, likely)
		if len(spells) > 0 {
			integrate(logs, likely)
		}
	}
	p.common = paces.sampler(weights(logs))
	return p
}

// integrate adds to each common pace the logarithm of what a trade's spells say
// of it, over all that the trade's own pace may then be.
func integrate(logs, likely []float64) {
	kernel := make([]float64, paces.n)
	for d := range kernel {
		kernel[d] = math.Exp(bell(float64(d)*paces.step, priorTrade))
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

// draws returns learnedDraws draws. Each quantity is drawn once from each of as
// many equal shares of its distribution; which meet is settled by a lattice, the
// powers of 21 modulo 256, on which no two of the first twelve quantities run
// along each other.
func (p *posterior) draws() []draw {
	out := make([]draw, learnedDraws)
	onCores(0, len(out), func(int) func(int) {
		given := paces.sampler(make([]float64, paces.n))
		return func(k int) { out[k] = p.draw(k, given) }
	})
	return out
}

// draw returns the k-th draw; given is room.
func (p *posterior) draw(k int, given sampler) draw {
	power := 1
	share := func() float64 {
		u := (float64(k*power%learnedDraws) + 0.5) / learnedDraws
		power = power * 21 % learnedDraws
		return u
	}
	out := draw{common: p.common.quantile(share()), wait: p.wait.quantile(share()), trade: make([]float64, len(p.trade))}
	for t := range p.trade {
		p.given(out.common, t, given.sum)
		given.lay(given.sum)
		out.trade[t] = given.quantile(share())
	}
	return out
}

// middle returns the mean of each trade's ln pace at the middle of the common
// one, and the logarithm of what the mean wait is expected to be.
func (p *posterior) middle() (at []float64, wait float64) {
	common, weight := p.common.quantile(0.5), make([]float64, paces.n)
	for t := range p.trade {
		mean := 0.0
		p.given(common, t, weight)
		for i, w := range weight {
			mean += w * paces.at(i)
		}
		at = append(at, mean)
	}
	for k := range learnedDraws {
		wait += math.Exp(p.wait.quantile((float64(k)+0.5)/learnedDraws)) / learnedDraws
	}
	return at, math.Log(wait)
}

// given puts into weight those of trade t's pace at a common one: what is held
// of it beforehand, a bell on the grid whose neighbours stand in proportions that
// themselves fall at an even rate, by what the trade's spells say. The grid is
// so short that the bell is above 1e-90 everywhere, so something is left of it
// where the spells say most.
func (p *posterior) given(common float64, t int, weight []float64) {
	const fall = paceStep * paceStep / (priorTrade * priorTrade)
	likely, sum := p.trade[t], 0.0
	middle := min(max(int((common-paces.from)/paces.step), 0), paces.n-1)
	off, rate := (paces.at(middle)-common)/(priorTrade*priorTrade)*paces.step, math.Exp(-fall)
	for _, way := range [2]int{1, -1} {
		b := math.Exp(bell(paces.at(middle)-common, priorTrade))
		next := math.Exp(-float64(way)*off - fall/2)
		for i := middle; i >= 0 && i < paces.n; i += way {
			weight[i] = b * likely[i]
			b, next = b*next, next*rate
		}
	}
	for _, w := range weight {
		sum += w
	}
	for i := range weight {
		weight[i] /= sum
	}
}
