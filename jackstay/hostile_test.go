package jackstay_test

import (
	"encoding/json"
	"math/rand/v2"
	"testing"

	"dogshore/jackstay"
	"dogshore/plane"
)

// A line up a mast, one that turns back on itself, an outline that crosses
// itself, a deck of nothing: an answer in numbers, or a refusal in words.
func TestStrangeDecks(t *testing.T) {
	webbing := jackstay.Stuff{Material: "polyester webbing 25 mm"}
	for name, c := range map[string]jackstay.Case{
		"nothing":      {},
		"up a mast":    oneLine(webbing, nil, support(0, 0, 1), support(0, 0, 4)),
		"slack, up":    oneLine(webbing, num(0.05), support(0, 0, 1), support(0, 0, 4)),
		"there, back":  oneLine(webbing, num(0.05), support(0, 0, 1), jackstay.Support{At: jackstay.Spot{X: 5, Z: 1}, Kind: jackstay.GuideSupport}, support(0, 0, 1)),
		"bow tie":      {Outline: []plane.Point{pt(0, 0), pt(4, 4), pt(4, 0), pt(0, 4)}, Points: []jackstay.ClipPoint{eye("a", 1, 1)}},
		"edge at hook": {Edges: []jackstay.Edge{{ID: "e", Path: []plane.Point{pt(-1, 0), pt(1, 0)}}}, Points: []jackstay.ClipPoint{eye("a", 0, 0)}},
		"wire so tight": func() jackstay.Case {
			c := oneLine(jackstay.Stuff{Material: "1x19 wire 5 mm"}, nil, support(0, 0, 1), support(5, 0, 1))
			c.Lines[0].Pretense = num(15e3)
			c.Lines[0].Supports[0].Spring = 2e5
			return c
		}(),
	} {
		r, err := jackstay.Deck(c)
		if err != nil {
			t.Errorf("%s: %v", name, err)
			continue
		}
		if _, err := json.Marshal(r); err != nil { // no number that is none
			t.Errorf("%s: %v", name, err)
		}
		if name == "bow tie" && r.Deck != 0 {
			t.Errorf("an outline that crosses itself has %g m2", r.Deck)
		}
	}
}

// Whatever is taken is answered in numbers.
func TestRandomDecks(t *testing.T) {
	r := rand.New(rand.NewPCG(23, 24))
	worked := 0
	for range 40 {
		var c jackstay.Case
		for l := range 1 + r.IntN(3) {
			line := jackstay.Line{ID: string(rune('a' + l)), Stuff: jackstay.Stuff{Stiffness: 2e4 + 3e6*r.Float64()}, Together: r.IntN(4)}
			for range 2 + r.IntN(3) {
				s := support(10*r.Float64(), 6*r.Float64()-3, 2*r.Float64())
				s.Kind = []jackstay.SupportKind{jackstay.FixedSupport, jackstay.GuideSupport}[r.IntN(2)]
				line.Supports = append(line.Supports, s)
			}
			switch r.IntN(3) {
			case 0:
				line.Slack = num(0.1*r.Float64() - 0.02)
			case 1:
				line.Pretense = num(3000 * r.Float64())
			}
			c.Lines = append(c.Lines, line)
		}
		c.Edges = []jackstay.Edge{{ID: "e", Path: []plane.Point{pt(0, 3*r.Float64()), pt(10, 3)}, Z: 2 * r.Float64(), Rails: []float64{0.6}}}
		c.Catches = []jackstay.Catch{{ID: "k", Path: square(5, 0, r.Float64()), Area: true, Z: 1}}
		c.Outline = square(0, -3, 10)
		c.Loads = jackstay.Loads{Fall: num(2 * r.Float64()), Slide: num(5 * r.Float64()), EdgeMu: num(r.Float64())}
		out, err := jackstay.Deck(c)
		if err != nil {
			continue // two supports at one place
		}
		if _, err := json.Marshal(out); err != nil {
			t.Fatalf("%v: %+v", err, c)
		}
		for _, l := range out.Lines {
			if !(l.Tension.As > 0) || !(l.Arrest.Stiff > 0) || len(l.Reaches[0].Soft) != len(l.Spans) {
				t.Errorf("%+v", l)
			}
		}
		worked++
	}
	if worked < 30 {
		t.Errorf("only %d decks", worked)
	}
}
