package programme_test

import (
	"encoding/csv"
	"fmt"
	"maps"
	"math"
	"os"
	"slices"
	"strings"
	"sync"
	"testing"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/programme"
)

const optimaSource = "PSPLIB j30, optima as listed in the public repository ptal/kobe-scheduling, file optimum.csv [read; it does not say where each was proved]"

// withRoom reads a published network with its places and what each job takes
// of them.
func withRoom(t testing.TB, name, text string) programme.ForecastCase {
	t.Helper()
	c, _ := readSM(t, name, text)
	out := sure(c)
	part := ""
	for _, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		switch {
		case strings.HasPrefix(line, "REQUESTS") || strings.HasPrefix(line, "RESOURCEAVAIL"):
			part = strings.TrimSuffix(f[0], ":")
		case strings.HasPrefix(line, "*"):
			part = ""
		case part == "RESOURCEAVAILABILITIES" && len(f) == 4:
			for k, room := range f {
				out.Stands = append(out.Stands, programme.Stand{ID: fmt.Sprint("R", k+1), Capacity: int(number(t, room))})
			}
		}
	}
	part = ""
	for _, line := range strings.Split(text, "\n") {
		f := strings.Fields(line)
		if strings.HasPrefix(line, "REQUESTS") {
			part = "requests"
		} else if strings.HasPrefix(line, "RESOURCEAVAIL") {
			part = ""
		}
		if part == "" || len(f) != 7 || f[1] != "1" {
			continue
		}
		for k, need := range f[3:] {
			if n := int(number(t, need)); n > 0 {
				out.Stands[k].Holdings = append(out.Stands[k].Holdings, programme.Holding{First: f[0], Need: n})
			}
		}
	}
	if len(out.Stands) != 4 {
		t.Fatalf("%s: %d places", name, len(out.Stands))
	}
	return out
}

func optima(t testing.TB) map[string]float64 {
	t.Helper()
	f, err := os.Open("testdata/psplib-j30-optimum.csv")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	rows, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	out := make(map[string]float64)
	for _, r := range rows[1:] {
		out[r[0]] = number(t, r[1])
	}
	return out
}

// violated lists what a schedule does wrong: a link or a place.
func violated(c programme.ForecastCase, start, end []calendar.Moment) string {
	at := make(map[string]int)
	for i, s := range c.Steps {
		at[s.ID] = i
	}
	for _, l := range c.Links {
		if start[at[l.To]] < end[at[l.From]] && end[at[l.To]] > start[at[l.To]] {
			return fmt.Sprintf("%s starts before %s has finished", l.To, l.From)
		}
	}
	for _, s := range c.Stands {
		for _, h := range s.Holdings {
			used, when := 0, start[at[h.First]]
			for _, o := range s.Holdings {
				last := o.Last
				if last == "" {
					last = o.First
				}
				if start[at[o.First]] <= when && when < end[at[last]] {
					used += max(o.Need, 1)
				}
			}
			if used > max(s.Capacity, 1) {
				return fmt.Sprintf("%d of %s are taken when %s starts", used, s.ID, h.First)
			}
		}
	}
	return ""
}

// No schedule of the 480 networks violates a link or a place or is shorter
// than the optimum. How much longer it is, is noted: for one pass of all, for
// 1,000 samples of one network of each of the 48 settings by which they were
// made. These means are ours; nobody has published them.
func TestPublishedNetworksWithPlaces(t *testing.T) {
	best := optima(t)
	texts := networks(t)
	names := slices.Sorted(maps.Keys(texts)) // ten of a setting, one after the other
	length := func(c programme.ForecastCase, samples int) float64 {
		start, end, err := programme.Schedule(c, samples)
		if err != nil {
			t.Error(err)
			return math.NaN()
		}
		if v := violated(c, start, end); v != "" {
			t.Error(v)
		}
		return worked(t, allDays[0], slices.Max(end))
	}
	one, many := make([]float64, len(names)), make([]float64, len(names))
	var wait sync.WaitGroup
	for core := range 2 {
		wait.Go(func() {
			for i := core; i < len(names); i += 2 {
				c := withRoom(t, names[i], texts[names[i]])
				one[i] = length(c, 1)
				if !testing.Short() && i%10 == i/10%10 {
					many[i] = length(c, 1000)
				}
			}
		})
	}
	wait.Wait()
	excess, shorter, sampled, n := 0.0, 0, 0.0, 0
	for i, name := range names {
		if excess += 100 * (one[i]/best[name] - 1) / float64(len(names)); one[i] < best[name] {
			shorter++
		}
		if many[i] > 0 {
			sampled += 100 * (many[i]/best[name] - 1)
			n++
			if many[i] < best[name] || many[i] > one[i] {
				t.Errorf("%s: %g days by 1,000 samples, %g by one, optimum %g", name, many[i], one[i], best[name])
			}
		}
	}
	test.Check(t, "schedules shorter than the optimum, of 480", optimaSource, 0, float64(shorter), 0)
	const expected = "our own value; expected by the numerics sheet 1.1 h [estimate]: 3 to 5 % for one pass, under 1 % for 1,000 samples; optima: " + optimaSource
	test.Check(t, "mean excess over the optimum, one pass pushed and generated again, 480 networks, %", expected, 4, excess, 1)
	if n > 0 {
		test.Check(t, fmt.Sprintf("mean excess over the optimum, 1,000 samples, %d networks, one of each setting, %%", n), expected, 0.5, sampled/float64(n), 0.5)
	}
	t.Logf("mean excess %.2f %% for one pass, %.2f %% for 1,000 samples of %d networks", excess, sampled/float64(max(n, 1)), n)
}

