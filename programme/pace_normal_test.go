package programme_test

import (
	"math"
	"testing"

	"dogshore/programme"
)

// Against the library's own erfc, in both tails.
func TestNormalBetweenItsSteps(t *testing.T) {
	worst := 0.0
	for i := -120001; i <= 120001; i++ {
		z := float64(i) / 10007
		want := math.Erfc(-z/math.Sqrt2) / 2
		if z < 0 {
			worst = math.Max(worst, math.Abs(programme.Normal(z)/want-1))
		} else {
			worst = math.Max(worst, math.Abs(programme.Normal(z)-want))
		}
	}
	if worst > 5e-10 {
		t.Errorf("off by %.2g", worst)
	}
}
