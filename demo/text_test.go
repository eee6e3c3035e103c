package demo

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"path"
	"strings"
	"sync"
	"testing"

	"dogshore/calendar"
	"dogshore/record"
	"dogshore/template"
	"dogshore/unit"
)

// row is one row of a CSV file, read here by a second, plain reader that
// knows nothing of intake.
type row struct {
	batch Batch
	file  string
	kind  *record.Kind
	key   string
	how   string            // how it is known, where the row says so
	cells map[string]string // by field
}

// rows reads every CSV file of a build, once.
func rows(t *testing.T, which Which) []row {
	t.Helper()
	r := read[which]()
	if r.fatal != nil {
		t.Fatal(r.fatal)
	}
	return r.rows
}

type reading struct {
	rows  []row
	wrong []error // cells that do not read
	fatal error   // headings and files that are not known
}

var read = map[Which]func() reading{
	Thin: sync.OnceValue(func() reading { return readAll(Thin) }),
	Full: sync.OnceValue(func() reading { return readAll(Full) }),
}

func readAll(which Which) (out reading) {
	batches, err := Batches(which)
	if err != nil {
		return reading{fatal: err}
	}
	for _, b := range batches {
		for _, file := range b.Files {
			if err := out.file(b, file); err != nil {
				return reading{fatal: fmt.Errorf("%s: %w", file, err)}
			}
		}
	}
	return out
}

func (out *reading) file(b Batch, file string) error {
	raw, err := text.ReadFile(file)
	if err != nil {
		return err
	}
	all, err := csv.NewReader(bytes.NewReader(raw)).ReadAll()
	if err != nil {
		return err
	}
	kind := kindOfFile(strings.TrimSuffix(path.Base(file), ".csv"))
	if kind == nil {
		return errors.New("no kind has that name")
	}
	for n, line := range all[1:] {
		r := row{batch: b, file: file, kind: kind, cells: map[string]string{}}
		for i, cell := range line {
			wrong, err := r.cell(all[0][i], cell)
			if err != nil {
				return err
			}
			if wrong != nil {
				out.wrong = append(out.wrong, fmt.Errorf("%s, row %d: %w", file, n+2, wrong))
			}
		}
		out.rows = append(out.rows, r)
	}
	return nil
}

// cell takes one cell in; wrong says why it does not read, err why its column
// is not known.
func (r *row) cell(head, cell string) (wrong, err error) {
	switch {
	case head == "key":
		r.key = cell
		return nil, nil
	case head == "how we know":
		r.how = cell
		return nil, nil
	case cell == "":
		return nil, nil
	case head == "since":
		r.cells["since"] = cell
		_, wrong = calendar.ParseISO(cell)
		return wrong, nil
	}
	f := fieldOfTitle(r.kind, head)
	if f == nil {
		return nil, fmt.Errorf("a %s has no %q", r.kind.Title, head)
	}
	r.cells[f.Name] = cell
	if f.Type != record.RefType {
		_, wrong = f.Parse(cell, r.batch.Day)
	}
	return wrong, nil
}

func kindOfFile(name string) *record.Kind {
	for i := range record.Kinds() {
		if k := &record.Kinds()[i]; record.Loose(k.Plural) == record.Loose(name) {
			return k
		}
	}
	return nil
}

func fieldOfTitle(k *record.Kind, title string) *record.Field {
	for i := range k.Fields {
		if k.Fields[i].Title == title {
			return &k.Fields[i]
		}
	}
	return nil
}

// subjects returns the refs that the rows, and for the thin build the
// template, know of.
func subjects(t *testing.T, which Which, all []row) map[record.Ref]bool {
	t.Helper()
	out := map[record.Ref]bool{}
	for _, r := range all {
		if r.key != "" {
			out[record.R(r.kind.Name, r.key)] = true
		}
	}
	if which == Thin {
		laid, err := template.Subjects(record.Build{Boat: "monohull", Way: "hand-laid", Hulls: "one piece", Series: "series", Length: unit.Q(9.8, unit.Length)})
		if err != nil {
			t.Fatal(err)
		}
		for _, s := range laid {
			out[s.Ref] = true
		}
	}
	return out
}

func TestEveryCellReads(t *testing.T) {
	for _, which := range Builds {
		t.Run(string(which), func(t *testing.T) {
			all := rows(t, which)
			for _, err := range read[which]().wrong {
				t.Error(err)
			}
			known := subjects(t, which, all)
			for _, r := range all {
				for i := range r.kind.Fields {
					f := &r.kind.Fields[i]
					cell := r.cells[f.Name]
					if cell == "" || f.Type != record.RefType {
						continue
					}
					if err := names(f, cell, known); err != nil {
						t.Errorf("%s, %s: %s: %v", r.file, r.key, f.Title, err)
					}
				}
			}
		})
	}
}

