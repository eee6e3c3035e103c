package main

import (
	"bytes"
	"context"
	"encoding/json"
	"flag"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/rogpeppe/go-internal/txtar"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/review"
	"dogshore/store"
	"dogshore/unit"
)

var update = flag.Bool("update", false, "write what the commands print into testdata instead of comparing")

// folder is a build folder that entries are put into, day by day.
type folder struct {
	t     *testing.T
	f     *store.Folder
	today calendar.Day
}

// april counts days of April 2026: the 1st is a Wednesday.
func april(n int) calendar.Day { return calendar.Date(2026, 4, n) }

func newFolder(t *testing.T) *folder {
	b := &folder{t: t, today: april(1)}
	f, err := store.Create(context.Background(), filepath.Join(t.TempDir(), "petrel"), b.now)
	if err != nil {
		t.Fatal(err)
	}
	b.f = f
	t.Cleanup(func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	})
	return b
}

func (b *folder) now() time.Time { return b.today.Time().Add(18 * time.Hour) }

func (b *folder) accept(entries ...journal.Entry) {
	b.t.Helper()
	if _, err := b.f.Accept(context.Background(), entries...); err != nil {
		b.t.Fatal(err)
	}
}

func put[T any](b *folder, g record.Grounds, key string, x T) record.Ref {
	b.t.Helper()
	kind := record.KindFor[T]().Name
	e := b.f.Draft("owner", b.today, g)
	values := record.Values(x)
	for _, field := range slices.Sorted(maps.Keys(values)) {
		e.Facts = append(e.Facts, journal.Fact{Kind: kind, Key: key, Field: field, Value: values[field]})
	}
	b.accept(e)
	return record.R(kind, key)
}

func (b *folder) visit(key string, done ...string) {
	v := put(b, record.Seen, key, record.Visit{Day: b.today, By: "owner"})
	for _, step := range done {
		put(b, record.Seen, key+"-"+step, record.Sighting{Visit: v, Step: record.R("step", step), State: "done"})
	}
}

// lay puts a hull and a deck of few stages, each closing in the one before.
func (b *folder) lay() {
	for _, part := range []string{"Hull", "Deck"} {
		key := strings.ToLower(part)
		of := put(b, record.Written, key, record.Part{Name: part})
		last := record.Ref("")
		for i, stage := range []string{"outer skin", "core", "inner skin", "bagged", "infused"} {
			slug := key + "-" + strings.ReplaceAll(stage, " ", "-")
			step := put(b, record.Written, slug, record.Step{
				Name: part + " " + stage, Part: of, Rank: unit.Q(float64(10*i), unit.Number),
				Look: "The layers against the ply table.", Measure: "Laps at least 50 mm (common practice, no source).",
			})
			if last != "" {
				put(b, record.Written, slug+"-after", record.Link{From: last, To: step, Type: "FS"})
			}
			last = step
		}
		put(b, record.Written, key+"-inserts", record.Cover{
			Step: record.R("step", key+"-inner-skin"), What: of, Gravity: "structure", Hides: "the core and inserts of the " + key,
			Look: "Each insert against the drawing.", Evidence: "a picture of each insert with a tape",
		})
		put(b, record.Written, key+"-plies", record.Cover{
			Step: record.R("step", key+"-bagged"), What: of, Gravity: "needs cutting", Hides: "the layers of the " + key + "'s inner skin", Look: "Count them.",
		})
	}
}

