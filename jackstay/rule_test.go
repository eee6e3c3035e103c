package jackstay_test

import (
	"strings"
	"testing"

	"dogshore/jackstay"
)

func kept(answers []jackstay.Answer, key string) jackstay.Answer {
	for _, a := range answers {
		if a.Key == key {
			return a
		}
	}
	return jackstay.Answer{}
}

func TestRules(t *testing.T) {
	g := []jackstay.Given{
		{Key: jackstay.LineMBL, Value: 20006}, {Key: jackstay.LineIsWire, Value: 0}, {Key: jackstay.RailUpper, Value: 0.55}, {Key: jackstay.HullLength, Value: 13},
		{Key: jackstay.RailGap, Value: 0.4}, {Key: jackstay.FirstLaunched, Value: 2027}, {Key: jackstay.PointsApart, Value: 3}, {Key: jackstay.PostsInboard, Value: 0.3},
		{Key: jackstay.Beam, Value: 6.6}, {Key: jackstay.WireHMPE, Value: 0.005}, {Key: jackstay.TetherLength, Value: 2}, {Key: jackstay.TetherLength, Value: 1.8},
	}
	a := jackstay.Rules(g)
	for key, want := range map[string]jackstay.Kept{
		"osr-jackstay-strength": jackstay.Met, "osr-jackstay-wire": jackstay.NotHer, "osr-rail-upper": jackstay.NotMet, "osr-rail-small": jackstay.NotHer,
		"osr-rail-gap": jackstay.NotMet, "osr-rail-gap-older": jackstay.NotHer, "iso-points": jackstay.Met, "osr-posts-inboard": jackstay.Met,
		"osr-hmpe": jackstay.Met, "osr-hmpe-small": jackstay.NotHer, "osr-tether-length": jackstay.KeptTwice, "iso-foot-stop": jackstay.KeptUnknown,
		"osr-points-stay": jackstay.KeptUnknown, "iso-rail-low": jackstay.Met,
	} {
		if got := kept(a, key); got.Kept != want {
			t.Errorf("%s: %s, want %s", key, got.Kept, want)
		}
	}
	if got := kept(a, "iso-foot-stop").Asks; got != jackstay.DesignOcean {
		t.Errorf("the foot-stop asks for %q", got)
	}
}

func TestNothingEnteredNothingSaid(t *testing.T) {
	for _, a := range jackstay.Rules(nil) {
		if a.Kept != jackstay.KeptUnknown || a.Asks == "" || a.Value != nil {
			t.Errorf("%s: %s", a.Key, a.Kept)
		}
	}
}

func TestClauses(t *testing.T) {
	seen := map[string]bool{}
	for _, c := range jackstay.Clauses() {
		if seen[c.Key] || c.Says == "" || c.Edition == "" || c.Source.Text == "" || (c.AtLeast == nil) == (c.AtMost == nil) {
			t.Errorf("%+v", c)
		}
		seen[c.Key] = true
		if c.Unit != "" && !strings.HasSuffix(string(c.Needs), ", "+c.Unit) {
			t.Errorf("%s: unit %s of %s", c.Key, c.Unit, c.Needs)
		}
	}
	if len(seen) < 35 {
		t.Errorf("only %d clauses", len(seen))
	}
}

// Moving a figure to the good side of a limit never breaks the clause.
func TestClausesAreLimits(t *testing.T) {
	for _, c := range jackstay.Clauses() {
		var g []jackstay.Given
		for _, l := range c.Only {
			g = append(g, jackstay.Given{Key: l.Of, Value: l.At})
		}
		limit, sign := 0.0, 1.0
		if c.AtLeast != nil {
			limit = *c.AtLeast
		} else {
			limit, sign = *c.AtMost, -1
		}
		for off, want := range map[float64]jackstay.Kept{0: jackstay.Met, 0.001: jackstay.Met, -0.001: jackstay.NotMet} {
			rest := g
			if c.OrPart != nil {
				rest = append(rest, jackstay.Given{Key: c.OrPart.Of, Value: 0})
			}
			if got := kept(jackstay.Rules(append(rest, jackstay.Given{Key: c.Needs, Value: limit + sign*off})), c.Key).Kept; got != want {
				t.Errorf("%s, off by %g: %s, want %s", c.Key, sign*off, got, want)
			}
		}
	}
}
