package demo

import (
	"context"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

// made makes a build, once for all tests, and opens it on the evening of its
// last day.
func made(t *testing.T, which Which) *store.Folder {
	t.Helper()
	dir, err := makes[which]()
	if err != nil {
		t.Fatal(err)
	}
	today, err := Today(which)
	if err != nil {
		t.Fatal(err)
	}
	f, err := store.Open(t.Context(), dir, func() time.Time { return Evening(today) })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() {
		if err := f.Close(); err != nil {
			t.Error(err)
		}
	})
	return f
}

var makes = map[Which]func() (string, error){
	Thin: sync.OnceValues(func() (string, error) { return makeIn(Thin) }),
	Full: sync.OnceValues(func() (string, error) { return makeIn(Full) }),
}

func makeIn(which Which) (string, error) {
	dir := filepath.Join(scratch, string(which))
	return dir, Make(context.Background(), dir, which)
}

// scratch holds the builds that the tests share.
var scratch string

func TestMain(m *testing.M) {
	var err error
	if scratch, err = os.MkdirTemp("", "demo-test-"); err != nil {
		panic(err)
	}
	code := m.Run()
	if err := os.RemoveAll(scratch); err != nil {
		panic(err)
	}
	os.Exit(code)
}

func asOf(t *testing.T, f *store.Folder, day calendar.Day, known int64) *journal.Record {
	t.Helper()
	r, err := f.As(context.Background(), day, known)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

// Intake and store must come to the same record as the plain reader of
// straight_test.go, field by field.
func TestTwoWaysToOneRecord(t *testing.T) {
	for _, which := range Builds {
		t.Run(string(which), func(t *testing.T) {
			today, _ := Today(which)
			got := asOf(t, made(t, which), today, journal.Now)
			want := straight(t, which).As(today, journal.Now)
			for i := range record.Kinds() {
				k := &record.Kinds()[i]
				if g, w := len(written(got.Refs(k.Name))), len(want.Refs(k.Name)); g != w {
					t.Errorf("%d subjects of kind %s, the plain reader has %d", g, k.Name, w)
				}
				for _, self := range want.Refs(k.Name) {
					if keyless[which][k.Name] {
						continue
					}
					for j := range k.Fields {
						f := &k.Fields[j]
						if k.Name == "photo" && ofFile[f.Name] {
							continue
						}
						g, _ := got.Held(self, f.Name)
						w, _ := want.Held(self, f.Name)
						if !f.Same(g.Value, w.Value) {
							t.Errorf("%s, %s: %s, the plain reader has %s", self, f.Title, g.Value, w.Value)
						}
						if g.Entry != nil && w.Entry != nil && g.Entry.Since != w.Entry.Since {
							t.Errorf("%s, %s holds from %s, the plain reader has %s", self, f.Title, g.Entry.Since, w.Entry.Since)
						}
					}
				}
			}
			if g, w := len(got.Doubts()), len(want.Doubts()); g != w {
				t.Errorf("%d doubts, the plain reader has %d", g, w)
			}
		})
	}
}

// written leaves out the pictures that no text names: they are drawn, and have
// their own test.
func written(all []record.Ref) []record.Ref {
	return slices.DeleteFunc(slices.Clone(all), func(r record.Ref) bool { return strings.HasPrefix(string(r), "photo/p-") })
}

// ofFile are the fields that a picture has from its file.
var ofFile = map[string]bool{"file": true, "day": true, "time": true, "doubt": true}

// keyless are the kinds whose rows leave their keys to intake.
var keyless = map[Which]map[string]bool{Thin: {"sighting": true, "statement": true}}

func TestWhatWeKnewThen(t *testing.T) {
	f := made(t, Full)
	day := calendar.Date(2026, 7, 22)
	known, err := f.Arrived(t.Context(), day)
	if err != nil {
		t.Fatal(err)
	}
	then := asOf(t, f, day, known)
	if n := len(then.Refs("visit")); n != 12 {
		t.Errorf("%d visits were known on %s, want 12", n, day)
	}
	if then.Has("point/jackstay-anchors") || then.Has("letter/letter-2026-10-15") {
		t.Error("what came in the autumn was known in July")
	}
	tank := record.R("lead", "anchors-check")
	autumn := asOf(t, f, calendar.Date(2026, 10, 1), journal.Now)
	if _, ok := autumn.Held(tank, "quoted_by"); ok {
		t.Error("the designer's quote of 4 November holds on 1 October")
	}
	winter := asOf(t, f, calendar.Date(2026, 11, 12), journal.Now)
	if _, ok := winter.Held(tank, "quoted_by"); !ok {
		t.Error("the designer's quote of 4 November does not hold on 12 November")
	}
}

func TestMakingTwiceIsRefused(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "thin")
	if err := Make(t.Context(), dir, Thin); err != nil {
		t.Fatal(err)
	}
	if err := Make(t.Context(), dir, Thin); err == nil {
		t.Error("a build was made over another")
	}
}

func TestInKeepsMakesAnewAndRefuses(t *testing.T) {
	dir := filepath.Join(t.TempDir(), "builds", "thin")
	in := func(fresh bool) bool {
		t.Helper()
		made, err := In(t.Context(), dir, Thin, fresh)
		if err != nil {
			t.Fatal(err)
		}
		return made
	}
	if !in(false) {
		t.Fatal("nothing was made")
	}
	own := filepath.Join(dir, "own.txt")
	if err := os.WriteFile(own, nil, 0o644); err != nil {
		t.Fatal(err)
	}
	if in(false) {
		t.Error("what was there was not kept")
	}
	if _, err := os.Stat(own); err != nil {
		t.Error(err)
	}
	if !in(true) {
		t.Error("it was not made anew")
	}
	if _, err := os.Stat(own); err == nil {
		t.Error("made anew, the old is still there")
	}
	others, err := os.ReadDir(filepath.Dir(dir))
	if err != nil || len(others) != 1 {
		t.Errorf("beside the build lie %d things, %v", len(others)-1, err)
	}
	if err := os.Remove(filepath.Join(dir, mark)); err != nil {
		t.Fatal(err)
	}
	for _, fresh := range []bool{false, true} {
		if _, err := In(t.Context(), dir, Thin, fresh); err == nil {
			t.Errorf("a folder that no demo made was taken (fresh %v)", fresh)
		}
	}
}
