package programme

import (
	"math"
	"sort"

	"gonum.org/v1/gonum/interp"
)

// grid is an even grid of logarithms of a pace or a wait.
type grid struct {
	from, step float64
	n          int
}

func (g grid) at(i int) float64 { return g.from + g.step*float64(i) }

// The pace of a trade has a standard deviation of 0.29 beforehand, in
// logarithms: these reach beyond 5 of it, from 0.22 to 4.5 times; and the mean
// wait 4 of its 1, to either side. Likelihoods
// are computed on the coarse one and laid on the fine one by a cubic spline of
// their logarithm, which is smooth, for the widths that they have.
const paceStep = 0.0125

var (
	coarsePaces = grid{-1.5, 0.05, 61}
	paces       = grid{-1.5, paceStep, 241}

	coarseWaits = grid{math.Log(priorWait) - 4, 0.2, 41}
	waits       = grid{math.Log(priorWait) - 4, 0.05, 161}
)

// least keeps the logarithm of a likelihood finite. What lies below it is
// impossible beside anything that is not.
const least = 1e-300

// curve is the logarithm of a likelihood, as a cubic spline through the nodes
// of a grid.
type curve struct{ interp.NaturalCubic }

// says computes what spells say of the shift of their laws: of each on a core of
// its own, and added up in their order.
func says(g grid, spells []spell) *curve {
	each := make([]float64, g.n*len(spells))
	onCores(0, len(spells), func(int) func(int) {
		return func(k int) {
			s := &spells[k]
			reaching := s.from.reaching(s.to)
			for i := range g.n {
				each[k*g.n+i] = math.Log(max(least, reaching.chance(s.law.at(g.at(i)))))
			}
		}
	})
	xs, ys := make([]float64, g.n), make([]float64, g.n)
	for i := range xs {
		xs[i] = g.at(i)
		for k := range spells {
			ys[i] += each[k*g.n+i]
		}
	}
	var c curve
	if err := c.Fit(xs, ys); err != nil {
		panic("programme: internal error: " + err.Error())
	}
	return &c
}

// on tabulates c on a grid, 0 at its largest.
func (c *curve) on(g grid) []float64 {
	out, top := make([]float64, g.n), math.Inf(-1)
	for i := range out {
		out[i] = c.Predict(g.at(i))
		top = max(top, out[i])
	}
	for i := range out {
		out[i] -= top
	}
	return out
}

// bell is the logarithm of a normal density without its constant.
func bell(x, sd float64) float64 { return -x * x / (2 * sd * sd) }

// weights turns logarithms into weights that add up to 1.
func weights(logs []float64) []float64 {
	top, sum := math.Inf(-1), 0.0
	for _, v := range logs {
		top = max(top, v)
	}
	out := make([]float64, len(logs))
	for i, v := range logs {
		out[i] = math.Exp(v - top)
		sum += out[i]
	}
	for i := range out {
		out[i] /= sum
	}
	return out
}

// sampler draws from a density on a grid by its distribution function.
type sampler struct {
	g   grid
	sum []float64 // of weight up to each node, half of its own included
}

func (g grid) sampler(weight []float64) sampler {
	s := sampler{g: g, sum: make([]float64, len(weight))}
	s.lay(weight)
	return s
}

// lay makes s a sampler of another weight, which may lie in s.sum itself.
func (s sampler) lay(weight []float64) {
	before := 0.0
	for i, w := range weight {
		s.sum[i] = before + w/2
		before += w
	}
}

// quantile returns the point below which the share u of the weight lies.
func (s sampler) quantile(u float64) float64 {
	i := sort.SearchFloat64s(s.sum, u)
	switch {
	case i == 0:
		return s.g.at(0)
	case i == len(s.sum):
		return s.g.at(i - 1)
	}
	a, b := s.sum[i-1], s.sum[i]
	return s.g.at(i-1) + s.g.step*(u-a)/(b-a)
}
