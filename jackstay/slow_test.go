package jackstay_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/optimize"

	"dogshore/jackstay"
	"dogshore/rope"
)

// potential is what a chain without friction, or one stuck everywhere, makes
// least: written again here from the definition, in plain numbers.
func potential(c jackstay.Chain, pulls []jackstay.Pull, stuck bool, x []float64) float64 {
	sub := func(a, b jackstay.Spot) float64 {
		return math.Sqrt((a.X-b.X)*(a.X-b.X) + (a.Y-b.Y)*(a.Y-b.Y) + (a.Z-b.Z)*(a.Z-b.Z))
	}
	var chord float64
	for i := 1; i < len(c.Supports); i++ {
		chord += sub(c.Supports[i].At, c.Supports[i-1].At)
	}
	var u, length, rest float64
	end := func() {
		u += rest * c.Law.Energy(length/rest-1)
		length, rest = 0, 0
	}
	for i := 1; i < len(c.Supports); i++ {
		a, b := c.Supports[i-1].At, c.Supports[i].At
		span, last := sub(a, b)*c.Rest/chord, 0.0
		from := a
		for k, p := range pulls { // in order along the line
			if p.Span != i-1 {
				continue
			}
			to := jackstay.Spot{X: x[3*k], Y: x[3*k+1], Z: x[3*k+2]}
			length, rest = length+sub(from, to), rest+span*(p.At-last)
			from, last = to, p.At
			if p.Jammed || stuck {
				end()
			}
			u -= p.Load.X*to.X + p.Load.Y*to.Y + p.Load.Z*to.Z
		}
		length, rest = length+sub(from, b), rest+span*(1-last)
		if stuck || c.Supports[i].Fixed || i == len(c.Supports)-1 {
			end()
		}
	}
	return u
}

func randomChain(r *rand.Rand) (jackstay.Chain, []jackstay.Pull) {
	var c jackstay.Chain
	at := jackstay.Spot{}
	spans := 1 + r.IntN(3)
	length := 0.0
	for i := range spans + 1 {
		c.Supports = append(c.Supports, jackstay.Held{At: at, Fixed: r.IntN(3) == 0})
		next := jackstay.Spot{X: at.X + 2 + 5*r.Float64(), Y: at.Y + r.Float64() - 0.5, Z: at.Z + 0.4*(r.Float64()-0.5)}
		if i < spans {
			length += at.VecDist(next)
		}
		at = next
	}
	c.Law, _ = rope.Linear(math.Exp(math.Log(5e4) + 3*r.Float64()))
	if r.IntN(2) == 0 {
		c.Law, _ = rope.Table([]rope.Point{{Strain: 0.01, Tension: 300 + 500*r.Float64()}, {Strain: 0.03, Tension: 2000 + 2000*r.Float64()}, {Strain: 0.08, Tension: 15e3}})
	}
	c.Rest = length * (0.99 + 0.05*r.Float64())
	var pulls []jackstay.Pull
	for s := range spans {
		if len(pulls) > 0 && r.IntN(2) == 0 {
			continue
		}
		pulls = append(pulls, jackstay.Pull{
			Span: s, At: 0.2 + 0.6*r.Float64(), Jammed: r.IntN(2) == 0,
			Load: jackstay.Vector{X: 300 * (r.Float64() - 0.5), Y: 500 + 2500*r.Float64(), Z: 1000 * (r.Float64() - 0.5)},
		})
	}
	return c, pulls
}

// slope is a gradient by central differences.
func slope(f func([]float64) float64) func(g, x []float64) {
	return func(g, x []float64) {
		for i := range x {
			y := append([]float64(nil), x...)
			y[i] += 1e-6
			up := f(y)
			y[i] -= 2e-6
			g[i] = (up - f(y)) / 2e-6
		}
	}
}

// A general-purpose minimiser, from another start, must find no lower
// potential than ours, and the same places.
func TestAgainstMinimiser(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 6))
	compared := 0
	for range 120 {
		c, pulls := randomChain(r)
		_, free, stuck := spread(t, c, pulls...)
		for k, h := range []jackstay.Hung{free, stuck} {
			ours := make([]float64, 0, 3*len(pulls))
			touching := false
			for _, p := range h.Hooks {
				ours = append(ours, p.At.X, p.At.Y, p.At.Z)
				touching = touching || p.How == jackstay.HeldBySupport || p.Joined
			}
			if touching {
				continue
			}
			f := func(x []float64) float64 { return potential(c, pulls, k == 1, x) }
			start := append([]float64(nil), ours...)
			for i := range start {
				start[i] += r.Float64() - 0.5
			}
			res, err := optimize.Minimize(optimize.Problem{Func: f, Grad: slope(f)}, start, &optimize.Settings{MajorIterations: 400}, &optimize.BFGS{})
			if res == nil {
				t.Fatal(err)
			}
			if f(ours) > res.F+1e-7*(1+math.Abs(res.F)) {
				t.Errorf("our potential %.9g J, the minimiser's %.9g", f(ours), res.F)
			}
			for i := range ours {
				if math.Abs(ours[i]-res.X[i]) > 2e-3 && res.F < f(ours)+1e-6 {
					t.Errorf("hook at %v, the minimiser's at %v", ours, res.X)
				}
			}
			compared++
		}
	}
	if compared < 150 {
		t.Errorf("only %d cases compared", compared)
	}
}

// The span's kernel and the chain are two ways to one answer.
func TestSpanAgainstChain(t *testing.T) {
	r := rand.New(rand.NewPCG(7, 8))
	for range 400 {
		law := linear(t, math.Exp(math.Log(5e4)+3.5*r.Float64()))
		if r.IntN(3) == 0 {
			law, _ = rope.Table([]rope.Point{{Strain: 0.01, Tension: 300 + 500*r.Float64()}, {Strain: 0.03, Tension: 2000 + 2000*r.Float64()}, {Strain: 0.08, Tension: 15e3}})
		}
		a, b := jackstay.Spot{}, jackstay.Spot{X: 2 + 9*r.Float64(), Y: r.Float64(), Z: r.Float64() - 0.5}
		rest := a.VecDist(b) * (0.99 + 0.06*r.Float64())
		load := jackstay.Vector{X: 2000 * (r.Float64() - 0.5), Y: 2000 * r.Float64(), Z: 800 * (r.Float64() - 0.5)}
		jammed, at := r.IntN(2) == 0, 0.05+0.9*r.Float64()
		h := hang(t, jackstay.Span{From: a, To: b, Law: law, Rest: rest}, jackstay.Hook{Load: load, Jammed: jammed, At: at})
		_, free, _ := spread(t, jackstay.Chain{Supports: []jackstay.Held{{At: a}, {At: b}}, Law: law, Rest: rest}, jackstay.Pull{At: at, Load: load, Jammed: jammed})
		if (h.How == jackstay.HeldBySupport) != (free.Hooks[0].How == jackstay.HeldBySupport) {
			t.Errorf("held by a support in one way only: %+v %+v", h, free)
			continue
		}
		if d := h.At.VecDist(free.Hooks[0].At); d > 1e-6 || math.Abs(h.Tension[0]-free.Hooks[0].Tension[0]) > 1e-3 {
			t.Errorf("places %g m apart: %+v\n%+v", d, h, free)
		}
	}
}
