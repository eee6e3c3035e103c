package jackstay

import (
	"math"
	"math/rand/v2"
	"testing"

	"dogshore/rope"
)

// Wherever it begins, the kernel comes to the same place; and what it says the
// hook gives for a newton more is what it does give.
func TestKernelFromAnywhere(t *testing.T) {
	r := rand.New(rand.NewPCG(17, 18))
	for range 3000 {
		law, _ := rope.Linear(math.Exp(math.Log(3e4) + 5*r.Float64()))
		if r.IntN(3) == 0 {
			law, _ = rope.Table([]rope.Point{{Strain: 0.02, Tension: 200 + 500*r.Float64()}, {Strain: 0.04 + 0.06*r.Float64(), Tension: 12000}, {Strain: 0.12, Tension: 13000}})
		}
		chord := 1 + 10*r.Float64()
		at, ratio := 0.002+0.996*r.Float64(), 0.98+0.08*r.Float64()
		if r.IntN(4) == 0 {
			at = 0.002 + 0.03*r.Float64()
		}
		a, b := newRun(&law, at*chord*ratio, 0), newRun(&law, (1-at)*chord*ratio, 0)
		if r.IntN(3) == 0 {
			dead := 3 * r.Float64()
			a = newRun(&law, a.rest+dead*ratio, dead)
		}
		var p place
		f := math.Exp(math.Log(50) + 6*r.Float64())
		for k := range 33 {
			sin, cos := math.Sincos(math.Pi * float64(k) / 32)
			fx, fy := f*cos, math.Abs(f*sin)
			p = jam(chord, &a, &b, fx, fy, rough, p, k > 0)
			q := jam(chord, &a, &b, fx, fy, exact, place{}, false)
			if d := math.Hypot(p.x-q.x, p.y-q.y); d > 1e-6 || p.at != q.at || math.Abs(p.ta-q.ta) > 1e-5*(f+q.ta) {
				t.Fatalf("chord %g, at %g, ratio %g, EA %g, dead %g, load %g %g: %+v, from nowhere %+v", chord, at, ratio, law.Slope(), a.dead, fx, fy, p, q)
			}
			if g := gradient(chord, &a, &b, fx, fy, q.x, q.y); q.at == bothLegs && math.Hypot(g.x, g.y) > 1e-8*(f+q.ta+q.tb) {
				t.Fatalf("chord %g, at %g, ratio %g, load %g %g: %g N off", chord, at, ratio, fx, fy, math.Hypot(g.x, g.y))
			}
			if _, straight := law.Linear(); !straight || q.at != bothLegs || math.Min(q.ta, q.tb) < 1e-3*f {
				continue
			}
			const more = 1e-5
			up := jam(chord, &a, &b, fx*(1+more), fy*(1+more), exact, place{}, false)
			give := ((up.x-q.x)*cos + (up.y-q.y)*math.Abs(sin)) / (more * f)
			if up.at == bothLegs && math.Abs(give-q.give) > 2e-3*q.give+1e-12 {
				t.Fatalf("gives %g, by difference %g: %+v", q.give, give, q)
			}
		}
	}
}

func TestSlidingGives(t *testing.T) {
	r := rand.New(rand.NewPCG(21, 22))
	for range 3000 {
		law, _ := rope.Linear(math.Exp(math.Log(3e4) + 5*r.Float64()))
		chord, ratio := 1+10*r.Float64(), 0.98+0.08*r.Float64()
		f := math.Exp(math.Log(50) + 6*r.Float64())
		n := newRun(&law, chord*ratio, 0)
		fx, fy := f*(r.Float64()-0.5), f
		q, up := slide(chord, &n, fx, fy, Stop), slide(chord, &n, fx*1.00001, fy*1.00001, Stop)
		size := math.Hypot(fx, fy)
		give := ((up.x-q.x)*fx + (up.y-q.y)*fy) / size / (1e-5 * size)
		if q.at == bothLegs && up.at == bothLegs && math.Abs(give-q.give) > 2e-3*q.give+1e-12 {
			t.Fatalf("sliding: gives %g, by difference %g: %+v", q.give, give, q)
		}
	}
}
