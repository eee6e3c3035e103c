package programme_test

import (
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"testing"

	"dogshore/internal/test"
	"dogshore/programme"
)

// slow is the second method: the whole model with every start and finish that
// nobody saw as an unknown of its own, sampled by turns (Gibbs; a Metropolis
// step where a distribution has no name). It shares nothing with the engine
// but the stated model. Starts without anything before them are flat.
type slow struct {
	y      *yard
	r      *rand.Rand
	now    float64
	s, f   []span // what was seen
	start  []float64
	finish []float64
	begun  []bool
	done   []bool
	mu     []float64
	sigma  []float64
	common float64
	trade  map[string]float64
	wait   float64
	after  [][]int // the steps that wait for each
	idle   []bool  // of whose waiting nothing is held: the plan left them time
}

type span struct{ lo, hi float64 }

// look reads the spans off the sightings by hand.
func look(y *yard, c programme.ForecastCase, r *rand.Rand) *slow {
	g := &slow{y: y, r: r, wait: 0.5, trade: map[string]float64{}, after: make([][]int, len(y.steps)), idle: programme.Spare(c)}
	for i, step := range c.Steps {
		s, f := span{0, math.Inf(1)}, span{0, math.Inf(1)}
		for _, v := range step.Seen {
			now := weekday(v.Day + 1)
			g.now = now
			if v.State == programme.NotStarted {
				s.lo = now
			} else {
				s.hi = min(s.hi, now)
			}
			if v.State == programme.Done {
				f.hi = min(f.hi, now)
			} else {
				f.lo = now
			}
		}
		g.s, g.f = append(g.s, s), append(g.f, f)
		g.begun, g.done = append(g.begun, !math.IsInf(s.hi, 1)), append(g.done, !math.IsInf(f.hi, 1))
		median, sigma := programme.Lognormal(step.Spread)
		g.mu, g.sigma = append(g.mu, math.Log(median)), append(g.sigma, sigma)
		g.trade[y.steps[i].trade] = 0
		for _, p := range y.steps[i].after {
			g.after[p] = append(g.after[p], i)
		}
	}
	// the true course is one that fits, and so a place to begin at
	g.start, g.finish = append([]float64(nil), y.start...), append([]float64(nil), y.finish...)
	return g
}

func (g *slow) ready(i int) float64 {
	at := math.Inf(-1)
	for _, p := range g.y.steps[i].after {
		at = max(at, g.finish[p])
	}
	return at
}

// pause is the log chance of the wait before step i as it now stands.
func (g *slow) pause(i int) float64 {
	if len(g.y.steps[i].after) == 0 {
		return 0
	}
	for _, p := range g.y.steps[i].after {
		if !g.done[p] {
			return 0
		}
	}
	ready := g.ready(i)
	switch {
	case g.begun[i] && g.start[i] < ready:
		return math.Inf(-1)
	case g.idle[i] && g.begun[i]:
		w := g.start[i] - ready
		return math.Log(math.Exp(-w/0.5) + math.Exp(-w/10)/20) // half of each, less a constant
	case g.idle[i]:
		return 0
	case g.begun[i]:
		return -math.Log(g.wait) - (g.start[i]-ready)/g.wait
	}
	return -max(0, g.now-ready) / g.wait
}

// length is the log chance of step i's length as it now stands.
func (g *slow) length(i int) float64 {
	d := g.finish[i] - g.start[i]
	if d <= 0 {
		return math.Inf(-1)
	}
	z := (math.Log(d) - g.mu[i] - g.trade[g.y.steps[i].trade]) / g.sigma[i]
	return -z*z/2 - math.Log(d)
}

// move tries a new value for x by Metropolis.
func (g *slow) move(x *float64, to float64, chance func() float64) {
	was, before := *x, chance()
	*x = to
	if math.Log(g.r.Float64()) > chance()-before {
		*x = was
	}
}

// shift tries to move a finish together with the starts that followed it, and a
// step as a whole: apart they hardly move where waits are short.
func (g *slow) shift(i int) {
	by := g.r.NormFloat64() * 2
	within := func(x float64, s span) bool { return x > s.lo && x <= s.hi }
	handover := func(by float64) {
		g.finish[i] += by
		for _, j := range g.after[i] {
			if g.begun[j] {
				g.start[j] += by
			}
		}
	}
	chance := func() float64 {
		sum := g.length(i)
		if !within(g.finish[i], g.f[i]) {
			return math.Inf(-1)
		}
		for _, j := range g.after[i] {
			sum += g.pause(j)
			if g.begun[j] {
				sum += g.length(j)
				if !within(g.start[j], g.s[j]) {
					return math.Inf(-1)
				}
			}
		}
		return sum
	}
	before := chance()
	handover(by)
	if math.Log(g.r.Float64()) > chance()-before {
		handover(-by)
	}
	whole := func() float64 {
		sum := g.pause(i)
		if !within(g.start[i], g.s[i]) || !within(g.finish[i], g.f[i]) {
			return math.Inf(-1)
		}
		for _, j := range g.after[i] {
			sum += g.pause(j)
		}
		return sum
	}
	before = whole()
	by = g.r.NormFloat64()
	g.start[i], g.finish[i] = g.start[i]+by, g.finish[i]+by
	if math.Log(g.r.Float64()) > whole()-before {
		g.start[i], g.finish[i] = g.start[i]-by, g.finish[i]-by
	}
}

func (g *slow) between(s span) float64 { return s.lo + (s.hi-s.lo)*g.r.Float64() }

