package web_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"fmt"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// kept is a thing as a phone sends it.
type kept map[string]any

// id makes the id that a phone would have made.
func id(n int) string { return fmt.Sprintf("0195a3f0-0000-7000-8000-%012d", n) }

func (b *browse) json(path string, body []byte) *httptest.ResponseRecorder {
	b.t.Helper()
	r := httptest.NewRequest("POST", path, bytes.NewReader(body))
	r.Header.Set("Content-Type", "application/json")
	return b.do(r)
}

// phone sends things of a visit, and returns what became of each: its state,
// and why.
func (b *browse) phone(visit string, things ...kept) []string {
	b.t.Helper()
	body, err := json.Marshal(map[string]any{"things": things})
	if err != nil {
		b.t.Fatal(err)
	}
	w := b.json("/visit/"+visit+"/sent", body)
	if w.Code != 200 {
		b.t.Fatalf("sent: %d %s", w.Code, between(w.Body.String(), "<h1>", "</h1>"))
	}
	var answer struct {
		Things []struct{ ID, State, Why string }
		Last   int64
	}
	if err := json.Unmarshal(w.Body.Bytes(), &answer); err != nil {
		b.t.Fatal(err)
	}
	var out []string
	for i, x := range answer.Things {
		if x.ID != things[i]["id"] {
			b.t.Errorf("answer %d is for %s, sent was %s", i, x.ID, things[i]["id"])
		}
		out = append(out, strings.TrimSpace(x.State+" "+x.Why))
	}
	return out
}

func sighting(n int, step, state, over string) kept {
	return kept{"id": id(n), "kind": "sighting", "wall": "2027-03-16T09:00:00Z", "fields": kept{"step": step, "state": state}, "over": kept{"state": over}}
}

// What a phone sends twice is written once, in the order in which it was
// noted, whatever its clock says.
func TestSentTwiceIsWrittenOnce(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	first, second := sighting(1, "step/deck-core", "under way", ""), sighting(2, "step/deck-core", "done", id(1))
	first["wall"], second["wall"] = "2031-01-01T00:00:00Z", "1999-01-01T00:00:00Z"
	note := kept{"id": id(3), "kind": "note", "fields": kept{"text": "loud in the shed"}}
	for i, want := range []string{"written", "there"} {
		for _, got := range b.phone("v2", first, second, note) {
			if got != want {
				t.Errorf("delivery %d: %s, want %s", i, got, want)
			}
		}
	}
	r := as(t, f)
	g, _ := journal.Get[record.Sighting](r, "sighting/v2.deck-core")
	if g.State != "done" || g.Visit != "visit/v2" {
		t.Errorf("the core is %+v", g)
	}
	for _, d := range r.Doubts() {
		if d.About == g.Self {
			t.Errorf("two taps of one hand are in doubt: %s", d.Says)
		}
	}
	e, err := f.Entry(t.Context(), id(1))
	if err != nil || e == nil || e.Wall.Year() != 2031 || e.Received.Year() != 2027 || e.Since != calendar.Date(2027, 3, 2) {
		t.Errorf("the entry is %+v, %v", e, err)
	}
}

// Two phones that did not see each other's tap leave a doubt with both sides;
// a phone that saw the other's leaves none.
func TestConflictOfTwoPhones(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	b.phone("v2", sighting(1, "step/deck-core", "under way", ""))
	b.phone("v2", sighting(2, "step/deck-core", "done", "")) // had not seen it
	conflict := func() bool {
		for _, d := range as(t, f).Doubts() {
			if d.Kind == journal.Conflict && d.About == "sighting/v2.deck-core" {
				return len(d.Sides) == 2
			}
		}
		return false
	}
	if !conflict() {
		t.Error("two who did not see each other leave no doubt")
	}
	if body := b.get("/visit/v2").Body.String(); !strings.Contains(body, "In doubt") {
		t.Error("the visit's sheet does not show it")
	}
	b.phone("v2", sighting(3, "step/deck-core", "not sure", id(1)+" "+id(2)))
	if conflict() {
		t.Error("who saw both leaves the doubt standing")
	}
}

