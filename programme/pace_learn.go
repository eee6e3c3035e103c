package programme

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/mat"
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
	lays := o.layer()
	lays.tells = true
	for range passes {
		p = o.posterior(lays.follow(at, wait))
		at, wait = p.middle()
	}
	l.take(o.settle(p.draws(), &p))
	return l, nil
}

// passes is how often the course is laid anew, at what was learned the time
// before; at first at the middle of what is held beforehand.
const passes = 2

// fewestAlike is how many equal draws weighted ones must be worth: where they are
// worth less, a power of the proportion below 1 stands for it, as large as leaves
// them worth so many. So no little news turns the weights on or off.
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
	ws := flat(o.ratios(draws, p))
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

// flat returns weights of these logarithms, or of as large a part of them as
// leaves the weights worth fewestAlike equal ones.
func flat(logs []float64) []float64 {
	part := func(of float64) (ws []float64, worth float64) {
		scaled := make([]float64, len(logs))
		for i, v := range logs {
			scaled[i] = of * v
		}
		ws = weights(scaled)
		for _, w := range ws {
			worth += w * w
		}
		return ws, 1 / worth
	}
	ws, worth := part(1)
	if worth >= fewestAlike {
		return ws
	}
	low, high := 0.0, 1.0
	for range 40 {
		if mid := (low + high) / 2; worthOf(part(mid)) >= fewestAlike {
			low = mid
		} else {
			high = mid
		}
	}
	ws, _ = part(low)
	return ws
}

func worthOf(_ []float64, worth float64) float64 { return worth }

// ratios returns the logarithm of that proportion for each draw. It is laid out
// for some of them and, where it hardly bends over the width of what is held,
// read for the others off the paraboloid that fits those best; where it bends
// otherwise, it is laid out for all.
func (o *observer) ratios(draws []draw, p *posterior) []float64 {
	taught := o.taught()
	n := min(len(draws), max(fewestLaid, 3*len(bends(draws[0], taught))))
	at := make([]int, n)
	for i := range at {
		at[i] = i * len(draws) / n
	}
	laid := o.lay(draws, at, p)
	if n < len(draws) {
		if out, off := paraboloid(draws, taught, at, laid); off < fits {
			return out
		}
		at = at[:0]
		for i := range draws {
			at = append(at, i)
		}
		laid = o.lay(draws, at, p)
	}
	return laid
}

// lay lays the course anew for some draws.
func (o *observer) lay(draws []draw, at []int, p *posterior) []float64 {
	laid := make([]float64, len(at))
	onCores(0, len(at), func(int) func(int) {
		l := o.layer()
		return func(i int) {
			d := draws[at[i]]
			laid[i] = l.follow(d.trade, d.wait).chance - p.chance(d)
		}
	})
	return laid
}

// fewestLaid is for how many draws the course is laid anew at least, and fits
// how far, root mean square, a paraboloid may be off there in the logarithm: a
// fifth blurs the weight of a draw less than taking it whole or not does.
const (
	fewestLaid = 48
	fits       = 0.2
)

// bends are the terms of a paraboloid over a draw: how each trade's pace bends
// it, and how it twists with the wait; paces of two trades do not twist it.
// Trades of which nothing was seen bend nothing.
func bends(d draw, taught []bool) []float64 {
	out := []float64{1, d.wait, d.wait * d.wait}
	for t, v := range d.trade {
		if taught[t] {
			out = append(out, v, v*v, v*d.wait)
		}
	}
	return out
}

// taught reports of each trade whether any step of it was seen begun.
func (o *observer) taught() []bool {
	out := make([]bool, len(o.trades))
	for i, t := range o.trade {
		if t >= 0 && o.seen[i].begun {
			out[t] = true
		}
	}
	return out
}

// paraboloid fits values at some draws by least squares, reads it at all, and
// says how far it is off where it was fitted, root mean square. The little that is added to the diagonal keeps it still where a quantity
// hardly varies.
func paraboloid(draws []draw, taught []bool, at []int, values []float64) (out []float64, off float64) {
	m := len(bends(draws[0], taught))
	normal, right := mat.NewSymDense(m, nil), mat.NewVecDense(m, nil)
	for i, k := range at {
		x := mat.NewVecDense(m, bends(draws[k], taught))
		normal.SymRankOne(normal, 1, x)
		right.AddScaledVec(right, values[i], x)
	}
	for i := range m {
		normal.SetSym(i, i, normal.At(i, i)*(1+1e-9)+1e-9)
	}
	out = make([]float64, len(draws))
	var chol mat.Cholesky
	var fit mat.VecDense
	if !chol.Factorize(normal) || chol.SolveVecTo(&fit, right) != nil {
		return out, math.Inf(1)
	}
	for k, d := range draws {
		out[k] = mat.Dot(mat.NewVecDense(m, bends(d, taught)), &fit)
	}
	for i, k := range at {
		off += (out[k] - values[i]) * (out[k] - values[i])
	}
	return out, math.Sqrt(off / float64(max(1, len(at)-m)))
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
