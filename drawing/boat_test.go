package drawing_test

import (
	"flag"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/template"
	"dogshore/unit"
)

var update = flag.Bool("update", false, "rewrite the golden files")

func catamaran(t *testing.T) *journal.Record {
	t.Helper()
	return laid(t, record.Build{Name: "Example", Boat: "catamaran", Way: "infused sandwich", Hulls: "one piece", Series: "series",
		Length: unit.Q(14.9, unit.Length)})
}

func laid(t *testing.T, b record.Build) *journal.Record {
	t.Helper()
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
	return j.As(calendar.Date(2026, 5, 1), journal.Now)
}

func TestBoatGolden(t *testing.T) {
	parts := journal.All[record.Part](catamaran(t))
	sheet := drawing.Boat(parts, map[record.Ref]drawing.Standing{
		"part/hull-port": {Stage: "demoulded", How: record.Seen},
		"part/deck":      {Stage: "skin-coat", How: record.Shown, Doing: "Deck core"},
		"part/bulkheads": {Stage: "bonded", How: record.Inferred},
		"part/engines":   {How: record.Seen},
	}, true)
	got := string(sheet.SVG())
	for _, r := range sheet.Rows {
		got += fmt.Sprintf("%d %s %s: %s\n", r.Number, r.Part, r.Name, r.Says)
	}
	name := filepath.Join("testdata", "boat.svg.txt")
	if *update {
		if err := os.WriteFile(name, []byte(got), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	want, err := os.ReadFile(name)
	if err != nil {
		t.Fatal(err)
	}
	if got != string(want) {
		t.Errorf("the drawing has changed; look at it and run with -update. Got\n%s", got)
	}
	wellFormed(t, string(sheet.SVG()))
	inside(t, sheet.Drawing)
}

// Every part with an outline leads to its page, in every view that has it, and
// says where it stands; the others stand in the list only.
func TestBoatSaysTheSameInWords(t *testing.T) {
	parts := journal.All[record.Part](catamaran(t))
	sheet := drawing.Boat(parts, map[record.Ref]drawing.Standing{"part/hull-port": {Stage: "core", How: record.Seen}}, false)
	svg := string(sheet.SVG())
	if len(sheet.Rows) != len(parts) {
		t.Errorf("%d rows for %d parts", len(sheet.Rows), len(parts))
	}
	for i, r := range sheet.Rows {
		links := strings.Count(svg, fmt.Sprintf(`<a href="/part/%s" aria-label="%s: %s">`, r.Part.Key(), r.Name, r.Says))
		want := 0
		if len(parts[i].Plan) > 0 {
			want++
		}
		if len(parts[i].Profile) > 0 {
			want++
		}
		if links != want || (r.Number > 0) != (want > 0) {
			t.Errorf("%s: %d links, want %d; number %d", r.Part, links, want, r.Number)
		}
	}
	if !strings.Contains(svg, ">From above, deck lifted off<") || !strings.Contains(svg, ">Deck, from above<") {
		t.Error("a view is missing")
	}
	if strings.Contains(svg, "Schematic") {
		t.Error("outlines of the yard's own are called schematic")
	}
}

func TestBoatIsRobust(t *testing.T) {
	nest := func(key, in string) record.Part {
		return record.Part{Subject: record.Subject{Self: record.R("part", key)}, Name: "<" + key + ">", Within: record.R("part", in)}
	}
	flat := nest("flat", "")
	flat.Plan = record.Outline{{1, 1}, {2, 1}, {3, 1}}
	two := nest("two", "")
	two.Profile = record.Outline{{0, 0}, {1, 1}}
	for name, parts := range map[string][]record.Part{
		"none":             nil,
		"without outlines": {nest("a", "b"), nest("b", "a")},
		"without area":     {flat},
		"of two corners":   {two},
	} {
		t.Run(name, func(t *testing.T) {
			sheet := drawing.Boat(parts, nil, true)
			wellFormed(t, string(sheet.SVG()))
			if strings.Contains(string(sheet.SVG()), "NaN") || strings.Contains(string(sheet.SVG()), "Inf") {
				t.Errorf("numbers went astray: %s", sheet.SVG())
			}
			for _, r := range sheet.Rows {
				if r.Says != "not known" {
					t.Errorf("%s: %s", r.Part, r.Says)
				}
			}
		})
	}
}

func TestStandingOf(t *testing.T) {
	step := func(part, stage string, rank float64, state string, g record.Grounds) plan.Step {
		return plan.Step{Step: record.Step{Name: "Deck " + stage, Part: record.R("part", part), Stage: stage, Rank: unit.Q(rank, unit.Number)}, State: state, Grounds: g}
	}
	got := drawing.StandingOf([]plan.Step{
		step("deck", "core", 20, "done", record.Seen),
		step("deck", "gelcoat", 10, "done", record.Inferred),
		step("deck", "inner-skin", 30, "under way", record.Seen),
		step("hull", "gelcoat", 10, "not started", record.Told),
		step("keel", "prepared", 10, "not known", ""),
		step("", "gelcoat", 10, "done", record.Seen),
	})
	for part, want := range map[record.Ref]string{
		"part/deck": "core, seen; deck inner-skin under way",
		"part/hull": "not begun, told, not seen",
		"part/keel": "not known",
	} {
		if s := got[part].String(); s != want {
			t.Errorf("%s: %q, want %q", part, s, want)
		}
	}
}

// What follows from something else is never drawn like what was seen.
func TestInferredIsNotDrawnAsSeen(t *testing.T) {
	part := record.Part{Subject: record.Subject{Self: "part/a"}, Name: "A", Profile: record.Outline{{0, 0}, {4, 0}, {4, 3}, {0, 3}}}
	edges := map[record.Grounds]string{}
	for _, g := range append([]record.Grounds{""}, record.AllGrounds...) {
		st := map[record.Ref]drawing.Standing{"part/a": {Stage: "core", How: g}}
		if g == "" {
			st = nil
		}
		svg := string(drawing.Boat([]record.Part{part}, st, false).SVG())
		_, rest, _ := strings.Cut(svg, `<path class="`)
		edges[g], _, _ = strings.Cut(rest, `"`)
	}
	for g, want := range map[record.Grounds]string{
		"": "unknown closed", record.Inferred: "hidden closed", record.Told: "hidden closed",
		record.Shown: "outline closed", record.Seen: "outline closed", record.Certified: "outline closed",
	} {
		if edges[g] != want {
			t.Errorf("%q is drawn %q, want %q", g, edges[g], want)
		}
	}
}
