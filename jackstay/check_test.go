package jackstay_test

import (
	"errors"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/rope"
)

func TestWhatIsRefused(t *testing.T) {
	for says, spoil := range map[string]func(*jackstay.Case){
		"has no id":              func(c *jackstay.Case) { c.Lines[0].ID = "" },
		"two of the line":        func(c *jackstay.Case) { c.Lines[1].ID = c.Lines[0].ID },
		"has 1 supports":         func(c *jackstay.Case) { c.Lines[0].Supports = c.Lines[0].Supports[:1] },
		"nearer than":            func(c *jackstay.Case) { c.Lines[0].Supports[1].At = c.Lines[0].Supports[0].At },
		"has no place":           func(c *jackstay.Case) { c.Lines[0].Supports[1].At.X = math.NaN() },
		"fixed or guide":         func(c *jackstay.Case) { c.Lines[0].Supports[1].Kind = "glued" },
		"neither a material":     func(c *jackstay.Case) { c.Lines[0].Stuff = jackstay.Stuff{} },
		"not in the table":       func(c *jackstay.Case) { c.Lines[0].Stuff.Material = "hemp" },
		"must both rise":         func(c *jackstay.Case) { c.Lines[0].Stuff.Curve = []jackstay.CurvePoint{{0.1, 10}, {0.2, 5}} },
		"enter one":              func(c *jackstay.Case) { c.Lines[0].Slack, c.Lines[0].Pretense = num(0), num(0) },
		"slack of 2":             func(c *jackstay.Case) { c.Lines[0].Slack = num(2) },
		"they must rise":         func(c *jackstay.Case) { c.Edges[0].Rails = []float64{0.6, 0.3} },
		"corner 1 is no place":   func(c *jackstay.Case) { c.Outline = []plane.Point{pt(math.Inf(1), 0), pt(1, 0), pt(0, 1)} },
		"it needs 3":             func(c *jackstay.Case) { c.Outline = c.Outline[:2] },
		"0 legs":                 func(c *jackstay.Case) { c.Tethers = []jackstay.Tether{{ID: "t"}} },
		"which there is not":     func(c *jackstay.Case) { c.Persons = []jackstay.Person{{ID: "p", Uses: []string{"t"}}} },
		"F5 F50 F95":             func(c *jackstay.Case) { c.Persons = []jackstay.Person{{ID: "p", Body: "giant"}} },
		"speed of a slide of -1": func(c *jackstay.Case) { c.Loads.Slide = num(-1) },
		"heel of 2":              func(c *jackstay.Case) { c.Sea.Heel = 2 },
		"error of the tracing":   func(c *jackstay.Case) { c.Tracing = -1 },
		"more than 40 lines":     func(c *jackstay.Case) { c.Lines = make([]jackstay.Line, 41) },
		"length of 3":            func(c *jackstay.Case) { c.Lines[0].Supports[1].At.X = 200 },
	} {
		c := catamaran()
		spoil(&c)
		_, err := jackstay.Deck(c)
		var bad *jackstay.Invalid
		if !errors.As(err, &bad) || !strings.Contains(err.Error(), says) {
			t.Errorf("%v, want an error that says %q", err, says)
		}
	}
	c := catamaran()
	c.Lines[0].ID, c.Sea.Heel = "", 2
	var all *jackstay.Invalid
	if _, err := jackstay.Deck(c); !errors.As(err, &all) || len(all.Problems) != 2 {
		t.Errorf("%v, want both problems", err)
	}
}

func TestSolversRefuse(t *testing.T) {
	good := tenMetres(t, 150e3, 10)
	for name, err := range map[string]error{
		"no law":       second(jackstay.Hang(jackstay.Span{To: good.To, Rest: 10}, jackstay.Hook{})),
		"no length":    second(jackstay.Hang(jackstay.Span{To: good.To, Law: good.Law}, jackstay.Hook{})),
		"one place":    second(jackstay.Hang(jackstay.Span{Law: good.Law, Rest: 10}, jackstay.Hook{})),
		"jammed at 1":  second(jackstay.Hang(good, jackstay.Hook{Jammed: true, At: 1})),
		"no load":      second(jackstay.Hang(good, jackstay.Hook{Load: jackstay.Vector{X: math.NaN()}})),
		"no direction": second(jackstay.Caught(good, jackstay.Hook{}, strap(t, 1e5, 2), jackstay.Drop{Mass: 80})),
		"no mass":      second(jackstay.CaughtByEye(strap(t, 1e5, 2), jackstay.Drop{})),
		"no tether":    second(jackstay.CaughtByEye(jackstay.Strap{}, jackstay.Drop{Mass: 80})),
	} {
		var bad *jackstay.Invalid
		if !errors.As(err, &bad) {
			t.Errorf("%s: %v", name, err)
		}
	}
	for name, pulls := range map[string][]jackstay.Pull{
		"nobody": nil, "outside": {{Span: 3, At: 0.5, Load: across}}, "at its end": {{At: 0, Load: across}}, "no load": {{At: 0.5}}, "too many": make([]jackstay.Pull, 17),
	} {
		if _, _, _, err := jackstay.Spread(threeSpans(t, 1e5, 0), pulls); err == nil {
			t.Errorf("%s was taken", name)
		}
	}
}

