package programme_test

import (
	"archive/tar"
	"bufio"
	"compress/gzip"
	"fmt"
	"io"
	"os"
	"strconv"
	"strings"
	"testing"

	"dogshore/internal/test"
	"dogshore/programme"
)

const psplib = "R. Kolisch, A. Sprecher, PSPLIB, Eur. J. Oper. Res. 96 (1996) 205-216, header line MPM-Time [read]"

// stated are lines that the schedule-money sheet copied from the files, checks
// 1 and 2: they also hold our reading of the files to another's.
var stated = map[string]float64{
	"j301_1.sm": 38, "j301_2.sm": 42, "j301_10.sm": 37, "j3010_1.sm": 41, "j3048_10.sm": 54,
}

// Every one of the 480 files states the length of its longest chain.
func TestLongestChainOfPublishedNetworks(t *testing.T) {
	n, met := 0, 0
	for name, text := range networks(t) {
		c, want := readSM(t, name, text)
		r := pass(t, c)
		got := worked(t, allDays[0], r.Finish)
		if got == want {
			met++
		} else {
			t.Errorf("%s: longest chain %g days, want %g", name, got, want)
		}
		if named, ok := stated[name]; ok {
			test.Check(t, "longest chain of "+name+", days", psplib, named, got, 0)
		}
		if path := r.LongestPath(); len(path) == 0 || path[0] != "1" || path[len(path)-1] != "32" {
			t.Errorf("%s: longest path runs %v, want from 1 to 32", name, path)
		}
		n++
	}
	test.Check(t, "networks whose longest chain is as stated, of 480", psplib, 480, float64(met), 0)
	if n != 480 {
		t.Fatalf("%d networks, want 480", n)
	}
}

func TestFloatsOfPublishedNetwork(t *testing.T) {
	c, _ := readSM(t, "j301_1.sm", networks(t)["j301_1.sm"])
	r := pass(t, c)
	src := "PSPLIB j301_1; floats by an independent program, schedule-money sheet, check 1 [computed]"
	var total, free float64
	for _, s := range r.Steps {
		total, free = total+s.Total, free+s.Free
	}
	day := func(id string, pick func(programme.Times) float64) float64 { return pick(times(t, r, id)) }
	es := func(s programme.Times) float64 { return worked(t, allDays[0], s.EarlyStart) }
	ef := func(s programme.Times) float64 { return worked(t, allDays[0], s.EarlyFinish) }
	ls := func(s programme.Times) float64 { return worked(t, allDays[0], s.LateStart) }
	lf := func(s programme.Times) float64 { return worked(t, allDays[0], s.LateFinish) }
	tf := func(s programme.Times) float64 { return s.Total }
	ff := func(s programme.Times) float64 { return s.Free }
	for _, row := range []struct {
		what      string
		want, got float64
	}{
		{"sum of total floats", 202, total},
		{"sum of free floats", 88, free},
		{"ES of job 10", 6, day("10", es)}, {"LF of job 10", 14, day("10", lf)},
		{"TF of job 10", 1, day("10", tf)}, {"FF of job 10", 0, day("10", ff)},
		{"ES of job 20", 17, day("20", es)}, {"EF of job 20", 24, day("20", ef)},
		{"LS of job 20", 24, day("20", ls)}, {"LF of job 20", 31, day("20", lf)},
		{"TF of job 20", 7, day("20", tf)}, {"FF of job 20", 0, day("20", ff)},
		{"ES of job 29", 16, day("29", es)}, {"EF of job 29", 23, day("29", ef)},
		{"TF of job 29", 15, day("29", tf)}, {"FF of job 29", 15, day("29", ff)},
	} {
		test.Check(t, "j301_1: "+row.what+", days", src, row.want, row.got, 0)
	}
	if got, want := strings.Join(r.Critical, " "), "1 3 8 12 14 17 22 23 24 30 32"; got != want {
		t.Errorf("critical %s, want %s (%s)", got, want, src)
	}
}

func networks(t testing.TB) map[string]string {
	t.Helper()
	f, err := os.Open("testdata/psplib-j30.tar.gz")
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	z, err := gzip.NewReader(f)
	if err != nil {
		t.Fatal(err)
	}
	out := make(map[string]string)
	for r := tar.NewReader(z); ; {
		h, err := r.Next()
		if err == io.EOF {
			return out
		}
		if err != nil {
			t.Fatal(err)
		}
		b, err := io.ReadAll(r)
		if err != nil {
			t.Fatal(err)
		}
		out[h.Name] = string(b)
	}
}

// readSM reads a network and its stated longest chain: from the header line
// "pronr. #jobs rel.date duedate tardcost MPM-Time", the successors and the
// durations.
func readSM(t testing.TB, name, text string) (c programme.Case, longest float64) {
	t.Helper()
	c = programme.Case{DataDate: monday, Calendars: allDays}
	part := ""
	for sc := bufio.NewScanner(strings.NewReader(text)); sc.Scan(); {
		line := sc.Text()
		f := strings.Fields(line)
		if strings.HasSuffix(strings.TrimSpace(line), ":") || strings.HasPrefix(line, "pronr.") {
			part = f[0]
			continue
		}
		if len(f) == 0 || strings.HasPrefix(line, "*") {
			part = map[bool]string{true: "", false: part}[strings.HasPrefix(line, "*")]
			continue
		}
		if _, err := strconv.Atoi(f[0]); err != nil {
			continue
		}
		switch part {
		case "pronr.":
			longest = number(t, f[5])
		case "PRECEDENCE":
			for _, to := range f[3:] {
				c.Links = append(c.Links, programme.Link{From: f[0], To: to})
			}
		case "REQUESTS/DURATIONS:":
			c.Steps = append(c.Steps, programme.Step{ID: f[0], Known: true, Work: number(t, f[2])})
		}
	}
	if len(c.Steps) != 32 || longest == 0 {
		t.Fatal(fmt.Errorf("%s: %d jobs, longest chain %g", name, len(c.Steps), longest))
	}
	return c, longest
}
