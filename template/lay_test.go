package template_test

import (
	"encoding/json"
	"fmt"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/internal/test"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/template"
	"dogshore/unit"
)

// builds returns a build for every combination of answers.
func builds() []record.Build {
	k := record.KindOf("build")
	var out []record.Build
	for _, boat := range k.Field("boat").Of {
		for _, way := range k.Field("way").Of {
			for _, hulls := range k.Field("hulls").Of {
				for _, series := range k.Field("series").Of {
					length := 14.9
					if boat == "monohull" {
						length = 9.8
					}
					out = append(out, record.Build{Name: "Example", Boat: boat, Way: way, Hulls: hulls, Series: series,
						Length: unit.Q(length, unit.Length)})
				}
			}
		}
	}
	return out
}

func name(b record.Build) string {
	return strings.Join([]string{b.Boat, b.Way, b.Hulls, b.Series}, ", ")
}

var folded = map[record.Build]*journal.Record{}

// lay folds a template into a record, once for each build.
func lay(t *testing.T, b record.Build) *journal.Record {
	t.Helper()
	if r := folded[b]; r != nil {
		return r
	}
	n := 0
	entries, err := template.Lay(b, func(g record.Grounds) journal.Entry {
		n++
		return journal.Entry{ID: fmt.Sprintf("%06d", n), Stamp: journal.Stamp(n), Author: "owner", Since: journal.Always, Grounds: g, Version: journal.Version}
	})
	if err != nil {
		t.Fatal(err)
	}
	var j journal.Journal
	j.Add(entries...)
	folded[b] = j.As(calendar.Date(2026, 5, 1), journal.Now)
	return folded[b]
}

func TestEveryCombinationLays(t *testing.T) {
	for _, b := range builds() {
		t.Run(name(b), func(t *testing.T) {
			r := lay(t, b)
			for _, d := range r.Doubts() {
				t.Errorf("doubt: %s", d.Says)
			}
			stagesOfParts(t, r)
			n := network(t, r)
			for _, c := range journal.All[record.Cover](r) {
				if c.Hides == "" || c.Look == "" || c.Evidence == "" || c.Gravity == "" || c.What == "" || c.Usual != template.Usual {
					t.Errorf("%s lacks a field: %+v", c.Self, c)
				}
				// it is read in sentences: "Look at ... before the deck core."
				if strings.ContainsAny(c.Hides, "{:;.?") || strings.ToLower(c.Hides[:1]) != c.Hides[:1] {
					t.Errorf("%s: %q can't stand within a sentence", c.Self, c.Hides)
				}
			}
			for _, s := range journal.All[record.Step](r) {
				if !n.reaches(s.Self, "step/boat-delivered") {
					t.Errorf("hand-over does not wait for %s", s.Name)
				}
			}
		})
	}
}

// stagesOfParts holds the size of the template: what a person can tick in a
// quarter of an hour.
func stagesOfParts(t *testing.T, r *journal.Record) {
	t.Helper()
	steps := map[record.Ref]int{}
	for _, s := range journal.All[record.Step](r) {
		if _, ok := record.StageOf(s.Stage); !ok {
			t.Errorf("%s: stage %q is not in the picture key", s.Self, s.Stage)
		}
		if s.Key() != s.Part.Key()+"-"+s.Stage {
			t.Errorf("%s is not named by its part and stage", s.Self)
		}
		if s.Look == "" && s.Measure == "" {
			t.Errorf("%s: nothing to look at and nothing to measure", s.Self)
		}
		if s.Usual != template.Usual || s.Clause != "" || s.Work.Known || s.Lasts.Known {
			t.Errorf("%s says more than a template can know: %+v", s.Self, s)
		}
		if strings.Contains(s.Name+s.Look, "{") {
			t.Errorf("%s: %q has an empty place", s.Self, s.Name)
		}
		steps[s.Part]++
	}
	if len(steps) < 12 || len(steps) > 16 {
		t.Errorf("%d assemblies, not 12 to 16", len(steps))
	}
	for part, n := range steps {
		if n < 6 || n > 10 {
			t.Errorf("%s has %d stages, not 6 to 10", part, n)
		}
	}
	for _, e := range r.Refs("part") {
		if g := r.From(e).Grounds; g != record.Inferred {
			t.Errorf("%s is %s, not inferred", e, g)
		}
	}
	if g := r.From("build/build").Grounds; g != record.Written {
		t.Errorf("the build itself is %s", g)
	}
}

type waits map[record.Ref][]record.Ref // what stands behind each step

