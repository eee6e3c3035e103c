package programme_test

import (
	"slices"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/programme"

	"pgregory.net/rapid"
)

func seen(day int, s programme.State) programme.Sighting {
	return programme.Sighting{Day: monday + calendar.Day(day), State: s}
}

// chain is skin, core, bag, each waiting for the one before, looked at from
// day 20.
func chain(t testing.TB) programme.Case {
	c := lines(t, allDays, `
		skin 3
		core 3 skin
		bag 3 core`)
	c.DataDate = monday + 20
	return c
}

func TestSightingsBoundThroughTheNetwork(t *testing.T) {
	c := chain(t)
	step(t, &c, "skin").Seen = []programme.Sighting{seen(3, programme.NotStarted)}
	step(t, &c, "bag").Seen = []programme.Sighting{seen(10, programme.UnderWay)}
	r := pass(t, c)
	core := times(t, r, "core")
	if core.State != programme.Done || !core.Inferred || core.InferredFrom != "bag" {
		t.Errorf("core is %+v, want done, inferred from bag", core)
	}
	if core.StartFrom != monday+4 || core.FinishBy != monday+10 {
		t.Errorf("core lies in %s to %s, want %s to %s", core.StartFrom, core.FinishBy, monday+4, monday+10)
	}
	if !slices.Equal(core.BoundBy, []string{"skin", "bag"}) {
		t.Errorf("bound by %v", core.BoundBy)
	}
	if skin := times(t, r, "skin"); skin.State != programme.Done || !skin.Inferred {
		t.Errorf("skin is %+v, want done, inferred", skin)
	}
	if bag := times(t, r, "bag"); bag.Inferred || bag.State != programme.UnderWay || bag.FinishFrom != monday+11 {
		t.Errorf("bag is %+v", bag)
	}
	if len(r.Contradictions)+len(r.OutOfOrder) != 0 {
		t.Errorf("contradictions %v, out of order %v", r.Contradictions, r.OutOfOrder)
	}
}

func TestSeenDoneIsNeverInferred(t *testing.T) {
	c := chain(t)
	step(t, &c, "skin").Seen = []programme.Sighting{seen(12, programme.Done)}
	step(t, &c, "core").Seen = []programme.Sighting{seen(9, programme.UnderWay)}
	s := times(t, pass(t, c), "skin")
	if s.Inferred || s.FinishBy != monday+9 {
		t.Errorf("skin is %+v: seen done on day 12, finished by day 9", s)
	}
}

func TestNotStartedFollowsForward(t *testing.T) {
	c := chain(t)
	step(t, &c, "skin").Seen = []programme.Sighting{seen(8, programme.UnderWay)}
	s := times(t, pass(t, c), "bag")
	if s.State != programme.NotStarted || !s.Inferred || s.StartFrom != monday+9 {
		t.Errorf("bag is %+v", s)
	}
}

func TestOutOfOrderIsAQuestion(t *testing.T) {
	c := chain(t)
	step(t, &c, "skin").Seen = []programme.Sighting{seen(10, programme.UnderWay)}
	step(t, &c, "core").Seen = []programme.Sighting{seen(10, programme.UnderWay)}
	r := pass(t, c)
	want := programme.OutOfOrder{Step: "core", WaitsFor: "skin", Type: programme.FS, Seen: monday + 10, StillOn: monday + 10}
	if len(r.OutOfOrder) != 1 || r.OutOfOrder[0] != want {
		t.Fatalf("out of order %+v, want %+v", r.OutOfOrder, want)
	}
	if len(r.Contradictions) != 0 {
		t.Errorf("the same is told twice: %v", r.Contradictions)
	}
	skin, core := times(t, r, "skin"), times(t, r, "core")
	if skin.State != programme.UnderWay || skin.Inferred {
		t.Errorf("skin is %+v, want under way as it was seen", skin)
	}
	if core.EarlyStart < skin.EarlyFinish {
		t.Errorf("core goes on at %s, before skin is done at %s", core.EarlyStart, skin.EarlyFinish)
	}
}

