package review

import (
	"bytes"
	"encoding/json"
	"maps"
	"os"
	"reflect"
	"regexp"
	"slices"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/record"
)

// The documented fields are those of the document, no more and no fewer.
func TestDocumentedFields(t *testing.T) {
	text, err := os.ReadFile("../docs/review-json.md")
	if err != nil {
		t.Fatal(err)
	}
	documented := map[string]bool{}
	for _, m := range regexp.MustCompile("(?m)^\\| `([a-z0-9_.\\[\\]]+)` \\|").FindAllSubmatch(text, -1) {
		documented[string(m[1])] = true
	}
	var have []string
	paths(reflect.TypeFor[document](), "", &have)
	paths(reflect.TypeFor[figure.Figure](), "figure.", &have)
	for _, p := range have {
		if !documented[p] {
			t.Errorf("%s is in the document and is not documented", p)
		}
		delete(documented, p)
	}
	for _, p := range slices.Sorted(maps.Keys(documented)) {
		t.Errorf("%s is documented and not in the document", p)
	}
}

// Types whose fields the page describes once, where they first stand.
var described = map[string]bool{"ruled[].act": true, "next_visit.by": true, "since_last_visit.learned": true}

// paths lists the fields of a type as the page names them. A list or a name
// whose fields are listed stands for itself only at the top.
func paths(t reflect.Type, at string, out *[]string) {
	for i := range t.NumField() {
		f := t.Field(i)
		if f.Anonymous {
			paths(f.Type, at, out)
			continue
		}
		name, _, _ := strings.Cut(f.Tag.Get("json"), ",")
		here := at + name
		elem, of := f.Type, here+"."
		if elem.Kind() == reflect.Pointer {
			elem = elem.Elem()
		}
		if elem.Kind() == reflect.Slice {
			elem, of = elem.Elem(), here+"[]."
		}
		inner := elem.Kind() == reflect.Struct && elem != reflect.TypeFor[figure.Figure]() && !described[here]
		if at == "" && (!inner || elem.Kind() == reflect.Struct && f.Type.Kind() == reflect.Slice) || !inner {
			*out = append(*out, here)
		}
		if at == "" && (here == "next_visit" || here == "since_last_visit" || here == "deck") {
			*out = append(*out, here)
		}
		if inner {
			paths(elem, of, out)
		}
	}
}

// The document carries what the review says, act for act, and reads back.
func TestDocument(t *testing.T) {
	b := thin(t)
	b.today = day(2)
	put(b, record.Written, "s", record.Statement{About: "step/deck-inner-skin", What: "starts", When: calendar.On(day(20)), On: day(2)})
	put(b, record.Told, "r", record.Ruling{Act: "settle/point/berth", Says: "waive", Day: day(2)})
	v := b.review(day(3))
	out := written(t, v)
	var d document
	read := json.NewDecoder(bytes.NewReader(out))
	read.DisallowUnknownFields()
	if err := read.Decode(&d); err != nil {
		t.Fatal(err)
	}
	if d.Format != Format || d.Date != day(3) || d.Level != desk.ByDates || d.Known != 0 {
		t.Errorf("head %q, %s, %q, %d", d.Format, d.Date, d.Level, d.Known)
	}
	if len(d.Acts) != len(v.Acts) || d.More != v.First.More || d.Later != v.First.Later || len(d.Ruled) != 1 {
		t.Fatalf("%d acts, %d more, %d later, %d ruled", len(d.Acts), d.More, d.Later, len(d.Ruled))
	}
	page := v.First.All()
	for i, a := range d.Acts {
		if (a.N == i+1) != (i < len(page)) {
			t.Errorf("act %d has number %d", i, a.N)
		}
		want, ok := v.Act(a.ID)
		if !ok || a.Say != want.Say || len(a.Why) != len(want.Why) {
			t.Errorf("act %s: %q, %d figures", a.ID, a.Say, len(a.Why))
		}
		if (a.By != nil) != want.By.Known() || (a.Before != nil) != (want.Before != "") {
			t.Errorf("act %s: by %v, before %v", a.ID, a.By, a.Before)
		}
		if a.Before != nil && a.Before.Name == a.Before.Ref.Key() {
			t.Errorf("act %s: its step has no name", a.ID)
		}
	}
	i := slices.IndexFunc(d.Acts, func(a jsonAct) bool { return a.ID == "look/cover/deck-inner-skin-inserts" })
	if by := d.Acts[i].By; by == nil || by.Day != day(17) || by.Basis != desk.YardsWord || !strings.HasPrefix(by.Words, "by Fri 17 April, ") {
		t.Errorf("by %+v", by)
	}
	if bytes.Contains(out, []byte("null")) {
		t.Error("a list of nothing is null")
	}
}

// An empty build is a document too, with every list there.
func TestEmptyDocument(t *testing.T) {
	out := written(t, newBuild(t).review(day(2)))
	for _, name := range []string{"facts", "acts", "asks", "ruled", "walk", "letter", "doubts"} {
		if !bytes.Contains(out, []byte(`"`+name+`": []`)) {
			t.Errorf("no empty list %s in\n%s", name, out)
		}
	}
}
