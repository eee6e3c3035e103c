package bench

import (
	"bufio"
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"math/rand/v2"
	"os/exec"
	"testing"

	"dogshore/internal/test"
	"dogshore/jackstay"
	"dogshore/plane"
	"dogshore/rope"
)

// hookCase is a hook that grips a span somewhere, pulled to the side.
type hookCase struct {
	span jackstay.Span
	hook jackstay.Hook
}

// hookCases makes n spans on which both legs are taut: so the peer, which knows
// no kinks, can do them too.
func hookCases(n int) []hookCase {
	r := rand.New(rand.NewPCG(19, 20))
	var out []hookCase
	for len(out) < n {
		law, _ := rope.Linear(math.Exp(math.Log(6e4) + 3.4*r.Float64()))
		chord := 2 + 10*r.Float64()
		c := hookCase{
			span: jackstay.Span{From: jackstay.Spot{X: r.Float64(), Z: r.Float64()}, Law: law},
			hook: jackstay.Hook{Load: jackstay.Vector{X: 1500 * (r.Float64() - 0.5), Y: 500 + 5000*r.Float64(), Z: 1000 * (r.Float64() - 0.5)}, Jammed: true, At: 0.1 + 0.8*r.Float64()},
		}
		c.span.To = jackstay.Spot{X: c.span.From.X + chord, Y: r.Float64() - 0.5, Z: r.Float64()}
		a, b := c.span.From, c.span.To
		c.span.Rest = math.Sqrt((a.X-b.X)*(a.X-b.X)+(a.Y-b.Y)*(a.Y-b.Y)+(a.Z-b.Z)*(a.Z-b.Z)) * (0.995 + 0.01*r.Float64())
		if h, err := jackstay.Hang(c.span, c.hook); err == nil && h.Branch == "" {
			out = append(out, c)
		}
	}
	return out
}

// numpied is what the peer says of one case: place, tensions, loads on the ends.
type numpied [12]float64

// peers are processor times of the peer for one case, s: our own way (the plane
// of chord and load) in numpy's arrays, of it the part in the plane, and Newton
// in space with numpy's solver for each case's three equations.
type peers struct{ whole, flat, space float64 }

// numpy solves the cases by the peer.
func numpy(t testing.TB, cases []hookCase) (took peers, out []numpied) {
	t.Helper()
	python := "/usr/bin/python3"
	if err := exec.Command(python, "-c", "import numpy").Run(); err != nil {
		t.Skip("no numpy here: apt-get install python3-numpy")
	}
	var in bytes.Buffer
	for _, c := range cases {
		a, b, f := c.span.From, c.span.To, c.hook.Load
		fmt.Fprintln(&in, a.X, a.Y, a.Z, b.X, b.Y, b.Z, c.span.Rest, c.hook.At, c.span.Law.Slope(), f.X, f.Y, f.Z)
	}
	cmd := exec.Command(python, "jackstay.py")
	cmd.Stdin = &in
	text, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	lines := bufio.NewReader(bytes.NewReader(text))
	if _, err := fmt.Fscan(lines, &took.whole, &took.flat, &took.space); err != nil {
		t.Fatal(err)
	}
	out = make([]numpied, len(cases))
	for i := range out {
		for k := range out[i] {
			if _, err := fmt.Fscan(lines, &out[i][k]); err != nil {
				t.Fatal(err)
			}
		}
	}
	n := float64(len(cases))
	return peers{took.whole / n, took.flat / n, took.space / n}, out
}

// The two must agree before their times are worth comparing.
func TestJackstayAgreesWithNumpy(t *testing.T) {
	cases := hookCases(2000)
	_, places := numpy(t, cases)
	far, tension, load := 0.0, 0.0, 0.0
	for i, c := range cases {
		h, err := jackstay.Hang(c.span, c.hook)
		if err != nil {
			t.Fatal(err)
		}
		p := places[i]
		far = max(far, math.Abs(h.At.X-p[0]), math.Abs(h.At.Y-p[1]), math.Abs(h.At.Z-p[2]))
		tension = max(tension, math.Abs(h.Tension[0]-p[3])/p[3], math.Abs(h.Energy-p[11])/p[11])
		load = max(load, math.Abs(h.Ends[0].X-p[5]), math.Abs(h.Ends[1].Y-p[9]))
	}
	src := "second method: numpy, Newton in plain arrays"
	test.Check(t, "2,000 equilibria: farthest apart, m", src, 0, far, 1e-7)
	test.Check(t, "the same: tensions and energies, relative", src, 0, tension, 1e-6)
	test.Check(t, "the same: loads on the ends, N", src, 0, load, 0.01)
}