func TestContradictionThroughTheNetwork(t *testing.T) {
	c := chain(t)
	step(t, &c, "skin").Seen = []programme.Sighting{seen(10, programme.NotStarted)}
	step(t, &c, "bag").Seen = []programme.Sighting{seen(7, programme.Done)}
	r := pass(t, c)
	if len(r.Contradictions) != 1 {
		t.Fatalf("contradictions %+v, want one", r.Contradictions)
	}
	got := r.Contradictions[0]
	if !slices.Equal(got.Steps, []string{"skin", "bag"}) || !slices.Equal(got.Through, []string{"core"}) {
		t.Errorf("contradiction %+v", got)
	}
	for _, word := range []string{`"skin"`, "not started", "2027-03-11", `"bag"`, "done", "2027-03-08", `"core"`} {
		if !strings.Contains(got.Says, word) {
			t.Errorf("%q does not say %s", got.Says, word)
		}
	}
	if s := times(t, r, "bag"); s.State != programme.Done || s.Inferred {
		t.Errorf("bag is %+v, want what was seen of it", s)
	}
	if s := times(t, r, "skin"); s.State != programme.NotStarted || s.Inferred {
		t.Errorf("skin is %+v, want what was seen of it", s)
	}
}

func TestOwnSightingsContradict(t *testing.T) {
	c := chain(t)
	step(t, &c, "core").Seen = []programme.Sighting{seen(9, programme.NotStarted), seen(5, programme.Done)}
	r := pass(t, c)
	if len(r.Contradictions) != 1 || !slices.Equal(r.Contradictions[0].Steps, []string{"core"}) {
		t.Fatalf("contradictions %+v", r.Contradictions)
	}
	if s := times(t, r, "core"); s.State != programme.NotStarted {
		t.Errorf("core is %s, want the later look", s.State)
	}
}

func TestToldWorkLeftAgainstSeenDone(t *testing.T) {
	c := chain(t)
	two := 2.0
	step(t, &c, "core").Seen = []programme.Sighting{seen(9, programme.Done)}
	step(t, &c, "core").Left = &two
	r := pass(t, c)
	if len(r.Contradictions) != 1 || !r.Contradictions[0].Of[1].Told {
		t.Fatalf("contradictions %+v", r.Contradictions)
	}
	step(t, &c, "core").Seen = nil
	step(t, &c, "bag").Seen = []programme.Sighting{seen(15, programme.UnderWay)}
	r = pass(t, c)
	if len(r.OutOfOrder) != 1 || !r.OutOfOrder[0].Told {
		t.Fatalf("out of order %+v, want core, told to have work left", r.OutOfOrder)
	}
}

func TestAnOverlapBoundsNothing(t *testing.T) {
	c := lines(t, allDays, `
		skin 3
		core 3 skin-1`)
	c.DataDate = monday + 20
	step(t, &c, "core").Seen = []programme.Sighting{seen(9, programme.UnderWay)}
	step(t, &c, "skin").Seen = []programme.Sighting{seen(9, programme.UnderWay)}
	if r := pass(t, c); len(r.OutOfOrder) != 0 {
		t.Errorf("out of order %+v", r.OutOfOrder)
	}
}

