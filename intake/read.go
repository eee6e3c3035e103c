package intake

import (
	"fmt"
	"path/filepath"
	"sort"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/workbook"
)

// reader is one reading being made.
type reader struct {
	rec      *journal.Record
	opt      Options
	out      *Reading
	names    *workbook.Names // of the record, and of what is being read
	tables   []*table
	asked    map[string]bool
	currency string
	nears    int                 // names compared with texts that name nothing
	waits    int                 // changes that wait to hear from when they hold
	outlined map[record.Ref]bool // what an outline was taken for
}

// Read reads files against a record, which is best that of Options.Today.
// Files that are no workbook, list or message are refused; it has no error of
// its own.
func Read(files []File, rec *journal.Record, opt Options) *Reading {
	if opt.Author == "" {
		opt.Author = "owner"
	}
	r := &reader{rec: rec, opt: opt, out: &Reading{author: opt.Author}, names: workbook.NamesOf(rec), asked: map[string]bool{}}
	if b, ok := journal.Get[record.Build](rec, record.R("build", "build")); ok {
		r.currency = b.Currency
	}
	r.answerSince()
	var messages []File
	for _, f := range files {
		if isMessage(f.Name) {
			messages = append(messages, f)
			continue
		}
		if isDrawing(f) {
			r.drawing(f)
			continue
		}
		r.file(f)
	}
	r.name()
	for _, t := range r.tables {
		r.values(t)
		r.missing(t)
	}
	for _, f := range messages {
		r.message(f)
	}
	if r.waits > 0 {
		r.ask(Ask{ID: sinceID, At: Cell{}, Text: fmt.Sprintf("%d values differ from the record", r.waits),
			Question: "from which day do they hold, or do they put right what was wrong from the start?",
			Readings: []string{correction, opt.Today.String()}, Free: true})
	}
	sort.SliceStable(r.out.Reads, func(i, k int) bool { return order(r.out.Reads[i].Self) < order(r.out.Reads[k].Self) })
	return r.out
}

// order puts kinds in the order of their sheets.
func order(self record.Ref) int {
	for i := range record.Kinds() {
		if record.Kinds()[i].Name == self.Kind() {
			return i
		}
	}
	return len(record.Kinds())
}

// Since and correction as an answer.
const (
	sinceID    = "since"
	correction = "they put right what was wrong"
)

func (r *reader) answerSince() {
	switch a := r.opt.Answers[sinceID]; a {
	case "":
	case correction:
		r.opt.Correct = true
	default:
		if d, err := calendar.ParseDay(a, r.opt.Today); err == nil {
			r.opt.Since = d
		}
	}
}

// ask puts a question once.
func (r *reader) ask(a Ask) {
	if !r.asked[a.ID] {
		r.asked[a.ID] = true
		r.out.Asks = append(r.out.Asks, a)
	}
}

// answer returns what was answered to the question of that ID.
func (r *reader) answer(id string) (string, bool) {
	a, ok := r.opt.Answers[id]
	return strings.TrimSpace(a), ok
}

// file reads a workbook or a CSV file into tables.
func (r *reader) file(f File) {
	at := Cell{File: f.Name}
	book, err := workbook.Read(f.Name, f.Data, f.Size)
	if err != nil {
		r.out.refuse(at, "", "%v", err)
		return
	}
	for _, n := range book.Notes {
		r.out.skip(at, "", "%s", n)
	}
	export := book.Exported()
	for i := range book.Sheets {
		s := &book.Sheets[i]
		at := Cell{File: f.Name, Sheet: s.Name}
		for _, n := range s.Notes {
			r.out.skip(at, "", "%s", n)
		}
		if workbook.IsGuide(s) || len(s.Rows) == 0 {
			continue
		}
		if s.Hidden && !r.hiddenSheet(at) {
			continue
		}
		r.sheet(at, newGrid(s), export)
	}
}

func (r *reader) hiddenSheet(at Cell) bool {
	id := at.String() + " hidden"
	a, ok := r.answer(id)
	if !ok {
		r.ask(Ask{ID: id, At: at, Question: "this sheet is hidden; does it count?", Readings: []string{"yes", "no"}})
	}
	return a == "yes"
}

// sheet finds what a sheet lists, by its name (a CSV file's by the file's
// name) or, if that says nothing, by its header.
func (r *reader) sheet(at Cell, g *grid, export *workbook.Export) {
	if r.startSheet(at, g, export) {
		return
	}
	name := at.Sheet
	if name == "" {
		name = strings.TrimSuffix(at.File, filepath.Ext(at.File))
	}
	k := kindNamed(name)
	if k != nil {
		if header, _ := g.findHeader(k); header < 0 && r.pointSheet(at, g) {
			return
		}
	}
	if k == nil {
		if r.pointSheet(at, g) {
			return
		}
		if k = r.kindByHeader(at, g); k == nil {
			return
		}
	}
	header, _ := g.findHeader(k)
	if header < 0 {
		r.out.refuse(at, "", "none of its first %d rows has the titles of %s: %s", headerRows, k.Plural, titles(k))
		return
	}
	for _, row := range g.Rows[:header] {
		above := at
		above.Row = row.Number
		r.out.skip(above, joined(row), "above the header")
	}
	t := r.newTable(at, k, g, header, len(g.Rows), nil)
	t.export = export
}

func titles(k *record.Kind) string {
	var out []string
	for i := range k.Fields {
		out = append(out, k.Fields[i].Title)
	}
	return strings.Join(out, ", ")
}

// kindByHeader asks what a sheet of an unknown name lists, offering the kinds
// whose titles fit its header best.
func (r *reader) kindByHeader(at Cell, g *grid) *record.Kind {
	type fitting struct {
		k   *record.Kind
		fit int
	}
	var all []fitting
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		if _, fit := g.findHeader(k); fit >= 2 {
			all = append(all, fitting{k, fit})
		}
	}
	sort.SliceStable(all, func(i, k int) bool { return all[i].fit > all[k].fit })
	if len(all) == 0 {
		r.out.skip(at, "", "neither its name nor its titles are those of a list that is kept here")
		return nil
	}
	id := at.String()
	if a, ok := r.answer(id); ok {
		if k := kindNamed(a); k != nil {
			return k
		}
	}
	ask := Ask{ID: id, At: at, Question: "what does this sheet list?"}
	for _, f := range all[:min(4, len(all))] {
		ask.Readings = append(ask.Readings, f.k.Plural)
	}
	r.ask(ask)
	return nil
}