// What is refused says why and holds nothing else back.
func TestSentThingsAreRefusedOneByOne(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	things := []kept{
		{"id": "1", "kind": "note", "fields": kept{"text": "x"}},
		{"id": strings.ToUpper(id(10)) + "A", "kind": "note", "fields": kept{"text": "x"}},
		{"id": id(1), "kind": "build", "fields": kept{"name": "x"}},
		{"id": id(2), "kind": "agreement", "fields": kept{"says": "four drains", "before": "no such step"}},
		{"id": id(3), "kind": "sighting", "fields": kept{"step": "step/deck-core", "state": "finished"}},
		{"id": id(4), "kind": "photo", "fields": kept{"file": "sha256:" + strings.Repeat("0", 64) + " a.jpg"}},
		{"id": id(5), "kind": "entry", "strikes": "nothing"},
		{"id": id(6), "kind": "measurement", "fields": kept{"what": "gap", "got": "3"}},
		{"id": id(7), "kind": "visit", "fields": kept{"day": "2027-03-16"}},
		{"id": id(8), "kind": "note", "fields": kept{"text": "kept"}},
	}
	want := []string{"no id", "no id", "no form for “build”", "no such step", "none of not started", "not come yet", "not noted at this visit", "", "under its own id", ""}
	for i, got := range b.phone("v2", things...) {
		if want[i] == "" && got != "written" || want[i] != "" && (!strings.HasPrefix(got, "refused ") || !strings.Contains(strings.ToLower(got), strings.ToLower(want[i]))) {
			t.Errorf("%v: %s; want %q", things[i], got, want[i])
		}
	}
	if got := b.phone("no-such-visit", kept{"id": id(9), "kind": "note", "fields": kept{"text": "x"}}); !strings.Contains(got[0], "not in the record") {
		t.Errorf("a visit that is not there: %s", got)
	}
	if got := b.phone("v2", kept{"id": id(8), "kind": "note", "fields": kept{"text": "something else"}}); !strings.Contains(got[0], "Something else is written") {
		t.Errorf("another text under the same id: %s", got)
	}
}

// A visit begun without a connection comes with what it found.
func TestVisitBegunOnAPhone(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	got := b.phone(id(1),
		kept{"id": id(1), "kind": "visit", "fields": kept{"day": "2027-03-16", "by": "owner"}},
		sighting(2, "step/deck-core", "done", ""),
		kept{"id": id(3), "kind": "defect", "fields": kept{"what": "dry spot", "part": "part/deck"}},
	)
	if strings.Join(got, "|") != "written|written|written" {
		t.Errorf("%q", got)
	}
	r := as(t, f)
	if v, ok := journal.Get[record.Visit](r, record.R("visit", id(1))); !ok || v.Day != calendar.Date(2027, 3, 16) || v.By != "owner" {
		t.Errorf("the visit is %+v", v)
	}
	if g, ok := journal.Get[record.Sighting](r, record.R("sighting", id(1)+".deck-core")); !ok || g.State != "done" || r.From(g.Self).Grounds != record.Seen {
		t.Errorf("the sighting is %+v", g)
	}
	if got := b.phone(id(4), kept{"id": id(4), "kind": "visit", "fields": kept{"day": "2027-03-17", "by": "owner"}}); !strings.HasPrefix(got[0], "refused") {
		t.Errorf("a visit of tomorrow: %s", got)
	}
}

