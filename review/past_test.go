package review

import (
	"bytes"
	"context"
	"slices"
	"testing"

	"dogshore/journal"
	"dogshore/record"
)

func says(all []Difference) []string {
	out := []string{}
	for _, d := range all {
		out = append(out, d.Says)
	}
	return out
}

// What happened since the last visit, and what was learned of the time before
// it, stand apart.
func TestHappenedAndLearned(t *testing.T) {
	b := thin(t)
	b.today = day(8)
	ana := always(b, "ana", record.Person{Name: "Ana", Role: "yard lead", MayInstruct: record.Yes})
	v := b.visit("owner")
	b.see(v, "hull-bagged", "done")

	b.today = day(10)
	put(b, record.Written, "launch", record.Statement{About: "step/boat-launched", What: "is done", When: week(34), By: ana, On: day(10)})
	// Of the time before, and only now on record: a defect of the visit, and
	// what somebody had told a week earlier.
	putSince(b, day(8), record.Seen, "gap", record.Defect{What: "gap under the core", Part: "part/deck", Visit: v})
	putSince(b, day(3), record.Told, "eye", record.Agreement{Says: "stem eye on the centreline", With: ana, Day: day(3)})
	putSince(b, day(8), record.Seen, "v2026-04-08", record.Visit{Note: "rain"})

	got := b.review(day(12)).Since
	if got.Visit.Self != v {
		t.Fatalf("since %s", got.Visit.Self)
	}
	if want := []string{"Ana said of Afloat: is done W34"}; !slices.Equal(says(got.Happened), want) {
		t.Errorf("happened %q, want %q", says(got.Happened), want)
	}
	want := []string{"agreed with Ana: stem eye on the centreline", "visit on Wed 8 April 2026: note is now \u201crain\u201d", "found on Deck: gap under the core"}
	if !slices.Equal(says(got.Learned), want) {
		t.Errorf("learned\n%q, want\n%q", says(got.Learned), want)
	}
	// A visit that was closed later was known when it was closed.
	b.today = day(11)
	putSince(b, day(8), record.Seen, "v2026-04-08", record.Visit{Closed: record.Yes})
	if got := b.review(day(12)).Since; len(got.Learned) != 0 {
		t.Errorf("learned %q, though the visit was closed after", says(got.Learned))
	}
	// On the day of a visit the review still speaks of the one before.
	if got := b.review(day(8)).Since; got.Visit.Self != "visit/v2026-04-01" || !slices.Contains(says(got.Happened), "Hull under vacuum: seen done") {
		t.Errorf("on the day: since %s, happened %q", got.Visit.Self, says(got.Happened))
	}
}

// Nothing was known before the record began: then nothing counts as learned.
func TestNothingLearnedAtFirst(t *testing.T) {
	b := newBuild(t)
	b.today = day(20)
	putSince(b, day(1), record.Seen, "v", record.Visit{Day: day(1), By: "owner"})
	putSince(b, day(1), record.Seen, "gap", record.Defect{What: "gap"})
	if got := b.review(day(20)).Since; got.Visit.Self != "visit/v" || len(got.Learned)+len(got.Happened) != 0 {
		t.Errorf("since %+v", got)
	}
}

// A review as of a past visit, with what was known then, is the review that
// was read then.
func TestAsOfAPastVisit(t *testing.T) {
	b := thin(t)
	var read [][]byte
	var known []int64
	days := []int{1, 8, 15, 22}
	for i, d := range days {
		b.today = day(d)
		if i > 0 {
			v := b.visit("owner")
			b.see(v, []string{"hull-bagged", "deck-core", "hull-infused"}[i-1], "done")
			// Something of an earlier day that nobody had written down.
			putSince(b, day(d-3), record.Told, "late"+b.today.String(), record.Agreement{Says: "said earlier", Day: day(d - 3)})
		}
		v, err := Read(context.Background(), b, day(d), b.n)
		if err != nil {
			t.Fatal(err)
		}
		read, known = append(read, written(t, v)), append(known, b.n)
	}
	for i, d := range days {
		arrived, err := b.Arrived(context.Background(), day(d))
		if err != nil || arrived != known[i] {
			t.Fatalf("arrived %d, %v", arrived, err)
		}
		v, err := Read(context.Background(), b, day(d), arrived)
		if err != nil {
			t.Fatal(err)
		}
		if !bytes.Equal(written(t, v), read[i]) {
			t.Errorf("the review of the %d reads otherwise now:\n%s", d, diff(read[i], written(t, v)))
		}
		// With all that is known now it is another one, where more was learned.
		if now := written(t, b.review(day(d))); i < len(days)-1 && bytes.Equal(now, read[i]) {
			t.Errorf("what was learned since of the %d changes nothing", d)
		}
	}
}

func written(t testing.TB, v Review) []byte {
	t.Helper()
	out, err := JSON(v)
	if err != nil {
		t.Fatal(err)
	}
	return out
}

// diff shows the first line in which two texts differ.
func diff(a, b []byte) string {
	x, y := bytes.Split(a, []byte("\n")), bytes.Split(b, []byte("\n"))
	for i := range min(len(x), len(y)) {
		if !bytes.Equal(x[i], y[i]) {
			return "- " + string(x[i]) + "\n+ " + string(y[i])
		}
	}
	return "one is longer"
}

// A review costs one run of the desks, two once there were two visits, and at
// most four records.
func TestRunsAndRecords(t *testing.T) {
	b := thin(t)
	for _, c := range []struct{ day, runs, asked int }{{1, 1, 1}, {2, 1, 3}, {8, 2, 4}, {15, 2, 4}} {
		if b.today = day(c.day); c.day >= 8 {
			b.visit("owner")
		}
		b.asked = 0
		v, err := Read(context.Background(), b, day(c.day), journal.Now)
		if err != nil {
			t.Fatal(err)
		}
		if v.Runs != c.runs || b.asked != c.asked {
			t.Errorf("on the %d: %d runs, %d records; want %d, %d", c.day, v.Runs, b.asked, c.runs, c.asked)
		}
	}
}

// What is kept changes no review, also after news; it only saves a run.
func TestMemoSavesARunAndChangesNothing(t *testing.T) {
	b := thin(t)
	var memo Memo
	for _, d := range []int{2, 8, 15} {
		if b.today = day(d); d >= 8 {
			b.visit("owner")
		}
		for again := range 2 {
			kept, err := memo.Read(context.Background(), b, day(d), journal.Now)
			if err != nil {
				t.Fatal(err)
			}
			fresh, err := Read(context.Background(), b, day(d), journal.Now)
			if err != nil {
				t.Fatal(err)
			}
			if again == 1 && kept.Runs != 1 {
				t.Errorf("on the %d, asked again: %d runs of the desks, want 1", d, kept.Runs)
			}
			if x, y := written(t, kept), written(t, fresh); !bytes.Equal(x, y) {
				t.Errorf("on the %d the kept review differs:\n%s", d, diff(x, y))
			}
		}
	}
}
