package reference

import (
	"fmt"
	"strings"
	"time"

	"pgregory.net/rapid"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// FirstDay is the first of the days that invented entries hold from; there
// are Days of them.
var FirstDay = calendar.Date(2027, 3, 1)

// Days is how many days invented entries are spread over.
const Days = 8

// Entries invents entries of few subjects, so that they meet often: edits that
// were shown one value, several or none; changes, corrections of earlier days,
// values taken away; strikes, strikes of strikes, strikes of what never
// arrives; two writers whose clocks differ; now and then one from a newer
// program. Each passes the door. Their arrival is not set.
func Entries(most int) *rapid.Generator[[]journal.Entry] {
	return rapid.Custom(func(t *rapid.T) []journal.Entry {
		n := rapid.IntRange(1, most).Draw(t, "n")
		out := make([]journal.Entry, n)
		clocks := []time.Duration{0, rapid.SampledFrom([]time.Duration{0, time.Hour, -72 * time.Hour}).Draw(t, "skew")}
		for i := range out {
			out[i] = entry(t, i, n, clocks)
		}
		return out
	})
}

func id(i int) string { return fmt.Sprintf("e%02d", (i*37)%100) } // not in the order of writing

func entry(t *rapid.T, i, n int, clocks []time.Duration) journal.Entry {
	writer := rapid.IntRange(0, 1).Draw(t, "writer")
	clock := FirstDay.Time().Add(time.Duration(i/3) * time.Hour).Add(clocks[writer]) // some stamps are equal
	e := journal.Entry{
		ID: id(i), Stamp: journal.Stamp(0).Next(clock), Wall: clock, Version: journal.Version,
		Since:   FirstDay + calendar.Day(rapid.IntRange(0, Days-1).Draw(t, "since")),
		Author:  []string{"owner", "surveyor"}[writer],
		Grounds: rapid.SampledFrom(record.AllGrounds).Draw(t, "grounds"),
	}
	if rapid.IntRange(0, 19).Draw(t, "newer") == 0 {
		e.Version++
	}
	if rapid.IntRange(0, 4).Draw(t, "strike") == 0 {
		e.Facts = append(e.Facts, journal.Strike(id(rapid.IntRange(0, n).Draw(t, "struck"))))
	}
	said := map[string]bool{}
	for range rapid.IntRange(1, 4).Draw(t, "facts") {
		f := one(t)
		if slot := string(f.Ref()) + f.Field; said[slot] {
			continue
		} else {
			said[slot] = true
		}
		var over []string
		for range rapid.SampledFrom([]int{0, 0, 1, 1, 1, 2}).Draw(t, "overs") {
			over = append(over, id(rapid.IntRange(0, n).Draw(t, "over")))
		}
		f.Over = strings.Join(over, " ")
		e.Facts = append(e.Facts, f)
	}
	return e
}

// one invents a fact.
func one(t *rapid.T) journal.Fact {
	key := rapid.SampledFrom([]string{"a", "b", "c"})
	ref := func(kind string) record.Value { return record.Encode(record.R(kind, key.Draw(t, kind))) }
	metres := func() record.Value {
		q := unit.Q(float64(rapid.IntRange(1, 2).Draw(t, "length")), unit.Length)
		q.As = rapid.SampledFrom([]string{"", "as it was typed"}).Draw(t, "as")
		return record.Encode(q)
	}
	word := func(words ...string) record.Value { return record.Encode(rapid.SampledFrom(words).Draw(t, "word")) }
	f := rapid.SampledFrom([]func() (kind, field string, v record.Value){
		func() (string, string, record.Value) { return "part", "name", word("Deck", "Hull", `Bulk"head`) },
		func() (string, string, record.Value) { return "part", "within", ref("part") },
		func() (string, string, record.Value) { return "part", "side", word("port", "starboard") },
		func() (string, string, record.Value) { return "place", "name", word("Foredeck", "Cockpit") },
		func() (string, string, record.Value) { return "place", "within", ref("place") },
		func() (string, string, record.Value) { return "build", "length", metres() },
		func() (string, string, record.Value) { return "step", "name", word("Core", "Skin") },
		func() (string, string, record.Value) { return "step", "part", ref("part") },
		func() (string, string, record.Value) { return "sighting", "step", ref("step") },
		func() (string, string, record.Value) { return "sighting", "state", word("done", "under way") },
		func() (string, string, record.Value) { return "order", "item", ref("item") },
		func() (string, string, record.Value) { return "order", "day", record.Encode(FirstDay) },
	})
	kind, field, v := f.Draw(t, "fact")()
	if rapid.IntRange(0, 9).Draw(t, "clear") == 0 {
		v = record.Clear
	}
	return journal.Fact{Kind: kind, Key: key.Draw(t, "key"), Field: field, Value: v}
}

// Number gives entries their arrival numbers, in their order from 1 on.
func Number(entries []journal.Entry) []journal.Entry {
	out := make([]journal.Entry, len(entries))
	for i, e := range entries {
		e.Arrival = int64(i) + 1
		out[i] = e
	}
	return out
}
