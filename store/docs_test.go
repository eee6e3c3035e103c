package store_test

import (
	"os"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// The queries that docs/journal.md shows run, and find what they say.
func TestQueriesOfTheDocument(t *testing.T) {
	text, err := os.ReadFile("../docs/journal.md")
	if err != nil {
		t.Fatal(err)
	}
	var queries []string
	for _, block := range strings.Split(string(text), "\n\n") {
		if strings.HasPrefix(block, "    SELECT") {
			queries = append(queries, block)
		}
	}
	if len(queries) != 2 {
		t.Fatalf("%d queries in the document, want 2", len(queries))
	}
	f := create(t)
	say := func(kind, key, field string, v any) journal.Fact {
		return journal.Fact{Kind: kind, Key: key, Field: field, Value: record.Encode(v)}
	}
	e := f.Draft("owner", today, record.Told)
	e.Facts = []journal.Fact{
		say("person", "anna", "name", "Anna Invented"), say("part", "deck", "name", "Deck"),
		say("step", "core", "name", "Deck core"), say("step", "core", "part", record.Ref("part/deck")),
		say("visit", "v1", "day", today),
		say("sighting", "s1", "visit", record.Ref("visit/v1")), say("sighting", "s1", "step", record.Ref("step/core")), say("sighting", "s1", "state", "done"),
		say("statement", "t1", "about", record.Ref("step/core")), say("statement", "t1", "what", "is done"), say("statement", "t1", "on", today),
		say("statement", "t1", "by", record.Ref("person/anna")), say("statement", "t1", "when", calendar.On(today+7)),
	}
	accept(t, f, e)
	db := raw(t, f.Dir())
	if _, err := db.Exec(`UPDATE as_of SET day = ?`, today.String()); err != nil {
		t.Fatal(err)
	}
	for i, want := range []map[string]any{
		{"name": "Anna Invented", "about": "step/core", "what": "is done", "when_first": "2027-04-19", "when_last": "2027-04-19"},
		{"name": "Deck core", "state": "done"},
	} {
		row := table(t, db, queries[i])["2027-04-12"]
		for name, v := range want {
			if row[name] != v {
				t.Errorf("query %d: %s = %v, want %v", i+1, name, row[name], v)
			}
		}
	}
}