func TestRemaining(t *testing.T) {
	for _, c := range []struct {
		name string
		seen []programme.Sighting
		left float64
	}{
		// Begun after day 10 and by day 12: the middle of days 11 and 12 is the
		// morning of day 12, from which 8 days are worked to that of day 20.
		{"start between two looks", []programme.Sighting{seen(10, programme.NotStarted), seen(12, programme.UnderWay)}, 12 - 8},
		{"start seen only as by day 12", []programme.Sighting{seen(12, programme.UnderWay)}, 12 - 8},
		{"overdue", []programme.Sighting{seen(0, programme.UnderWay)}, 0},
		{"seen under way on the data date", []programme.Sighting{seen(20, programme.UnderWay)}, 12 - 1},
	} {
		t.Run(c.name, func(t *testing.T) {
			in := lines(t, allDays, "fair 12")
			in.DataDate = monday + 20
			in.Steps[0].Seen = c.seen
			s := pass(t, in).Steps[0]
			if !near(s.Left, c.left) {
				t.Errorf("left %g, want %g", s.Left, c.left)
			}
			if s.EarlyFinish < calendar.At(in.DataDate) {
				t.Errorf("finishes on %s, before the data date", s.EarlyFinish)
			}
			if s.FinishFrom > s.EarlyFinish.Day() {
				t.Errorf("finishes on %s, yet it was seen under way to %s", s.EarlyFinish, s.FinishFrom-1)
			}
		})
	}
}

func TestStepsWithoutALength(t *testing.T) {
	c := lines(t, allDays, `
		skin 3
		core ? skin
		bag 2 core
		tank 4
		test 1 core SS+1`)
	r := pass(t, c)
	if r.Dated || r.Finish != 0 {
		t.Errorf("dated %v, finish %s: one length is missing", r.Dated, r.Finish)
	}
	for id, want := range map[string][2]bool{
		"skin": {true, true}, "core": {true, false}, "bag": {false, false}, "tank": {true, true}, "test": {true, true},
	} {
		s := times(t, r, id)
		if s.StartDated != want[0] || s.Dated != want[1] || s.Floats {
			t.Errorf("%s: start dated %v, dated %v, floats %v; want %v and no floats", id, s.StartDated, s.Dated, s.Floats, want)
		}
		if !s.StartDated && s.EarlyStart != 0 || !s.Dated && s.EarlyFinish != 0 {
			t.Errorf("%s has times %s, %s without being dated", id, s.EarlyStart, s.EarlyFinish)
		}
	}
	if want := []string{"skin", "tank"}; !slices.Equal(r.Frontier, want) {
		t.Errorf("frontier %v, want %v", r.Frontier, want)
	}
}

func TestWaiting(t *testing.T) {
	c := lines(t, allDays, `
		mould ?
		skin ? mould
		core ? skin
		insert ?
		bag ? core, insert SS
		trim ? bag FF`)
	step(t, &c, "mould").Seen = []programme.Sighting{seen(0, programme.Done)}
	r := pass(t, c)
	w, err := programme.Waits(c, r)
	if err != nil {
		t.Fatal(err)
	}
	for id, want := range map[string]string{
		"mould": "", "skin": "", "core": "skin", "bag": "skin core insert", "trim": "",
	} {
		got := w.Before(id)
		slices.Sort(got)
		exp := strings.Fields(want)
		slices.Sort(exp)
		if !slices.Equal(got, exp) || w.Ahead(id) != len(exp) {
			t.Errorf("before %s: %v, want %v", id, got, exp)
		}
	}
	if got := w.For("bag"); !slices.Equal(got, []string{"core", "insert"}) {
		t.Errorf("bag waits for %v", got)
	}
	if !slices.Equal(r.Frontier, []string{"skin", "insert", "trim"}) {
		t.Errorf("frontier %v", r.Frontier)
	}
}

// Every course of a tiny network is tried: starts and finishes on days 1 to
// horizon that keep to the links and to what was seen. The first and last day
// of each end over all courses are what the bounds must say.
func TestBoundsAgainstEveryCourse(t *testing.T) {
	const horizon = 5
	rapid.Check(t, func(t *rapid.T) {
		c := tinyNetwork(t, horizon)
		r, err := programme.Pass(c)
		if err != nil {
			t.Skip("a ring of links")
		}
		want, any := everyCourse(c, horizon)
		if any != (len(r.Contradictions)+len(r.OutOfOrder) == 0) {
			t.Fatalf("%+v: courses %v, contradictions %v, out of order %v", c, any, r.Contradictions, r.OutOfOrder)
		}
		if !any {
			return
		}
		for i, s := range r.Steps {
			got := [4]calendar.Day{
				max(s.StartFrom, monday), orEnd(s.StartBy, monday+horizon-1),
				max(s.FinishFrom, monday), orEnd(s.FinishBy, monday+horizon-1),
			}
			if got != want[i] {
				t.Fatalf("%+v: step %s lies in %v, every course says %v", c, s.ID, got, want[i])
			}
		}
	})
}

