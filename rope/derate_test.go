package rope_test

import (
	"errors"
	"testing"

	"dogshore/internal/test"
	"dogshore/rope"
)

func TestDerating(t *testing.T) {
	src := "safety-lines sheet, case 33 [computed]"
	low, _, err := rope.Derate(30e3, 30e3, []string{"bowline"})
	if err != nil {
		t.Fatal(err)
	}
	sun, _, ok := rope.Sun(rope.Polyester, 1)
	if !ok {
		t.Fatal("no sun on polyester")
	}
	test.Check(t, "30 kN polyester, bowline, a year of sun, design factor 5, kN", src, 2.814, rope.Working(low, 5, sun)/1e3, 0.0005)
	test.Check(t, "breaking load needed for 6.2 kN, factor 3, splice, sun, kN", src, 29.52, rope.Needed(6200, 3, 0.9, sun)/1e3, 0.005)
}

func TestFactors(t *testing.T) {
	var all []string
	for _, f := range rope.Factors() {
		if !(0 < f.Low && f.Low <= f.High && f.High <= 1) || f.Source.Text == "" {
			t.Errorf("%+v", f)
		}
		all = append(all, f.Key)
	}
	low, high, err := rope.Derate(1, 1, all)
	if err != nil || !(0 < low && low < high && high < 1) {
		t.Errorf("all together %g to %g, %v", low, high, err)
	}
	if _, _, err := rope.Derate(1, 1, []string{"granny"}); !errors.Is(err, rope.ErrFactor) {
		t.Errorf("granny: %v", err)
	}
	if rope.DesignFactor(true) != 3 || rope.DesignFactor(false) != 2 {
		t.Error("design factors")
	}
}

func TestSunNeverGivesBack(t *testing.T) {
	for _, f := range []rope.Fibre{rope.Wire, rope.HMPE, rope.Polyester, rope.Nylon} {
		lastLow, lastHigh := 1.0, 1.0
		for y := 0.0; y <= 12; y += 0.25 {
			low, high, ok := rope.Sun(f, y)
			if !ok || low > lastLow || high > lastHigh || low > high || low < 0.39 {
				t.Errorf("%s, %g years: %g to %g", f, y, low, high)
			}
			lastLow, lastHigh = low, high
		}
		if f.Textile() == (f == rope.Wire) {
			t.Errorf("%s", f)
		}
	}
	if _, _, ok := rope.Sun("hemp", 1); ok {
		t.Error("hemp has a sun")
	}
}