// petrel is an invented sloop, visited three times, with a little of
// everything that a review speaks of.
func petrel(t *testing.T) *folder {
	b := newFolder(t)
	put(b, record.Written, "build", record.Build{Name: "Petrel", HullNumber: "14", Notice: "Invented for a test: no such boat, yard or person."})
	b.lay()
	ana := put(b, record.Written, "ana", record.Person{Name: "Ana", Role: "yard lead", MayInstruct: record.Yes})
	put(b, record.Written, "igor", record.Person{Name: "Igor", Role: "yard hand", MayInstruct: record.No})
	b.visit("v1", "hull-outer-skin", "deck-outer-skin")
	put(b, record.Told, "stem-eye", record.Point{Question: "Where does the stem eye go?", Gravity: "structure", CoveredBy: "step/deck-inner-skin", Default: "on the centreline"})
	put(b, record.Told, "berth", record.Point{Question: "How long is the aft berth?", Gravity: "finish", CoveredBy: "step/hull-bagged"})

	b.today = april(8)
	b.visit("v2", "hull-core", "hull-inner-skin", "deck-core")
	put(b, record.Told, "foam", record.Agreement{Says: "Denser foam under the winches, density to be told", With: "person/igor", Day: b.today, Before: "step/deck-inner-skin"})
	put(b, record.Seen, "gap", record.Defect{What: "Gap of 4 mm between core blocks at the mast", Part: "part/deck", Gravity: "structure", Before: "step/deck-inner-skin"})
	put(b, record.Told, "skin", record.Statement{About: "step/deck-inner-skin", What: "starts", When: calendar.On(april(20)), By: ana, On: b.today})

	b.today = april(15)
	b.visit("v3")
	put(b, record.Told, "gap-told", record.Remedy{Defect: "defect/gap", State: "put right", Day: b.today, By: ana})
	for key, got := range map[string]float64{"core-1": 24.1, "core-2": 24.3} {
		put(b, record.Measured, key, record.Measurement{Visit: "visit/v3", What: "Deck core at the windlass", Of: "part/deck", Got: unit.Q(got/1000, unit.Length),
			Should: record.Tolerance{Known: true, Value: 0.025, Minus: 0.0005, Plus: 0.0005, Dim: unit.Length}})
	}
	put(b, record.Told, "waived", record.Ruling{Act: "settle/point/berth", Says: "waive", Why: "we sleep diagonally", Day: b.today, Until: calendar.Date(2026, 9, 1)})
	b.today = april(16)
	put(b, record.Written, "infused", record.Statement{About: "step/deck-infused", What: "is done", When: calendar.On(april(30)), By: ana, On: b.today})
	return b
}

// TestReviewPages compares what dogshore review prints with testdata: each
// file is a command line and what it prints. Run with -update to rewrite them,
// and read the difference.
func TestReviewPages(t *testing.T) {
	b := petrel(t)
	files, err := filepath.Glob("testdata/review/*.txtar")
	if err != nil || len(files) == 0 {
		t.Fatalf("no pages to compare with: %v", err)
	}
	for _, name := range files {
		t.Run(filepath.Base(name), func(t *testing.T) {
			a, err := txtar.ParseFile(name)
			if err != nil {
				t.Fatal(err)
			}
			out, code := reviewed(t, b, strings.Fields(string(a.Comment)))
			if *update {
				a.Files = []txtar.File{{Name: "out", Data: out}}
				if err := os.WriteFile(name, txtar.Format(a), 0o644); err != nil {
					t.Fatal(err)
				}
				return
			}
			if want := a.Files[0].Data; !bytes.Equal(out, want) {
				t.Errorf("exit code %d; it prints\n%s\nwant\n%s", code, out, want)
			}
		})
	}
}

// reviewed runs a command line; COLUMNS=n in front of it sets the width.
func reviewed(t *testing.T, b *folder, words []string) ([]byte, int) {
	t.Helper()
	t.Setenv("COLUMNS", "")
	if n, ok := strings.CutPrefix(words[0], "COLUMNS="); ok {
		t.Setenv("COLUMNS", n)
		words = words[1:]
	}
	for i, w := range words {
		if w == "DIR" {
			words[i] = b.f.Dir()
		}
	}
	var out bytes.Buffer
	code := run(context.Background(), words[1:], streams{out: &out, err: &out, now: b.now})
	return bytes.ReplaceAll(out.Bytes(), []byte(b.f.Dir()), []byte("DIR")), code
}

// --json prints one document, and nothing else.
func TestReviewJSON(t *testing.T) {
	b := petrel(t)
	out, code := reviewed(t, b, []string{"dogshore", "review", "--json", "DIR"})
	var d struct {
		Format string `json:"format"`
		Acts   []struct {
			ID string `json:"id"`
		} `json:"acts"`
	}
	if err := json.Unmarshal(out, &d); err != nil || code != exitDone {
		t.Fatalf("exit code %d, %v", code, err)
	}
	if d.Format != review.Format || len(d.Acts) < 8 {
		t.Errorf("format %q, %d acts", d.Format, len(d.Acts))
	}
}

// No line is wider than the terminal, unless one word is.
func TestReviewKeepsToTheWidth(t *testing.T) {
	b := petrel(t)
	for _, width := range []string{"40", "60", "80", "100"} {
		out, _ := reviewed(t, b, []string{"COLUMNS=" + width, "dogshore", "review", "--all", "DIR"})
		n := map[string]int{"40": 40, "60": 60, "80": 80, "100": 100}[width]
		for _, line := range strings.Split(string(out), "\n") {
			if len([]rune(line)) > n && len(strings.Fields(line)) > 2 {
				t.Errorf("at %s columns: %q", width, line)
			}
		}
		if bytes.ContainsRune(out, '\x1b') {
			t.Errorf("colour in a pipe")
		}
	}
}
