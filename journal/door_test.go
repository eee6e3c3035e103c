package journal_test

import (
	"encoding/json"
	"strings"
	"testing"
	"time"

	"pgregory.net/rapid"

	"dogshore/internal/reference"
	"dogshore/journal"
	"dogshore/record"
)

func good() journal.Entry {
	return journal.Entry{ID: "e1", Stamp: 1, Since: reference.FirstDay, Author: "owner", Grounds: record.Seen, Version: journal.Version,
		Facts: []journal.Fact{{Kind: "part", Key: "deck", Field: "name", Value: `"Deck"`}}}
}

func TestDoorRefuses(t *testing.T) {
	fact := func(f journal.Fact) func(*journal.Entry) { return func(e *journal.Entry) { e.Facts[0] = f } }
	for _, c := range []struct {
		name  string
		spoil func(e *journal.Entry)
		says  string
	}{
		{"no id", func(e *journal.Entry) { e.ID = "" }, "needs an id"},
		{"no stamp", func(e *journal.Entry) { e.Stamp = 0 }, "needs a stamp"},
		{"no version", func(e *journal.Entry) { e.Version = 0 }, "needs a version"},
		{"no day", func(e *journal.Entry) { e.Since = 0 }, "no day between 1950 and 2199"},
		{"an unknown ground", func(e *journal.Entry) { e.Grounds = "guessed" }, `"guessed" is no ground`},
		{"no author", func(e *journal.Entry) { e.Author = " " }, "needs an author"},
		{"two lines of author", func(e *journal.Entry) { e.Author = "a\nb" }, "the author is one line"},
		{"separators in an origin", func(e *journal.Entry) { e.Origin = "a\x1fb" }, "the origin is one line"},
		{"no facts", func(e *journal.Entry) { e.Facts = nil }, "1 to 2000 facts"},
		{"a clock of another age", func(e *journal.Entry) { e.Wall = time.Date(12000, 1, 1, 0, 0, 0, 0, time.UTC) }, "the year 12000"},
		{"the same field twice", func(e *journal.Entry) { e.Facts = append(e.Facts, e.Facts[0]) }, "part/deck: name is said twice"},
		{"no key", fact(journal.Fact{Kind: "part", Field: "name", Value: `"x"`}), "a key has 1 to 200 characters"},
		{"a key of two lines", fact(journal.Fact{Kind: "part", Key: "a\nb", Field: "name", Value: `"x"`}), "a key is one line"},
		{"a long key", fact(journal.Fact{Kind: "part", Key: strings.Repeat("k", 201), Field: "name", Value: `"x"`}), "at most 200 characters"},
		{"an unknown kind", fact(journal.Fact{Kind: "keel", Key: "a", Field: "name", Value: `"x"`}), `there is no kind "keel"`},
		{"an unknown field", fact(journal.Fact{Kind: "part", Key: "a", Field: "mood", Value: `"x"`}), "mood is no field of the kind part"},
		{"a number for a text", fact(journal.Fact{Kind: "part", Key: "a", Field: "name", Value: `3`}), "is not a text"},
		{"no JSON", fact(journal.Fact{Kind: "part", Key: "a", Field: "name", Value: `"x`}), "is not a text"},
		{"two values", fact(journal.Fact{Kind: "part", Key: "a", Field: "name", Value: `"x" "y"`}), "more than one value"},
		{"a word that is no choice", fact(journal.Fact{Kind: "part", Key: "a", Field: "side", Value: `"left"`}), `"left" is none of port, starboard`},
		{"a reference to another kind", fact(journal.Fact{Kind: "part", Key: "a", Field: "within", Value: `"step/x"`}), "names no part"},
		{"a mass for a length", fact(journal.Fact{Kind: "build", Key: "build", Field: "length", Value: `{"known":true,"si":1,"low":1,"high":1,"dim":"mass"}`}), "a length is asked for"},
		{"a day that is none", fact(journal.Fact{Kind: "visit", Key: "v", Field: "day", Value: `"2027-02-30"`}), "is not a day"},
		{"a strike that says no", fact(journal.Fact{Kind: journal.EntryKind, Key: "e0", Field: journal.StruckField, Value: `"no"`}), "only struck = yes"},
	} {
		t.Run(c.name, func(t *testing.T) {
			e := good()
			c.spoil(&e)
			if _, err := journal.Check(e); err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("Check = %v, want a word on %q", err, c.says)
			}
		})
	}
	if _, err := journal.Check(good()); err != nil {
		t.Errorf("a good entry is refused: %v", err)
	}
}

