package bench

import (
	"encoding/json"
	"math"
	"math/rand/v2"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"dogshore/gybe"
	"dogshore/internal/test"
)

// preventers makes n random booms with a preventer each: from the boom round a
// block well forward and back, no friction, a straight stretch law.
func preventers(n int) []gybe.Case {
	rnd := rand.New(rand.NewPCG(9, uint64(n)))
	in := func(low, high float64) float64 { return low + (high-low)*rnd.Float64() }
	out := make([]gybe.Case, n)
	for i := range out {
		long := in(4, 7)
		wind := in(6, 12)
		out[i] = gybe.Case{
			Boom: gybe.Boom{Gooseneck: gybe.Spot{X: 7, Z: in(1.8, 3)}, Length: long, Rise: in(0, 0.4), Out: in(1.2, 1.45)},
			Sail: gybe.Sail{Area: in(20, 60), Foot: long - 0.2, Force: 1.2, Aft: in(0.33, 0.45) * long},
			Wind: gybe.Band{Low: wind, High: wind + in(1, 4)},
			Preventers: []gybe.Preventer{{
				Side: gybe.Port, At: in(0.5, 1) * long, Slack: gybe.Band{Low: in(0, 0.05), High: in(0.1, 0.4)}, Line: gybe.Line{Stiffness: math.Exp(in(11, 14.5))},
				Turns: []gybe.Turn{{Spot: gybe.Spot{X: in(10, 13), Y: in(0.2, 1), Z: in(1, 1.6)}}, {Spot: gybe.Spot{X: in(1, 3), Y: in(0.5, 2), Z: in(1, 1.6)}}},
			}},
		}
	}
	return out
}

func BenchmarkGybe(b *testing.B) {
	cases := preventers(200)
	b.ReportAllocs()
	i := 0
	for b.Loop() {
		if _, err := gybe.Reckon(cases[i%len(cases)]); err != nil {
			b.Fatal(err)
		}
		i++
	}
	// 12 settings, slowly and at once, besides the table of angles and the loads.
	b.ReportMetric(float64(b.Elapsed().Nanoseconds())/float64(b.N)/24/1e3, "µs/solve")
}

// The engine and two ways through general-purpose libraries agree on where each
// boom comes to rest, and on the tension there. It needs scipy, and is left out
// without.
func TestGybeAgreesWithScipy(t *testing.T) {
	python := withScipy()
	if python == "" {
		t.Skip("no python with scipy here")
	}
	cases := preventers(60)
	text, err := json.Marshal(cases)
	if err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(t.TempDir(), "cases.json")
	if err := os.WriteFile(file, text, 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(python, "gybe_peer.py", file)
	cmd.Stderr = os.Stderr
	printed, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var peer map[string]struct {
		Runs [][][4]*float64 `json:"runs"` // angle and tension, slowly and at once; null where the boom is not held
	}
	if err := json.Unmarshal(printed, &peer); err != nil {
		t.Fatal(err)
	}
	held, worst := 0, 0.0
	for i, c := range cases {
		r, err := gybe.Reckon(c)
		if err != nil {
			t.Fatal(err)
		}
		for way, p := range peer {
			for k, run := range p.Runs[i] {
				for j, answer := range []gybe.Answer{r.Leads[0].Settles, r.Leads[0].Stops} {
					ours, angle, tension := answer.Runs[k], run[2*j], run[2*j+1]
					if (ours.Outcome == gybe.Holds) != (angle != nil) {
						t.Fatalf("case %d, run %d, %s: %s here, held there: %v", i, k, way, ours.Outcome, angle != nil)
					}
					if angle == nil {
						continue
					}
					held++
					worst = max(worst, math.Abs(ours.Angle-*angle), math.Abs(ours.Tension / *tension - 1))
				}
			}
		}
	}
	if held < 1000 {
		t.Errorf("only %d booms are held", held)
	}
	test.Check(t, "boom angle (rad) and tension (share) where it comes to rest, greatest difference over random booms", "scipy brentq and numpy bisection, bench/gybe_peer.py", 0, worst, 1e-6)
}

// withScipy returns the first python on the path that has scipy, or "".
func withScipy() string {
	for _, dir := range filepath.SplitList(os.Getenv("PATH")) {
		name := filepath.Join(dir, "python3")
		if exec.Command(name, "-c", "import scipy").Run() == nil {
			return name
		}
	}
	return ""
}