// A tap is taken back by striking its entry; that of another visit is not.
func TestTakenBackOnAPhone(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	b.phone("v2", sighting(1, "step/deck-core", "under way", ""), sighting(2, "step/deck-core", "done", id(1)))
	undo := kept{"id": id(3), "kind": "entry", "strikes": id(2)}
	if got := b.phone("v2", undo, undo); got[0] != "written" || got[1] != "there" {
		t.Errorf("%q", got)
	}
	if g, _ := journal.Get[record.Sighting](as(t, f), "sighting/v2.deck-core"); g.State != "under way" {
		t.Errorf("taken back, it is %q", g.State)
	}
	if got := b.phone("v1", kept{"id": id(4), "kind": "entry", "strikes": id(1)}); !strings.HasPrefix(got[0], "refused") {
		t.Errorf("another visit's: %s", got)
	}
}

// A check says what is measured; a gauge of the yard's was seen, not measured.
func TestCheckMeasuredOnAPhone(t *testing.T) {
	f := typicalBuild(t)
	write(t, f, journal.Always, record.Written, "overlap", record.Check{What: "Overlap at the side deck", Of: "part/deck", Taken: "own measure", State: "bare", Should: record.Tolerance{Known: true, Value: 0.05, Plus: 0.02, Dim: unit.Length}})
	write(t, f, journal.Always, record.Written, "vacuum", record.Check{What: "Drop of the bag", Of: "part/deck", Taken: "reading to be shown"})
	b := visit(t, f)
	got := b.phone("v2",
		kept{"id": id(1), "kind": "measurement", "fields": kept{"check": "check/overlap", "got": `2 1/4"`}},
		kept{"id": id(2), "kind": "measurement", "fields": kept{"check": "check/vacuum", "got": "14 mbar"}})
	if strings.Join(got, "|") != "written|written" {
		t.Fatalf("%q", got)
	}
	r := as(t, f)
	m, _ := journal.Get[record.Measurement](r, record.R("measurement", id(1)))
	if m.What != "Overlap at the side deck" || m.Of != "part/deck" || m.State != "bare" || m.Taken != "own measure" || m.Got.SI != 0.05715 || m.Should.Known {
		t.Errorf("measured was %+v", m)
	}
	if g := r.From(m.Self).Grounds; g != record.Measured {
		t.Errorf("one's own measure is %s", g)
	}
	if g := r.From(record.R("measurement", id(2))).Grounds; g != record.Seen {
		t.Errorf("a gauge of the yard's is %s", g)
	}
}

// A picture comes in pieces, and its thing after it.
func TestPictureFromAPhone(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	jpeg := append([]byte("\xff\xd8\xff"), bytes.Repeat([]byte("x"), 900_000)...)
	sum := sha256.Sum256(jpeg)
	hash := hex.EncodeToString(sum[:])
	piece := func(from, to int) string {
		r := httptest.NewRequest("POST", fmt.Sprintf("/visit/v2/sent/%s?from=%d&size=%d", hash, from, len(jpeg)), bytes.NewReader(jpeg[from:to]))
		r.Header.Set("Content-Type", "application/octet-stream")
		return strings.TrimSpace(b.do(r).Body.String())
	}
	for _, c := range []struct {
		got, want string
	}{
		{strings.TrimSpace(b.get("/visit/v2/sent/" + hash).Body.String()), `{"have":0,"whole":false}`},
		{piece(0, 500_000), `{"have":500000,"whole":false}`},
		{piece(600_000, 700_000), `{"have":500000,"whole":false}`}, // a gap: go on from there
		{piece(500_000, len(jpeg)), `{"have":900003,"whole":true}`},
		{strings.TrimSpace(b.get("/visit/v2/sent/" + hash).Body.String()), `{"have":900003,"whole":true}`},
	} {
		if c.got != c.want {
			t.Fatalf("%s, want %s", c.got, c.want)
		}
	}
	got := b.phone("v2",
		kept{"id": id(1), "kind": "defect", "fields": kept{"what": "dry spot", "part": "part/deck"}},
		kept{"id": id(2), "kind": "photo", "fields": kept{"file": "sha256:" + hash + " IMG_1.jpg", "part": "part/deck", "note": "dry spot"}},
		kept{"id": id(3), "kind": "evidence", "fields": kept{"shows": "defect/" + id(1), "photo": "photo/" + id(2)}})
	if strings.Join(got, "|") != "written|written|written" {
		t.Fatalf("%q", got)
	}
	p, _ := journal.Get[record.Photo](as(t, f), record.R("photo", id(2)))
	if p.Name != "IMG_1.jpg" || p.File.SHA256 != hash || p.Part != "part/deck" || p.Day != calendar.Date(2027, 3, 2) {
		t.Errorf("the picture is %+v", p)
	}
	if w := b.get("/file/" + hash + "/IMG_1.jpg"); !bytes.Equal(w.Body.Bytes(), jpeg) {
		t.Errorf("%d bytes come back", w.Body.Len())
	}
}