func TestDoorGivesEveryReason(t *testing.T) {
	e := good()
	e.Author = ""
	e.Facts = []journal.Fact{
		{Kind: "part", Key: "deck", Field: "side", Value: `"left"`},
		{Kind: "part", Key: "deck", Field: "within", Value: `7`},
		{Kind: "keel", Key: "k", Field: "name", Value: `"x"`},
	}
	_, err := journal.Check(e)
	for _, want := range []string{"author", `"left"`, "within: 7", `no kind "keel"`} {
		if err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("%v says nothing of %q", err, want)
		}
	}
}

func TestDoorLetsNewerEntriesInUnread(t *testing.T) {
	e := good()
	e.Version = journal.Version + 1
	e.Grounds = "dreamt"
	e.Facts = []journal.Fact{{Kind: "keel", Key: "k", Field: "shape", Value: `{"fin":[1,2]}`}}
	if _, err := journal.Check(e); err != nil {
		t.Errorf("refused: %v", err)
	}
	e.Facts[0].Value = "{"
	if _, err := journal.Check(e); err == nil {
		t.Error("let in although its value is no JSON")
	}
}

func TestInventedEntriesPassTheDoor(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		for _, e := range reference.Entries(10).Draw(t, "entries") {
			if _, err := journal.Check(e); err != nil {
				t.Fatalf("%v", err)
			}
		}
	})
}

// Whatever comes to the door, it answers; and what it lets in passes it again
// unchanged.
func FuzzCheck(f *testing.F) {
	f.Add([]byte(`{"id":"e","stamp":1,"since":"2027-03-01","author":"owner","grounds":"seen","version":1,"facts":[{"kind":"part","key":"deck","field":"name","value":"\"Deck\""}]}`))
	f.Add([]byte(`{"id":"e","stamp":1,"since":"2027-03-01","author":"owner","grounds":"seen","version":1,"facts":[{"kind":"build","key":"build","field":"length","value":"{\"known\":true,\"si\":1e999}"},{"kind":"place","key":"p","field":"plan","value":"[[0,0],[1,null]]"}]}`))
	f.Add([]byte(`{"id":"e","stamp":1,"since":"2027-03-01","author":"owner","grounds":"seen","version":1,"facts":[{"kind":"statement","key":"s","field":"when","value":"{\"first\":\"2027-05-01\",\"last\":\"2027-04-01\"}"},{"kind":"option","key":"o","field":"price","value":"{\"minor\":9223372036854775808}"}]}`))
	f.Add([]byte(`{"id":"e","stamp":1,"since":"2027-03-01","author":"owner","grounds":"x","version":9,"facts":[{"kind":"keel","key":"k","field":"f","value":"[[[]]]"}]}`))
	f.Fuzz(func(t *testing.T, data []byte) {
		var e journal.Entry
		if json.Unmarshal(data, &e) != nil {
			return
		}
		once, err := journal.Check(e)
		if err != nil {
			return
		}
		twice, err := journal.Check(once)
		if err != nil {
			t.Fatalf("let in, then refused: %v", err)
		}
		for i := range once.Facts {
			if once.Facts[i] != twice.Facts[i] {
				t.Fatalf("canonical form changes: %v, then %v", once.Facts[i], twice.Facts[i])
			}
		}
		var j journal.Journal
		j.Add(once)
		j.As(once.Since, journal.Now).Doubts()
	})
}