// The links that come of a schedule keep its length, and its places in every
// trial.
func TestOrderAtStandsHoldsInTrials(t *testing.T) {
	texts := networks(t)
	for _, name := range []string{"j301_1.sm", "j3013_1.sm", "j3029_2.sm", "j3045_5.sm"} {
		c := withRoom(t, name, texts[name])
		_, end, err := programme.Schedule(c, 20)
		if err != nil {
			t.Fatal(err)
		}
		o := forecast(t, c, known, programme.Run{Trials: 1})
		if o.Launch.P50 > slices.Max(end) {
			t.Errorf("%s: the links end on %s, the schedule on %s", name, o.Launch.P50, slices.Max(end))
		}
		var start, finish []calendar.Moment
		for i := range o.Steps {
			start, finish = append(start, o.Steps[i].Start.P50), append(finish, o.Steps[i].Finish.P50)
		}
		if v := violated(c, start, finish); v != "" {
			t.Errorf("%s: %s", name, v)
		}
	}
}

// A mould is taken from the first step of a part to its demoulding, through
// what lies between, and the part that has it keeps it.
func TestAMouldIsHeldUntilDemoulded(t *testing.T) {
	c := sure(lines(t, allDays, `
		port-skin 4
		port-cured 3 port-skin+2
		port-out 1 port-cured
		star-skin 5
		star-cured 3 star-skin+2
		star-out 1 star-cured
		joined 2 port-out, star-out`))
	mould := programme.Stand{ID: "hull mould", Holdings: []programme.Holding{{First: "port-skin", Last: "port-out"}, {First: "star-skin", Last: "star-out"}}}
	free := forecast(t, c, known, programme.Run{Trials: 1})
	c.Stands = []programme.Stand{mould}
	o := forecast(t, c, known, programme.Run{Trials: 1})
	day := func(m calendar.Moment) float64 { return worked(t, allDays[0], m) }
	test.Check(t, "two hulls in two moulds, days", "exact: 5 + 2 + 3 + 1 + 2", 13, day(free.Launch.P50), 0)
	test.Check(t, "two hulls in one mould, days", "exact: 10 + 11 + 2", 23, day(o.Launch.P50), 0)
	if len(o.Order) != 1 {
		t.Errorf("order %v, want one link", o.Order)
	}
	// What has begun goes first, whatever would be shorter.
	c.Steps[3].Seen = []programme.Sighting{{Day: monday - 1, State: programme.UnderWay}}
	o = forecast(t, c, known, programme.Run{Trials: 1})
	if len(o.Order) != 1 || o.Order[0].From != "star-out" || o.Order[0].To != "port-skin" {
		t.Errorf("order %v, want port-skin after star-out", o.Order)
	}
	c.Stands[0].Capacity = 2
	if o = forecast(t, c, known, programme.Run{Trials: 1}); len(o.Order) != 0 {
		t.Errorf("order %v in a mould for two, want none", o.Order)
	}
}

// Two parts that each need what the other has and does not give back.
func TestHoldingsThatShutEachOtherOut(t *testing.T) {
	c := sure(lines(t, allDays, `
		a 1
		b 1
		c 1 a, b`))
	c.Stands = []programme.Stand{{ID: "bay", Holdings: []programme.Holding{{First: "a", Last: "c"}, {First: "b", Last: "c"}}}}
	if _, err := programme.Forecast(t.Context(), c, known, programme.Run{}); err == nil || !strings.Contains(err.Error(), `wait for stand "bay"`) {
		t.Errorf("error %v, want one that names the bay", err)
	}
}