// network reads the links; it fails on a circle, and on a rank that does not
// grow along a link.
func network(t *testing.T, r *journal.Record) waits {
	t.Helper()
	n := waits{}
	for _, l := range journal.All[record.Link](r) {
		n[l.From] = append(n[l.From], l.To)
		from, _ := journal.Get[record.Step](r, l.From)
		to, _ := journal.Get[record.Step](r, l.To)
		if from.Rank.SI >= to.Rank.SI {
			t.Errorf("%s (rank %v) stands before %s (rank %v)", from.Name, from.Rank.SI, to.Name, to.Rank.SI)
		}
	}
	for _, s := range r.Refs("step") {
		for _, next := range n[s] {
			if n.reaches(next, s) {
				t.Errorf("%s waits for itself", s)
			}
		}
	}
	return n
}

func (n waits) reaches(from, to record.Ref) bool {
	seen := map[record.Ref]bool{}
	queue := []record.Ref{from}
	for len(queue) > 0 {
		at := queue[0]
		queue = queue[1:]
		if at == to {
			return true
		}
		if !seen[at] {
			seen[at] = true
			queue = append(queue, n[at]...)
		}
	}
	return false
}

func TestEveryAssemblyReachesLaunch(t *testing.T) {
	for _, b := range builds() {
		r := lay(t, b)
		n := network(t, r)
		first := map[record.Ref]record.Step{}
		for _, s := range journal.All[record.Step](r) {
			if f, ok := first[s.Part]; !ok || s.Rank.SI < f.Rank.SI {
				first[s.Part] = s
			}
		}
		for part, s := range first {
			if !n.reaches(s.Self, "step/boat-launched") {
				t.Errorf("%s: launch does not wait for %s", name(b), part)
			}
		}
	}
}

// The close-in table: what is hidden, and by what work. Common practice, no
// source; a row reads "hidden: anything that this step or one after it hides".
func TestWhatIsCoveredUp(t *testing.T) {
	table := []struct{ hides, by, only string }{
		{"back of the gelcoat", "hull*-outer-skin", "series"},
		{"core and inserts", "hull*-inner-skin", ""},
		{"core and inserts", "deck-inner-skin", ""},
		{"every layer", "hull*-infused", "infused sandwich"},
		{"datum marks", "outside-faired", ""},
		{"limber holes", "joinery-bonded", ""},
		{"where bulkheads meet", "joinery-lined", ""},
		{"hoses and pipes", "joinery-lined", ""},
		{"cables", "joinery-lined", ""},
		{"underside of the tanks", "tanks-installed", ""},
		{"tank sides, lids", "tanks-lined", ""},
		{"engine beds", "engines-installed", ""},
		{"larger than the largest hatch", "deck-joined", ""},
		{"nuts and backing plates", "joinery-lined", ""},
		{"backing blocks of the seacocks", "tanks-lined", ""},
		{"laminate of the chainplates", "joinery-lined", ""},
		{"primed faces of glazing", "windows-bonded", ""},
		{"bond of the glazing", "windows-lined", ""},
		{"bare outside", "outside-primed", ""},
	}
	for _, b := range builds() {
		covers := journal.All[record.Cover](lay(t, b))
		for _, row := range table {
			if row.only != "" && row.only != b.Series && row.only != b.Way {
				continue
			}
			sides := []string{""}
			if strings.Contains(row.by, "*") && b.Boat == "catamaran" {
				sides = []string{"-port", "-starboard"}
			}
			for _, side := range sides {
				step := record.R("step", strings.Replace(row.by, "*", side, 1))
				found := false
				for _, c := range covers {
					found = found || c.Step == step && strings.Contains(c.Hides, row.hides)
				}
				if !found {
					t.Errorf("%s: nothing says that %s hides %q", name(b), step, row.hides)
				}
			}
		}
	}
}

func TestTheChoicesMatter(t *testing.T) {
	has := func(b record.Build, ref record.Ref) bool { return lay(t, b).Has(ref) }
	for _, b := range builds() {
		cat := b.Boat == "catamaran"
		for ref, want := range map[record.Ref]bool{
			"part/hull-port":     cat,
			"part/hull":          !cat,
			"part/bridgedeck":    cat,
			"part/beam-forward":  cat,
			"part/keel":          !cat,
			"step/deck-bagged":   b.Way == "infused sandwich",
			"step/deck-cured":    b.Way == "hand-laid",
			"step/deck-gelcoat":  b.Series == "series",
			"stand/hull-mould":   cat && b.Series == "series",
			"part/engine-port":   cat,
			"part/engine-one":    !cat,
			"step/boat-launched": true,
		} {
			if has(b, ref) != want {
				t.Errorf("%s: has %s = %v", name(b), ref, !want)
			}
		}
		hull := record.Ref("step/hull-joined")
		if cat {
			hull = "step/hull-port-joined"
		}
		if has(b, hull) != (b.Hulls == "in halves") {
			t.Errorf("%s: %s", name(b), hull)
		}
	}
}

