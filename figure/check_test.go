package figure_test

import (
	"math"
	"strings"
	"testing"

	"dogshore/figure"
)

func leaf(symbol string, v float64) figure.Figure { return figure.Figure{Symbol: symbol, Value: v} }

func TestCheckEvaluates(t *testing.T) {
	in := []figure.Figure{leaf("a", 2), leaf("b_1", 3), leaf("L", -4)}
	fns := map[string]func(...float64) float64{"hyp": func(x ...float64) float64 { return math.Hypot(x[0], x[1]) }}
	for rule, want := range map[string]float64{
		"v = a + b_1 * L":                   -10,
		"v = (a + b_1) * L":                 -20,
		"v = a - b_1 - L":                   3,
		"v = 12 / a / b_1":                  2,
		"v = -a * -b_1":                     6,
		"v = max(a, b_1, L) - min(a, L)":    7,
		"v = hyp(b_1, -L) × 1.5":            7.5,
		"v=max(max(1,a),hyp(3,4)-0.5) − .5": 4,
	} {
		f := figure.Figure{Symbol: "v", Value: want, Rule: rule, Of: in}
		if err := figure.Check(f, fns); err != nil {
			t.Error(err)
		}
		f.Value += 1e-6
		if err := figure.Check(f, fns); err == nil {
			t.Errorf("%q: a wrong value passed", rule)
		}
	}
}

func TestCheckRefuses(t *testing.T) {
	for rule, says := range map[string]string{
		"a + 1":                                  "does not begin",
		"w = a":                                  "is for w",
		"v = a +":                                "missing",
		"v = (a":                                 "not closed",
		"v = a b":                                "left over",
		"v = c":                                  "c is not among the inputs",
		"v = sin(a)":                             "no function sin",
		"v = max(a;a":                            "not closed",
		"v = 1.2.3":                              "missing",
		"v = a / 0":                              "yields",
		"v = " + strings.Repeat("(", 1000) + "a": "too deep",
	} {
		err := figure.Check(figure.Figure{Symbol: "v", Value: 2, Rule: rule, Of: []figure.Figure{leaf("a", 2)}}, nil)
		if err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want an error that says %q", rule, err, says)
		}
	}
}

func TestCheckGoesDeep(t *testing.T) {
	inner := figure.Figure{Symbol: "x", Value: 5, Rule: "x = a + 2", Of: []figure.Figure{leaf("a", 2)}}
	f := figure.Figure{Symbol: "v", Value: 10, Rule: "v = 2 * x", Of: []figure.Figure{inner}}
	if err := figure.Check(f, nil); err == nil || !strings.Contains(err.Error(), "figure x") {
		t.Errorf("%v, want an error about x", err)
	}
	two := figure.Figure{Symbol: "v", Value: 4, Rule: "v = 2 * a", Of: []figure.Figure{leaf("a", 2), leaf("a", 3)}}
	if err := figure.Check(two, nil); err == nil {
		t.Error("two inputs of one name and different values passed")
	}
}

func FuzzCheck(f *testing.F) {
	for _, s := range []string{"v = a + 1", "v = max(a, -2) / (3 - a)", "v=((", "= 1", "v = 1,2"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, rule string) {
		_ = figure.Check(figure.Figure{Symbol: "v", Value: 1, Rule: rule, Of: []figure.Figure{leaf("a", 2)}}, nil)
	})
}