// names reports why a cell does not name exactly one known subject.
func names(f *record.Field, cell string, known map[record.Ref]bool) error {
	if strings.Contains(cell, "/") {
		if !known[record.Ref(cell)] {
			return errors.New(cell + " names nothing")
		}
		return nil
	}
	n := 0
	for _, kind := range f.Of {
		if known[record.R(kind, cell)] {
			n++
		}
	}
	if n != 1 {
		return errors.New(cell + " does not name one subject")
	}
	return nil
}

func TestNeededFieldsAreSaid(t *testing.T) {
	for _, which := range Builds {
		said := map[record.Ref]map[string]bool{}
		for i, r := range rows(t, which) {
			self := record.R(r.kind.Name, r.key)
			if r.key == "" {
				self = record.R(r.kind.Name, r.file+string(rune(i)))
			}
			if said[self] == nil {
				said[self] = map[string]bool{}
			}
			for f := range r.cells {
				said[self][f] = true
			}
		}
		for self, fields := range said {
			for _, f := range record.KindOf(self.Kind()).Fields {
				if f.Need && !fields[f.Name] {
					t.Errorf("%s: %s: nobody says its %s", which, self, f.Title)
				}
			}
		}
	}
}

func TestNothingComesBeforeItsDay(t *testing.T) {
	for _, which := range Builds {
		for _, r := range rows(t, which) {
			for _, field := range []string{"day", "on", "asked", "quoted_on"} {
				if r.cells[field] == "" || r.kind.Name == "cutoff" {
					continue
				}
				day, err := calendar.ParseISO(r.cells[field])
				if err != nil {
					t.Errorf("%s, %s: %v", r.file, r.key, err)
				}
				if day > r.batch.Day {
					t.Errorf("%s, %s: %s %s lies after the folder's day", r.file, r.key, field, day)
				}
			}
		}
	}
}

func TestTheFullBuildIsFull(t *testing.T) {
	all := rows(t, Full)
	count := map[string]map[string]bool{}
	by := map[string]int{}
	settled := map[string]bool{}
	for _, r := range all {
		if count[r.kind.Name] == nil {
			count[r.kind.Name] = map[string]bool{}
		}
		count[r.kind.Name][r.key] = true
		if r.kind.Name == "visit" {
			by[r.cells["by"]]++
		}
		if r.kind.Name == "decision" {
			settled[r.cells["point"]] = true
		}
		if r.kind.Name == "point" && r.cells["withdrawn"] == "yes" {
			settled[r.key] = true
		}
	}
	for _, c := range []struct {
		kind string
		want int
	}{
		{"part", 60}, {"step", 300}, {"link", 300}, {"calendar", 2}, {"sighting", 200}, {"measurement", 30},
		{"photo", 60}, {"evidence", 30}, {"defect", 15}, {"statement", 30}, {"cover", 30}, {"item", 20}, {"person", 12},
	} {
		if got := len(count[c.kind]); got < c.want {
			t.Errorf("%d subjects of kind %s, want %d at least", got, c.kind, c.want)
		}
	}
	if got := len(count["visit"]); got != 19 || by["surveyor"] != 2 || by["pictures"] != 1 {
		t.Errorf("%d visits, %d by a surveyor, %d by pictures; want 19, 2 and 1", got, by["surveyor"], by["pictures"])
	}
	if got := len(count["point"]) - len(settled); got != 15 {
		t.Errorf("%d open points, want 15", got)
	}
}

func TestTheThinBuildIsThin(t *testing.T) {
	points, visits, typed := 0, 0, 0
	for _, r := range rows(t, Thin) {
		if !strings.Contains(r.file, "-deck/") { // her deck came after the start sheet
			typed++
		}
		switch r.kind.Name {
		case "point":
			points++
		case "visit":
			visits++
		}
	}
	if points != 10 || visits != 2 || typed > 35 {
		t.Errorf("%d points, %d visits, %d rows; want 10, 2 and at most 35", points, visits, typed)
	}
}

func TestStepsWaitForNothingThatWaitsForThem(t *testing.T) {
	after := map[string][]string{}
	for _, r := range rows(t, Full) {
		if r.kind.Name == "link" {
			after[r.cells["from"]] = append(after[r.cells["from"]], r.cells["to"])
		}
	}
	state := map[string]int{} // 1 on the way down, 2 done
	var walk func(string)
	walk = func(s string) {
		state[s] = 1
		for _, n := range after[s] {
			switch state[n] {
			case 0:
				walk(n)
			case 1:
				t.Fatalf("%s waits, through others, for itself", n)
			}
		}
		state[s] = 2
	}
	for s := range after {
		if state[s] == 0 {
			walk(s)
		}
	}
}