func orEnd(d, end calendar.Day) calendar.Day {
	if d == 0 {
		return end
	}
	return d
}

func tinyNetwork(t *rapid.T, horizon int) programme.Case {
	ids := []string{"a", "b", "c", "d"}[:rapid.IntRange(1, 4).Draw(t, "steps")]
	c := programme.Case{DataDate: monday + calendar.Day(horizon-1)}
	for _, id := range ids {
		s := programme.Step{ID: id}
		for range rapid.IntRange(0, 2).Draw(t, "sightings") {
			state := rapid.SampledFrom([]programme.State{programme.NotStarted, programme.UnderWay, programme.Done}).Draw(t, "state")
			// A step not begun or not finished on the last day leaves it no course
			// inside the horizon, though the engine sees nothing wrong in it.
			last := horizon - 2
			if state == programme.Done {
				last = horizon - 1
			}
			day := rapid.IntRange(0, last).Draw(t, "day")
			if slices.ContainsFunc(s.Seen, func(v programme.Sighting) bool { return v.Day == monday+calendar.Day(day) }) {
				continue // two states on one day are a morning and an evening
			}
			s.Seen = append(s.Seen, seen(day, state))
		}
		c.Steps = append(c.Steps, s)
	}
	for range rapid.IntRange(0, 4).Draw(t, "links") {
		c.Links = append(c.Links, programme.Link{
			From: rapid.SampledFrom(ids).Draw(t, "from"), To: rapid.SampledFrom(ids).Draw(t, "to"),
			Type: rapid.SampledFrom([]programme.LinkType{programme.FS, programme.SS, programme.FF, programme.SF}).Draw(t, "type"),
		})
	}
	return c
}

// everyCourse returns for each step the first and last day of start and of
// finish, and whether there is a course at all.
func everyCourse(c programme.Case, horizon int) ([][4]calendar.Day, bool) {
	n := len(c.Steps)
	at := make(map[string]int)
	for i, s := range c.Steps {
		at[s.ID] = i
	}
	s, f := make([]calendar.Day, n), make([]calendar.Day, n)
	out := make([][4]calendar.Day, n)
	found := false
	var try func(i int)
	try = func(i int) {
		if i == n {
			for _, l := range c.Links {
				from, to := f[at[l.From]], s[at[l.To]]
				if l.Type == programme.SS || l.Type == programme.SF {
					from = s[at[l.From]]
				}
				if l.Type == programme.FF || l.Type == programme.SF {
					to = f[at[l.To]]
				}
				if from > to {
					return
				}
			}
			for k := range out {
				if !found {
					out[k] = [4]calendar.Day{s[k], s[k], f[k], f[k]}
				}
				out[k][0], out[k][1] = min(out[k][0], s[k]), max(out[k][1], s[k])
				out[k][2], out[k][3] = min(out[k][2], f[k]), max(out[k][3], f[k])
			}
			found = true
			return
		}
		for s[i] = monday; s[i] < monday+calendar.Day(horizon); s[i]++ {
			for f[i] = s[i]; f[i] < monday+calendar.Day(horizon); f[i]++ {
				if agrees(c.Steps[i].Seen, s[i], f[i]) {
					try(i + 1)
				}
			}
		}
	}
	try(0)
	return out, found
}

func agrees(seen []programme.Sighting, s, f calendar.Day) bool {
	for _, v := range seen {
		state := programme.Done
		if s > v.Day {
			state = programme.NotStarted
		} else if f > v.Day {
			state = programme.UnderWay
		}
		if state != v.State {
			return false
		}
	}
	return true
}
