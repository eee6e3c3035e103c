package jackstay

import (
	"math"
	"testing"

	"dogshore/rope"
)

// BenchmarkKernel is one equilibrium: jammed from a near place, jammed from
// nowhere, sliding.
func BenchmarkKernel(b *testing.B) {
	law, _ := rope.Linear(150e3)
	na, nb := newRun(&law, 3.03, 0), newRun(&law, 7.07, 0)
	whole := newRun(&law, 10.1, 0)
	const dirs = 33
	var fx, fy [dirs]float64
	for i := range dirs {
		th := math.Pi * float64(i) / (dirs - 1)
		fx[i], fy[i] = 1500*math.Cos(th), 1500*math.Abs(math.Sin(th))
	}
	b.Run("jammed-near", func(b *testing.B) {
		var p place
		n := 0
		for b.Loop() {
			p = jam(10, &na, &nb, fx[n%dirs], fy[n%dirs], rough, p, n%dirs > 0)
			n++
		}
	})
	b.Run("jammed", func(b *testing.B) {
		n, steps := 0, 0
		for b.Loop() {
			p := jam(10, &na, &nb, fx[n%dirs], fy[n%dirs], exact, place{}, false)
			n++
			steps += p.steps
		}
		b.ReportMetric(float64(steps)/float64(n), "steps")
	})
	b.Run("sliding", func(b *testing.B) {
		n, steps := 0, 0
		for b.Loop() {
			p := slide(10, &whole, fx[n%dirs], fy[n%dirs], Stop)
			n++
			steps += p.steps
		}
		b.ReportMetric(float64(steps)/float64(n), "steps")
	})
}