// What is too much, of another kind, or from another site is not taken.
func TestSentIsBounded(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	was, _ := f.Last(t.Context())
	many := make([]kept, 201)
	for i := range many {
		many[i] = kept{"id": id(i), "kind": "note", "fields": kept{"text": "x"}}
	}
	manyBody, _ := json.Marshal(map[string]any{"things": many})
	long, _ := json.Marshal(map[string]any{"things": []kept{{"id": id(1), "kind": "note", "fields": kept{"text": strings.Repeat("a", 2<<20)}}}})
	for name, c := range map[string]struct {
		body   []byte
		header map[string]string
		path   string
		want   int
	}{
		"too many":                {manyBody, nil, "/visit/v2/sent", http.StatusUnprocessableEntity},
		"too long":                {long, nil, "/visit/v2/sent", http.StatusRequestEntityTooLarge},
		"no JSON":                 {[]byte("things"), nil, "/visit/v2/sent", http.StatusUnprocessableEntity},
		"a form":                  {[]byte("things=1"), map[string]string{"Content-Type": "application/x-www-form-urlencoded"}, "/visit/v2/sent", http.StatusUnsupportedMediaType},
		"another site":            {manyBody, map[string]string{"Sec-Fetch-Site": "cross-site"}, "/visit/v2/sent", http.StatusForbidden},
		"a picture of JSON":       {[]byte("{}"), nil, "/visit/v2/sent/" + strings.Repeat("0", 64) + "?from=0&size=2", http.StatusUnsupportedMediaType},
		"a picture of 65 MB":      {[]byte("x"), map[string]string{"Content-Type": "application/octet-stream"}, "/visit/v2/sent/" + strings.Repeat("0", 64) + "?from=0&size=68157440", http.StatusRequestEntityTooLarge},
		"a picture beside itself": {[]byte("x"), map[string]string{"Content-Type": "application/octet-stream"}, "/visit/v2/sent/" + strings.Repeat("0", 64) + "?from=9&size=9", http.StatusUnprocessableEntity},
		"a picture elsewhere":     {[]byte("x"), map[string]string{"Content-Type": "application/octet-stream"}, "/visit/v2/sent/..%2f..%2fx?from=0&size=9", http.StatusUnprocessableEntity},
		"a piece too long":        {make([]byte, 2<<20), map[string]string{"Content-Type": "application/octet-stream"}, "/visit/v2/sent/" + strings.Repeat("0", 64) + "?from=0&size=9000000", http.StatusRequestEntityTooLarge},
	} {
		r := httptest.NewRequest("POST", c.path, bytes.NewReader(c.body))
		r.Header.Set("Content-Type", "application/json")
		for k, v := range c.header {
			r.Header.Set(k, v)
		}
		if w := b.do(r); w.Code != c.want {
			t.Errorf("%s: %d, want %d", name, w.Code, c.want)
		}
	}
	if is, _ := f.Last(t.Context()); is != was {
		t.Errorf("%d entries were written", is-was)
	}
}
