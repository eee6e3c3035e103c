package bench

import (
	"context"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"os/exec"
	"path/filepath"
	"strconv"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/programme"
)

// peerCase is a case as peer.py reads it: times in slots of half an hour from
// the data date, steps in the order of the network.
type peerCase struct {
	Steps     []peerStep  `json:"steps"`
	Calendars [][][2]int  `json:"calendars"` // of each day the slots that are worked: from and to
	Day       []float64   `json:"day"`       // slots of work in a day of each calendar
	Paces     [][]float64 `json:"paces"`
	Waits     []float64   `json:"waits"` // days
	Points    []peerPoint `json:"points"`
}

type peerStep struct {
	Median   float64 `json:"median"` // slots of work
	Sigma    float64 `json:"sigma"`
	Trade    int     `json:"trade"`
	Calendar int     `json:"calendar"`
	After    []int   `json:"after"`
}

type peerPoint struct {
	Covers   int `json:"covers"`
	Lead     int `json:"lead"` // slots of work
	Calendar int `json:"calendar"`
}

const slot = 1800 // seconds

// forPeer writes a case as the peer reads it.
func forPeer(t testing.TB, c programme.ForecastCase, l programme.Learned) (peerCase, []*calendar.Calendar) {
	t.Helper()
	var out peerCase
	var cals []*calendar.Calendar
	on, number := map[string]int{"": 0}, map[string]int{}
	last := calendar.Day(len(c.Steps)) * 16 // a step a fortnight is more than ever comes
	for i, in := range c.Calendars {
		cal, err := calendar.New(in.Week, in.Closures)
		if err != nil {
			t.Fatal(err)
		}
		on[in.ID] = i
		cals = append(cals, cal)
		out.Day = append(out.Day, float64(cal.Of(1))/slot)
		var days [][2]int
		for d := c.DataDate; d < c.DataDate+last; d++ {
			open := cal.NextWorking(calendar.At(d)) - calendar.At(d)
			work := cal.Worked(calendar.At(d+1)) - cal.Worked(calendar.At(d))
			if work == 0 {
				open = 0
			}
			days = append(days, [2]int{int(open) / slot, (int(open) + int(work)) / slot})
		}
		out.Calendars = append(out.Calendars, days)
	}
	trades := map[string]int{}
	for i, name := range l.Trades {
		trades[name] = i
	}
	for i, s := range c.Steps {
		number[s.ID] = i
		median, sigma := programme.Lognormal(s.Spread)
		out.Steps = append(out.Steps, peerStep{Median: median * out.Day[on[s.Calendar]], Sigma: sigma, Trade: trades[s.Trade], Calendar: on[s.Calendar]})
	}
	for _, k := range c.Links {
		to := &out.Steps[number[k.To]]
		if from := number[k.From]; len(to.After) == 0 || to.After[0] != from {
			to.After = append(to.After, from)
		}
	}
	for _, p := range c.Points {
		out.Points = append(out.Points, peerPoint{Covers: number[p.Covers[0]], Lead: int(p.Leads[0].Days * out.Day[0])})
	}
	for _, d := range l.Draws {
		out.Paces, out.Waits = append(out.Paces, d.Trade), append(out.Waits, d.Wait)
	}
	return out, cals
}

// python returns a Python that has numpy; without one the test is passed over.
func python(t testing.TB) string {
	t.Helper()
	for _, name := range []string{os.Getenv("PYTHON"), "python3", "/usr/bin/python3"} {
		if name != "" && exec.Command(name, "-c", "import numpy").Run() == nil {
			return name
		}
	}
	t.Skip("no Python with numpy: name one in PYTHON")
	return ""
}

// peerTime is what peer.py prints.
type peerTime struct {
	Each float64 `json:"ns_per_step_trial"`
	Core float64 `json:"core_ns_per_step_trial"` // processor time of all cores
}

// runPeer runs the peer on a case.
func runPeer(t testing.TB, c peerCase, args ...string) peerTime {
	t.Helper()
	name := python(t)
	file := filepath.Join(t.TempDir(), "case.json")
	in, err := json.Marshal(c)
	if err != nil {
		t.Fatal(err)
	}
	if err := os.WriteFile(file, in, 0o600); err != nil {
		t.Fatal(err)
	}
	cmd := exec.Command(name, append([]string{"peer.py", file}, args...)...)
	cmd.Stderr = os.Stderr
	out, err := cmd.Output()
	if err != nil {
		t.Fatal(err)
	}
	var x peerTime
	if err := json.Unmarshal(out, &x); err != nil {
		t.Fatalf("%v: %s", err, out)
	}
	return x
}

// peerResult is what peer.py writes: slots of P10, P50 and P90.
type peerResult struct {
	Launch      [3]int    `json:"launch"`
	Start       [][3]int  `json:"start"`
	Finish      [][3]int  `json:"finish"`
	Criticality []float64 `json:"criticality"`
	Decide      [][3]int  `json:"decide"`
}