func TestOutlinesFollowTheLength(t *testing.T) {
	b := builds()[0]
	get := func(b record.Build) (low, high float64) {
		for _, p := range journal.All[record.Part](lay(t, b)) {
			for _, c := range p.Profile {
				low, high = min(low, c[0]), max(high, c[0])
			}
		}
		return low, high
	}
	for _, length := range []float64{8, 14.9, 24} {
		b.Length = unit.Q(length, unit.Length)
		low, high := get(b)
		if d := high - low - length; d < -0.02*length || d > 0.02*length {
			t.Errorf("a boat of %v m is drawn %v m long", length, high-low)
		}
	}
	b.Length = unit.Quantity{}
	if low, high := get(b); low != 0 || high != 0 {
		t.Error("a boat of unknown length is drawn")
	}
	b.Length, b.Beam = unit.Q(12, unit.Length), unit.Q(7, unit.Length)
	hull, _ := journal.Get[record.Part](lay(t, b), "part/hull-port")
	beam := 0.0
	for _, c := range hull.Plan {
		beam = max(beam, 2*c[1])
	}
	if beam < 6.9 || beam > 7.1 {
		t.Errorf("a beam of 7 m is drawn as %v", beam)
	}
}

func TestMissingAnswers(t *testing.T) {
	_, err := template.Subjects(record.Build{Boat: "catamaran", Way: "carved"})
	if err == nil {
		t.Fatal("laid without answers")
	}
	for _, want := range []string{"way (infused sandwich or hand-laid)", "hulls (in halves or one piece)", "series (series or one-off)"} {
		if !strings.Contains(err.Error(), want) {
			t.Errorf("%q does not say %q", err, want)
		}
	}
}

func TestValuesPassTheDoor(t *testing.T) {
	for _, b := range builds() {
		subjects, err := template.Subjects(b)
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range subjects {
			for field, v := range s.Fields {
				f := record.KindOf(s.Ref.Kind()).Field(field)
				if got, err := f.Check(v); err != nil || got != v {
					t.Errorf("%s %s: %s: %v", s.Ref, field, v, err)
				}
			}
		}
	}
}

// Each figure in a text says where it comes from.
func TestFiguresSayWhereTheyComeFrom(t *testing.T) {
	for _, b := range builds() {
		for _, s := range journal.All[record.Step](lay(t, b)) {
			for _, text := range []string{s.Look, s.Measure} {
				if !strings.ContainsAny(text, "0123456789") {
					continue
				}
				if !strings.Contains(text, "no source") && !strings.Contains(text, "from memory") && !strings.Contains(text, "as read") &&
					!strings.Contains(text, "after 1, 6 and 24 h") {
					t.Errorf("%s: %q has a figure without its source", s.Self, text)
				}
			}
		}
	}
}

// Figures that a source gives in its own units stand in ours.
func TestFiguresAreTurnedRight(t *testing.T) {
	const lbf, psi, inch = 4.4482216152605, 6894.757293168, 0.0254 // exact by definition; psi from lbf and inch
	says := ""
	for _, s := range journal.All[record.Step](lay(t, builds()[0])) {
		says += s.Look + s.Measure
	}
	for _, f := range []struct {
		what, src, text    string
		published, allowed float64 // half the last digit printed
	}{
		{"tank test, kPa", "33 CFR 183.542, 3 psi, as read for the yard-practice sheet", "20.7 kPa", 3 * psi / 1000, 0.05},
		{"seacock, static load, N", "500 lbf, US standard as quoted in four articles read for the sheet", "2224 N", 500 * lbf, 0.5},
		{"stanchion, load, N", "400 lbf, a surveyor's checklist as read for the sheet", "1779 N", 400 * lbf, 0.5},
		{"deck joint, bolt spacing, mm", "6 in, a survey checklist as read for the sheet", "152 mm", 6 * inch * 1000, 0.5},
	} {
		if !strings.Contains(says, f.text) {
			t.Errorf("no text says %q", f.text)
		}
		var got float64
		if _, err := fmt.Sscan(f.text, &got); err != nil {
			t.Fatal(err)
		}
		test.Check(t, f.what, f.src, f.published, got, f.allowed)
	}
}

func TestSameBuildSameSubjects(t *testing.T) {
	b := builds()[0]
	first, err := template.Subjects(b)
	if err != nil {
		t.Fatal(err)
	}
	second, _ := template.Subjects(b)
	a, _ := json.Marshal(first)
	c, _ := json.Marshal(second)
	if string(a) != string(c) {
		t.Error("two runs differ")
	}
}