func (g *slow) sweep() {
	for i := range g.y.steps {
		if !g.begun[i] {
			continue
		}
		g.move(&g.start[i], g.between(g.s[i]), func() float64 { return g.length(i) + g.pause(i) })
		if g.done[i] {
			g.move(&g.finish[i], g.between(g.f[i]), func() float64 {
				sum := g.length(i)
				for _, j := range g.after[i] {
					sum += g.pause(j)
				}
				return sum
			})
			g.shift(i)
		} else { // a finish to come: any length beyond what has passed
			g.finish[i] = g.start[i] + g.beyond(i)
		}
	}
	g.paces()
	g.move(&g.wait, g.wait*math.Exp(g.r.NormFloat64()), func() float64 {
		z := math.Log(g.wait / 0.5)
		sum := -z * z / 2
		for i := range g.y.steps {
			sum += g.pause(i)
		}
		return sum
	})
}

// beyond draws a length from the tail of its law.
func (g *slow) beyond(i int) float64 {
	at := g.mu[i] + g.trade[g.y.steps[i].trade]
	from := (math.Log(max(g.now-g.start[i], 1e-9)) - at) / g.sigma[i]
	tail := math.Erfc(from/math.Sqrt2) / 2
	z := -math.Sqrt2 * math.Erfinv(2*tail*g.r.Float64()-1)
	return math.Exp(at + g.sigma[i]*z)
}

// paces draws each trade's and the common one, which are normal given lengths.
func (g *slow) paces() {
	sum, n := 0.0, 0.0
	for _, name := range slices.Sorted(maps.Keys(g.trade)) {
		precision, mean := 1/(0.15*0.15), g.common/(0.15*0.15)
		for i, s := range g.y.steps {
			if s.trade == name && g.begun[i] {
				w := 1 / (g.sigma[i] * g.sigma[i])
				precision += w
				mean += w * (math.Log(g.finish[i]-g.start[i]) - g.mu[i])
			}
		}
		g.trade[name] = mean/precision + g.r.NormFloat64()/math.Sqrt(precision)
		sum += g.trade[name]
		n++
	}
	precision := 1/(0.25*0.25) + n/(0.15*0.15)
	g.common = sum/(0.15*0.15)/precision + g.r.NormFloat64()/math.Sqrt(precision)
}

// sample returns draws of the common pace, of trade a's and of the wait.
func (g *slow) sample(sweeps int) (common, trade, wait []float64) {
	for k := range sweeps {
		g.sweep()
		if k > sweeps/10 && k%5 == 0 {
			common, trade, wait = append(common, g.common), append(trade, g.trade["a"]), append(wait, math.Log(g.wait))
		}
	}
	return common, trade, wait
}

// branched is a build with a merge and several successors of one step.
func branched() []yardStep {
	out := append([]yardStep(nil), smallBoat[:17]...)
	for i := range out {
		out[i].trade = map[string]string{"laminators": "a", "joiners": "b", "fitters": "c", "painters": "d"}[out[i].trade]
	}
	return out
}

// On a chain the fast posterior is that of the whole model, but for cells of
// a day; where one finish lets several steps begin it takes each start's
// own view of it, and hardly differs. Over six builds, the mean difference must lie within 0.2 of
// the slow method's standard deviation, each within 0.4, and the width within a
// tenth: about twice what sampling of 256 weighted draws brings.
func TestLearnAgainstSampling(t *testing.T) {
	for _, k := range []struct {
		name  string
		steps []yardStep
		every int
		days  float64
	}{
		{"long steps, one trade", chainOf(40, []float64{8, 15, 5}, "a"), 7, 120},
		{"steps of all lengths", chainOf(40, []float64{1, 2, 4, 6, 3}, "a", "a", "b", "c"), 7, 60},
		{"several in each gap", chainOf(40, []float64{0.5, 1, 1.5}, "a"), 7, 30},
		{"several in each gap of two weeks", chainOf(40, []float64{1, 2, 3}, "a", "b"), 14, 50},
		{"branches and merges", branched(), 7, 60},
	} {
		t.Run(k.name, func(t *testing.T) {
			var off, wide, offWait []float64
			for seed := range uint64(6) {
				r := rand.New(rand.NewPCG(seed, 7))
				y := invent(r, k.steps, asModelled)
				y.every = k.every
				c := y.seen(y.until(k.days))
				l, err := programme.Learn(c)
				if err != nil {
					t.Fatal(err)
				}
				_, trade, wait := look(y, c, r).sample(20000)
				m, sd := moments(trade)
				fm, fsd := moments(logsOf(l, "a"))
				wm, wsd := moments(wait)
				off = append(off, (fm-m)/sd)
				wide = append(wide, fsd/sd)
				offWait = append(offWait, (math.Log(l.Waiting.P50)-wm)/wsd)
				if math.Abs(fm-m) > 0.4*sd {
					t.Errorf("build %d: ln pace %.3f, by sampling %.3f ± %.3f", seed, fm, m, sd)
				}
			}
			meanOff, _ := moments(off)
			meanWide, _ := moments(wide)
			meanWait, _ := moments(offWait)
			const src = "second method: sampling of every unseen date, whole model"
			test.Check(t, "ln pace less that by sampling, in its standard deviations, "+k.name, src, 0, meanOff, 0.2)
			test.Check(t, "width of ln pace over that by sampling, "+k.name, src, 1, meanWide, 0.1)
			test.Check(t, "ln wait less that by sampling, in its standard deviations, "+k.name, src, 0, meanWait, 0.2)
			t.Logf("pace off by %.2f standard deviations, %.2f as wide; wait off by %.2f", off, wide, offWait)
		})
	}
}
