package journal_test

import (
	"slices"
	"testing"

	"dogshore/calendar"
	"dogshore/internal/reference"
	"dogshore/journal"
	"dogshore/record"
)

// writing makes entries about the deck's side, one a day.
type writing struct{ entries []journal.Entry }

func (w *writing) say(id, value, over string) *writing {
	w.entries = append(w.entries, journal.Entry{
		ID: id, Stamp: journal.Stamp(len(w.entries) + 1), Since: reference.FirstDay + calendar.Day(len(w.entries)),
		Author: "owner", Grounds: record.Told, Version: journal.Version, Arrival: int64(len(w.entries) + 1),
		Facts: []journal.Fact{{Kind: "part", Key: "deck", Field: "side", Value: record.Encode(value), Over: over}},
	})
	return w
}

func (w *writing) strike(ids ...string) *writing {
	w.say("strike-"+ids[0], "", "")
	e := &w.entries[len(w.entries)-1]
	e.Facts = nil
	for _, id := range ids {
		e.Facts = append(e.Facts, journal.Strike(id))
	}
	return w
}

func (w *writing) record() *journal.Record {
	var j journal.Journal
	j.Add(w.entries...)
	return j.As(reference.FirstDay+calendar.Day(len(w.entries)), journal.Now)
}

func TestOver(t *testing.T) {
	for _, c := range []struct {
		name    string
		w       *writing
		holds   string
		against []string // the entries in conflict
	}{
		{"one value", new(writing).say("a", "port", ""), "a", nil},
		{"written over", new(writing).say("a", "port", "").say("b", "starboard", "a"), "b", nil},
		{"not shown the other", new(writing).say("a", "port", "").say("b", "starboard", ""), "b", []string{"a", "b"}},
		{"the same said twice", new(writing).say("a", "port", "").say("b", "port", ""), "b", nil},
		{"two who were shown the same", new(writing).say("a", "port", "").say("b", "starboard", "a").say("c", "middle", "a"), "c", []string{"b", "c"}},
		{"settled by one who was shown both", new(writing).say("a", "port", "").say("b", "starboard", "").say("c", "port", "a b"), "c", nil},
		{"settled by striking one", new(writing).say("a", "port", "").say("b", "starboard", "").strike("b"), "a", nil},
		{"the one that wrote over is struck", new(writing).say("a", "port", "").say("b", "starboard", "a").strike("b"), "a", nil},
		{"over one that is struck by now", new(writing).say("a", "port", "").say("b", "starboard", "a").say("c", "middle", "b").strike("b"), "c", nil},
		{"shown a value that two had said", new(writing).say("a", "port", "").say("b", "port", "").say("c", "middle", "b"), "c", nil},
		{"said again by one who was not shown the change", new(writing).say("a", "port", "").say("b", "middle", "a").say("c", "port", ""), "c", []string{"b", "c"}},
		{"over an entry that never came", new(writing).say("a", "port", "").say("b", "middle", "lost"), "b", []string{"a", "b"}},
		{"both over each other", new(writing).say("a", "port", "b").say("b", "middle", "a"), "b", nil},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := c.w.record()
			h, ok := r.Held("part/deck", "side")
			if !ok || h.Entry.ID != c.holds {
				t.Errorf("holds %v, want that of %s", h, c.holds)
			}
			var from []string
			for _, d := range r.Doubts() {
				if d.Kind == journal.Conflict {
					from = d.From
				}
			}
			if !slices.Equal(from, c.against) {
				t.Errorf("conflict of %v, want %v", from, c.against)
			}
		})
	}
}

// A form that shows all that stands, and says so in Over, settles it.
func TestOverOfTheRecordSettles(t *testing.T) {
	w := new(writing).say("a", "port", "").say("b", "starboard", "")
	if got := new(writing).record().Over("part/deck", "side"); got != "" {
		t.Errorf("over nothing = %q", got)
	}
	over := w.record().Over("part/deck", "side")
	if over != "a b" {
		t.Errorf("Over = %q, want both", over)
	}
	for _, d := range w.say("c", "middle", over).record().Doubts() {
		if d.Kind == journal.Conflict {
			t.Errorf("still in doubt: %s", d.Says)
		}
	}
	if got := w.record().Over("part/deck", "side"); got != "c" {
		t.Errorf("Over = %q, want c", got)
	}
}

func TestHistoryShowsStruckOnesToo(t *testing.T) {
	var j journal.Journal
	j.Add(new(writing).say("a", "port", "").say("b", "starboard", "a").strike("b").entries...)
	var got []string
	for _, s := range j.History("part/deck") {
		word := s.Entry.ID
		if s.Struck {
			word += " struck"
		}
		got = append(got, word)
	}
	if want := []string{"a", "b struck"}; !slices.Equal(got, want) {
		t.Errorf("History = %v, want %v", got, want)
	}
	if h := j.History("part/none"); h != nil {
		t.Errorf("History of nothing = %v", h)
	}
}
