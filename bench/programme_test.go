package bench

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"
	"time"

	"gonum.org/v1/gonum/graph/simple"
	"gonum.org/v1/gonum/graph/topo"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/programme"
)

// network makes n steps with 1.6 links each, FS to one of the fifty steps
// before, lengths of 1 to 15 days, on a calendar that works every day, so that
// plain numbers can follow.
func network(n int) programme.Case {
	rnd := rand.New(rand.NewPCG(1, uint64(n)))
	c := programme.Case{
		DataDate:  calendar.Date(2026, 3, 2),
		Calendars: []programme.Calendar{{ID: "yard", Week: "Mon-Sun"}},
	}
	for i := range n {
		c.Steps = append(c.Steps, programme.Step{ID: fmt.Sprint("step-", i), Known: true, Work: float64(1 + rnd.IntN(15))})
		links := 1
		if rnd.IntN(10) < 6 {
			links = 2
		}
		for k := 0; i > 0 && k < links; k++ {
			from := i - 1 - rnd.IntN(min(i, 50))
			c.Links = append(c.Links, programme.Link{From: c.Steps[from].ID, To: c.Steps[i].ID, Type: programme.FS})
		}
	}
	return c
}

// yardWeek puts a network on a real yard's calendar.
func yardWeek(c programme.Case) programme.Case {
	c.Calendars = []programme.Calendar{{ID: "yard", Week: "Mon-Thu 1, Fri 0.5", Closures: []calendar.Closure{
		{From: calendar.Date(2026, 8, 3), To: calendar.Date(2026, 8, 21)},
		{From: calendar.Date(2026, 12, 23), To: calendar.Date(2027, 1, 3)},
	}}}
	return c
}

// peer passes a network forward and back by a general-purpose graph library
// and maps, in plain days without a calendar: early start, late start, total
// float of each step, and the length.
func peer(c programme.Case) (float map[string]float64, length float64, err error) {
	g := simple.NewDirectedGraph()
	number := make(map[string]int64, len(c.Steps))
	work := make(map[int64]float64, len(c.Steps))
	for i, s := range c.Steps {
		number[s.ID], work[int64(i)] = int64(i), s.Work
		g.AddNode(simple.Node(i))
	}
	for _, l := range c.Links {
		g.SetEdge(simple.Edge{F: simple.Node(number[l.From]), T: simple.Node(number[l.To])})
	}
	order, err := topo.Sort(g)
	if err != nil {
		return nil, 0, err
	}
	es, ls := make(map[int64]float64, len(order)), make(map[int64]float64, len(order))
	for _, n := range order {
		start := 0.0
		for it := g.To(n.ID()); it.Next(); {
			p := it.Node().ID()
			start = math.Max(start, es[p]+work[p])
		}
		es[n.ID()] = start
		length = math.Max(length, start+work[n.ID()])
	}
	for i := len(order) - 1; i >= 0; i-- {
		n := order[i].ID()
		finish := length
		for it := g.From(n); it.Next(); {
			finish = math.Min(finish, ls[it.Node().ID()])
		}
		ls[n] = finish - work[n]
	}
	float = make(map[string]float64, len(order))
	for id, n := range number {
		float[id] = ls[n] - es[n]
	}
	return float, length, nil
}

// The two must agree before their times are worth comparing.
func TestProgrammeAgreesWithGraphLibrary(t *testing.T) {
	for _, n := range []int{300, 5000} {
		c := network(n)
		r, err := programme.Pass(c)
		if err != nil {
			t.Fatal(err)
		}
		float, length, err := peer(c)
		if err != nil {
			t.Fatal(err)
		}
		cal, err := calendar.New("Mon-Sun", nil)
		if err != nil {
			t.Fatal(err)
		}
		test.Check(t, fmt.Sprintf("length of a random network of %d steps, days", n), "second method: gonum graph/topo and plain numbers",
			length, cal.Between(calendar.At(c.DataDate), r.Finish), 0)
		for _, s := range r.Steps {
			if s.Total != float[s.ID] {
				t.Fatalf("%d steps: float of %s is %g, by the graph library %g", n, s.ID, s.Total, float[s.ID])
			}
		}
	}
}

// BenchmarkProgrammePass is the whole pass, with reading of names, order,
// bounds, both sweeps, floats and the longest chain, on a yard's calendar;
// peer/pass is how often it fits into the peer's time for the same network.
func BenchmarkProgrammePass(b *testing.B) {
	for _, n := range []int{300, 5000, 50000} {
		b.Run(fmt.Sprint("n=", n), func(b *testing.B) {
			c := yardWeek(network(n))
			b.ReportAllocs()
			for b.Loop() {
				if _, err := programme.Pass(c); err != nil {
					b.Fatal(err)
				}
			}
			ours := b.Elapsed() / time.Duration(b.N)
			const runs = 5
			began := time.Now()
			for range runs {
				if _, _, err := peer(c); err != nil {
					b.Fatal(err)
				}
			}
			b.ReportMetric(float64(time.Since(began)/runs)/float64(ours), "peer/pass")
			b.ReportMetric(float64(ours.Nanoseconds())/float64(n), "ns/step")
		})
	}
}

// BenchmarkProgrammePeer is the same network by the graph library, without
// calendars, sightings or free floats.
func BenchmarkProgrammePeer(b *testing.B) {
	for _, n := range []int{300, 5000, 50000} {
		b.Run(fmt.Sprint("n=", n), func(b *testing.B) {
			c := network(n)
			b.ReportAllocs()
			for b.Loop() {
				if _, _, err := peer(c); err != nil {
					b.Fatal(err)
				}
			}
		})
	}
}
