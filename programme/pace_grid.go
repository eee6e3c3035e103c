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
// logarithms: these reach beyond 5 of it, from 0.22 to 4.5 times. Likelihoods
// are computed on the coarse one and laid on the fine one by a cubic spline of
// their logarithm, which is smooth, for the widths that they have.
var (
	coarsePaces = grid{-1.5, 0.05, 61}
	paces       = grid{-1.5, 0.0125, 241}
)

// least keeps the logarithm of a likelihood finite. What lies below it is
// impossible beside anything that is not.
const least = 1e-300

// logLikelihood tabulates the logarithm of what spells say of a pace on the
// fine grid, 0 at its largest.
func logLikelihood(spells []spell) []float64 {
	out := make([]float64, paces.n)
	xs, ys := make([]float64, coarsePaces.n), make([]float64, coarsePaces.n)
	for i := range xs {
		xs[i] = coarsePaces.at(i)
		for k := range spells {
			s := &spells[k]
			ys[i] += math.Log(max(least, s.from.reach(s.law.at(xs[i]), s.to)))
		}
	}
	var s interp.NaturalCubic
	if err := s.Fit(xs, ys); err != nil {
		panic("programme: internal error: " + err.Error())
	}
	top := math.Inf(-1)
	for i := range out {
		out[i] = s.Predict(paces.at(i))
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
	before := 0.0
	for i, w := range weight {
		s.sum[i] = before + w/2
		before += w
	}
	return s
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