// BenchmarkJackstaySolve is one equilibrium in space by the public solver,
// checks and all, from nowhere; peer/solve is how often it fits into the time of
// the peer in space for one of a batch of 20,000. Processor time.
func BenchmarkJackstaySolve(b *testing.B) {
	cases := hookCases(20_000)
	peer, _ := numpy(b, cases)
	i, began := 0, cpuTime()
	for b.Loop() {
		if _, err := jackstay.Hang(cases[i].span, cases[i].hook); err != nil {
			b.Fatal(err)
		}
		i = (i + 1) % len(cases)
	}
	ours := (cpuTime() - began).Seconds() / float64(b.N)
	b.ReportMetric(ours*1e9, "cpu-ns/op")
	b.ReportMetric(peer.whole*1e9, "cpu-ns/peer-our-way")
	b.ReportMetric(peer.flat*1e9, "cpu-ns/peer-in-plane")
	b.ReportMetric(peer.space*1e9, "cpu-ns/peer-in-space")
	b.ReportMetric(peer.space/ours, "peer/solve")
}

// wholeDeck is a catamaran of 12 m, invented: a jackstay with a guide along
// each side deck, one on each bow, clip points, rails, some fittings.
func wholeDeck() jackstay.Case {
	p := func(x, y float64) plane.Point { return plane.Point{X: x, Y: y} }
	c := jackstay.Case{
		Outline: []plane.Point{p(0, -3.3), p(10.5, -3.3), p(12, -2.6), p(12, 2.6), p(10.5, 3.3), p(0, 3.3)}, DeckZ: 1.3,
		Edges: []jackstay.Edge{
			{ID: "forward beam", Path: []plane.Point{p(12, -2.6), p(12, 2.6)}, Z: 1.3}, {ID: "stern", Path: []plane.Point{p(0, -3.3), p(0, 3.3)}, Z: 1.0},
		},
		Points: []jackstay.ClipPoint{{ID: "helm", At: jackstay.Spot{X: 2.5, Y: 1.2, Z: 1.5}}, {ID: "mast", At: jackstay.Spot{X: 6.5, Y: 0.4, Z: 1.6}}},
	}
	for name, y := range map[string]float64{"port": 1, "starboard": -1} {
		c.Edges = append(c.Edges, jackstay.Edge{ID: name + " side", Path: []plane.Point{p(0, 3.3*y), p(10.5, 3.3*y), p(12, 2.6*y)}, Z: 1.3, Rails: []float64{0.3, 0.6}})
		at := func(x, y0, z float64) jackstay.Spot { return jackstay.Spot{X: x, Y: y0 * y, Z: z} }
		c.Lines = append(c.Lines,
			jackstay.Line{ID: name, Stuff: jackstay.Stuff{Material: "polyester webbing 25 mm"}, Supports: []jackstay.Support{
				{At: at(1.5, 2.4, 1.35)}, {At: at(5.5, 2.5, 1.35), Kind: jackstay.GuideSupport}, {At: at(9.5, 2.3, 1.35)}}},
			jackstay.Line{ID: name + " bow", Stuff: jackstay.Stuff{Material: "HMPE 6 mm"}, Supports: []jackstay.Support{{At: at(8.2, 0.8, 1.4)}, {At: at(10.6, 1.9, 1.35)}}})
		for k := range 10 {
			c.Catches = append(c.Catches, jackstay.Catch{ID: fmt.Sprint(name, k), Path: []plane.Point{p(float64(k), 3.1*y), p(float64(k)+0.2, 3.1*y)}, Z: 1.4, Overhang: k%2 == 0})
		}
	}
	return c
}

// BenchmarkJackstayDeck is the whole analysis: each line at three stiffnesses,
// each place of a hook, 64 directions, twice (forces, reach) and for each leg.
func BenchmarkJackstayDeck(b *testing.B) {
	c := wholeDeck()
	solves, began := 0, cpuTime()
	for b.Loop() {
		r, err := jackstay.Deck(c)
		if err != nil {
			b.Fatal(err)
		}
		solves = r.Solves
	}
	cpu := (cpuTime() - began).Seconds() / float64(b.N)
	b.ReportMetric(float64(solves), "solves")
	b.ReportMetric(cpu*1e3, "cpu-ms/op")
	b.ReportMetric(cpu*1e9/float64(solves), "cpu-ns/solve")
}

// BenchmarkJackstayDragged is what is done while a hand drags one line: that
// line, and what hangs together with it.
func BenchmarkJackstayDragged(b *testing.B) {
	c := wholeDeck()
	r, err := jackstay.Deck(c)
	if err != nil {
		b.Fatal(err)
	}
	began := cpuTime()
	for b.Loop() {
		l, err := jackstay.LineOf(c, "port")
		if err != nil {
			b.Fatal(err)
		}
		if err := r.Put(c, l); err != nil {
			b.Fatal(err)
		}
	}
	b.ReportMetric((cpuTime()-began).Seconds()/float64(b.N)*1e3, "cpu-ms/op")
	text, err := json.Marshal(r)
	if err != nil {
		b.Fatal(err)
	}
	b.ReportMetric(float64(len(text)), "bytes")
}