func second[T any](_ T, err error) error { return err }

// No load: a slack line lies anywhere, a taut one where it is.
func TestNoLoad(t *testing.T) {
	for _, jammed := range []bool{false, true} {
		h := hang(t, tenMetres(t, 150e3, 10.2), jackstay.Hook{Jammed: jammed, At: 0.5})
		if h.Branch == "" || h.Tension != [2]float64{} {
			t.Errorf("slack: %+v", h)
		}
		h = hang(t, tenMetres(t, 150e3, 9.9), jackstay.Hook{Jammed: jammed, At: 0.5})
		if math.Abs(h.Sag) > 1e-9 || math.Abs(h.Tension[0]-150e3*(10/9.9-1)) > 1e-6 {
			t.Errorf("taut: %+v", h)
		}
	}
}

// Along the line: the hook runs to the end it is pulled to, and that end holds
// it; jammed, one leg of a slack line holds all.
func TestKinksHaveNames(t *testing.T) {
	for _, x := range []float64{900, -900} {
		h := hang(t, tenMetres(t, 150e3, 10.05), jackstay.Hook{Load: jackstay.Vector{X: x}})
		k := 0
		if x > 0 {
			k = 1
		}
		if h.How != jackstay.HeldBySupport || h.Ends[k].X != x || h.At.X != 10*float64(k) {
			t.Errorf("%g N along a slack line: %+v", x, h)
		}
		h = hang(t, tenMetres(t, 150e3, 10.05), jackstay.Hook{Load: jackstay.Vector{X: x}, Jammed: true, At: 0.5})
		if h.Tension[k] != 0 || math.Abs(h.Tension[1-k]-900) > 1e-9 || h.Branch == "" {
			t.Errorf("%g N along a slack line, jammed: %+v", x, h)
		}
	}
	// just on either side of the kink |F - T0 e| = T0, from any side
	s := tenMetres(t, 150e3, jackstay.RestFor(linear(t, 150e3), 10, 500))
	for deg := 1.0; deg < 89; deg++ {
		sin, cos := math.Sincos(deg * math.Pi / 180)
		limit := 2 * 500 * cos // of the load that the end still holds
		below := hang(t, s, jackstay.Hook{Load: jackstay.Vector{X: 0.99 * limit * cos, Y: 0.99 * limit * sin}})
		far := hang(t, s, jackstay.Hook{Load: jackstay.Vector{X: 1.3 * limit * cos, Y: 1.3 * limit * sin}})
		if below.How != jackstay.HeldBySupport || far.How == jackstay.HeldBySupport && far.At.X < 10-jackstay.Stop {
			t.Errorf("%g deg: %+v %+v", deg, below, far)
		}
	}
}

// Stiff without end, the hook lies on the ellipse and halves the angle.
func TestInextensibleLimit(t *testing.T) {
	r := rand.New(rand.NewPCG(13, 14))
	for range 100 {
		rest := 10 * (1.002 + 0.1*r.Float64())
		h := hang(t, tenMetres(t, 1e12, rest), jackstay.Hook{Load: jackstay.Vector{X: 1000 * (r.Float64() - 0.5), Y: 1000}})
		ra, rb := h.At.VecDist(jackstay.Spot{}), h.At.VecDist(jackstay.Spot{X: 10})
		if h.How == jackstay.Sliding && math.Abs(ra+rb-rest) > 1e-6 {
			t.Errorf("legs of %g, line of %g", ra+rb, rest)
		}
	}
}

// Loads of any size and direction, laws and lengths of any kind: always an
// answer that balances.
func TestNothingEndsInNoNumber(t *testing.T) {
	r := rand.New(rand.NewPCG(15, 16))
	for range 3000 {
		law, _ := rope.Linear(math.Exp(5 + 15*r.Float64()))
		s := jackstay.Span{From: jackstay.Spot{Z: r.Float64()}, To: jackstay.Spot{X: 0.2 + 20*r.Float64(), Z: 3 * r.Float64()}, Law: law}
		s.Rest = s.From.VecDist(s.To) * (0.9 + 0.3*r.Float64())
		size := math.Exp(20*r.Float64() - 8)
		h, err := jackstay.Hang(s, jackstay.Hook{Load: jackstay.Vector{X: size * (r.Float64() - 0.5), Y: size * (r.Float64() - 0.5), Z: size * (r.Float64() - 0.5)}, Jammed: r.IntN(2) == 0, At: 0.01 + 0.98*r.Float64()})
		if err != nil {
			t.Fatal(err)
		}
		// rounding of lengths of 20 m makes so much force in the stiffest leg
		round := 1e-14 * law.Slope() * 20 / (0.01 * s.Rest)
		if !(h.Residual <= 1e-9*size+round) || math.IsNaN(h.Sag+h.Tension[0]+h.Tension[1]) || h.Steps > 100 {
			t.Errorf("load %g, EA %g, rest %g of %g: %+v", size, law.Slope(), s.Rest, s.From.VecDist(s.To), h)
		}
	}
}
