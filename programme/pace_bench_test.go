package programme_test

import (
	"fmt"
	"math/rand/v2"
	"testing"

	"dogshore/programme"
)

// BenchmarkLearn learns from half of a build of 350 steps, in 14 of the small
// boat's networks behind each other.
func BenchmarkLearn(b *testing.B) {
	var steps []yardStep
	for k := range 17 {
		for i, s := range smallBoat {
			s.id = fmt.Sprint(s.id, k)
			s.low, s.high = s.low/2, s.high/2
			after := s.after
			s.after = nil
			for _, p := range after {
				s.after = append(s.after, p+k*len(smallBoat))
			}
			if i == 0 && k > 1 {
				s.after = []int{(k-2)*len(smallBoat) + 19}
			}
			steps = append(steps, s)
		}
	}
	y := invent(rand.New(rand.NewPCG(1, 1)), steps, asModelled)
	c := y.seen(y.until(y.finish[len(steps)-1] / 2))
	b.Logf("%d steps, %d visits", len(steps), len(c.Steps[0].Seen))
	b.ReportAllocs()
	for b.Loop() {
		if _, err := programme.Learn(c); err != nil {
			b.Fatal(err)
		}
	}
}