// The two must agree before their times are worth comparing: starts and
// finishes, launch and decide-by, and every criticality, within five standard
// errors of two samples and the width of bins and slots.
//
// It runs where there is a Python with numpy, and so prints nothing for
// VERIFICATION.md.
func TestForecastAgreesWithPeer(t *testing.T) {
	const trials = 10000
	for _, several := range []bool{false, true} {
		for _, waiting := range []bool{false, true} {
			t.Run(fmt.Sprintf("several calendars %v, waiting %v", several, waiting), func(t *testing.T) {
				c, l := chances(300, several)
				if !waiting {
					l = idle(l)
				}
				in, cals := forPeer(t, c, l)
				file := filepath.Join(t.TempDir(), "result.json")
				runPeer(t, in, "--repeat", "1", "--chunk", "2500", "--trials", strconv.Itoa(trials), "--out", file)
				text, err := os.ReadFile(file)
				if err != nil {
					t.Fatal(err)
				}
				var peer peerResult
				if err := json.Unmarshal(text, &peer); err != nil {
					t.Fatal(err)
				}
				ours, err := programme.Forecast(context.Background(), c, l, programme.Run{Seed: 1, Trials: trials})
				if err != nil {
					t.Fatal(err)
				}
				compare(t, c, cals, ours, peer)
			})
		}
	}
}

func compare(t *testing.T, c programme.ForecastCase, cals []*calendar.Calendar, ours programme.Outlook, peer peerResult) {
	t.Helper()
	zero := calendar.At(c.DataDate)
	dates, off := 0, 0
	check := func(what string, a programme.Dates, b [3]int) {
		for i, m := range []calendar.Moment{a.P10, a.P50, a.P90} {
			// A quantile of n normal draws is off by 1.25 to 1.71 sd / sqrt n; a bin is
			// a thirtieth of sd; half an hour is a sixteenth of a day. Where a calendar
			// on which a date hangs is closed nothing comes, so they need only be near
			// on one of them; and where next to nothing comes after it a date is ill
			// determined, which is why a few may be off.
			near := math.Inf(1)
			for _, cal := range cals {
				work := func(m calendar.Moment) float64 { return cal.Days(cal.Worked(m)) }
				sd := (work(a.P90) - work(a.P10)) / 2.56
				apart := math.Abs(work(m) - work(zero+calendar.Moment(b[i]*slot)))
				near = min(near, apart/(5*1.71*math.Sqrt2*sd/100+sd/30+2.0/16))
			}
			if dates++; near > 1 {
				off++
				t.Logf("%s, quantile %d: %s and %s differ by %.2f of what is allowed", what, i, m, zero+calendar.Moment(b[i]*slot), near)
			}
		}
	}
	for i, s := range ours.Steps {
		check("start of "+s.ID, s.Start, peer.Start[i])
		check("finish of "+s.ID, s.Finish, peer.Finish[i])
		p := peer.Criticality[i]
		if off := math.Abs(s.Critical - p); off > 5*math.Sqrt(2*p*(1-p)/10000)+0.01 {
			t.Errorf("criticality of %s: %.4f and %.4f", s.ID, s.Critical, p)
		}
	}
	check("launch", ours.Launch.Dates, peer.Launch)
	for i, p := range ours.Points {
		k := map[float64]int{0.1: 0, 0.5: 1}[p.Share]
		all := programme.Dates{P10: zero + calendar.Moment(peer.Decide[i][0]*slot), P50: zero + calendar.Moment(peer.Decide[i][1]*slot), P90: zero + calendar.Moment(peer.Decide[i][2]*slot)}
		got := all
		*[]*calendar.Moment{&got.P10, &got.P50}[k] = p.Decide
		check("decide-by of "+p.ID, got, peer.Decide[i])
	}
	if 1000*off > 3*dates {
		t.Errorf("%d of %d dates differ from the peer's", off, dates)
	}
}

// BenchmarkPeer runs the peer on the cases of BenchmarkForecast, on all cores:
// one step at a time, and sixteen drawn and counted together; with chunks of
// trials of several sizes, of which the best is to be taken.
func BenchmarkPeer(b *testing.B) {
	for _, several := range []bool{false, true} {
		for _, waiting := range []bool{false, true} {
			for _, args := range []string{"--group 1", "--group 16", "--group 1 --forward", "--group 16 --forward"} {
				for _, chunk := range []int{1000, 2500, 5000} {
					b.Run(fmt.Sprintf("n=5000/calendars=%d/waiting=%v/%s/chunk=%d", map[bool]int{false: 1, true: 3}[several], waiting, args, chunk), func(b *testing.B) {
						c, l := chances(5000, several)
						if !waiting {
							l = idle(l)
						}
						in, _ := forPeer(b, c, l)
						best, core := math.Inf(1), math.Inf(1)
						for b.Loop() {
							x := runPeer(b, in, append(strings.Fields(args), "--chunk", strconv.Itoa(chunk))...)
							best, core = min(best, x.Each), min(core, x.Core)
						}
						b.ReportMetric(best, "ns/step-trial")
						b.ReportMetric(core, "ns/step-trial-core")
					})
				}
			}
		}
	}
}
