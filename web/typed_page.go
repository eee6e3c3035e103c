package web

import (
	"fmt"
	"net/http"
	"strconv"
	"strings"

	"dogshore/calendar"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

// typedPage types in a printed walking sheet: its rows, in its order and with
// its numbers, as they were when it was printed.
type typedPage struct {
	Sheet
	Self   Named
	Visit  record.Visit
	Number int64  // of the sheet
	Of     string // the day of the sheet
	Marks  []mark
	Steps  []typedRow
	Values []typedRow
	Agreed []typedRow
	States []string
	People []Choice
	Rest   []Choice
	Wrong  string
}

// typedRow is one row, with what was typed into it and why it was refused.
type typedRow struct {
	Number           int
	Part, Name, Says string
	Field            string // the name of its control
	State, Got       string
	With, Before     string // of an agreement
	Wrong            string

	of record.Ref
}

// agreedRows is how many agreements the printed sheet has room for.
const agreedRows = 5

func (s *Site) typePage(w http.ResponseWriter, r *http.Request) error {
	v, self, err := s.visitView(r)
	if err != nil {
		return err
	}
	page, err := s.typedSheet(r, v, self)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "typed", page)
}

// typedSheet lays the rows of the sheet that the address names: the one printed
// last before the visit was begun, if it names none.
func (s *Site) typedSheet(r *http.Request, v *view, self record.Ref) (*typedPage, error) {
	at, _ := journal.Get[record.Visit](v.rec, self)
	v.Name = "A printed sheet"
	page := &typedPage{Sheet: v.Sheet, Self: v.Ref(self), Visit: at, Of: at.Day.String(), States: states, Marks: marks(), People: v.names([]string{"person"}), Rest: v.names([]string{"step"})}
	if h, ok := v.rec.Held(self, "day"); ok {
		page.Number = max(1, h.Entry.Arrival-1)
	}
	if n := strings.TrimSpace(r.FormValue("sheet")); n != "" {
		var err error
		if page.Number, err = strconv.ParseInt(n, 10, 64); err != nil || page.Number < 1 || page.Number > v.Last {
			return nil, problem{http.StatusUnprocessableEntity, fmt.Sprintf("There is no sheet “%.20s”.", n), "Its number and day stand at the foot of the printed sheet."}
		}
	}
	if d := strings.TrimSpace(r.FormValue("of")); d != "" {
		page.Of = d
	}
	day, err := calendar.ParseISO(page.Of)
	if err != nil || !day.Known() {
		return nil, problem{http.StatusUnprocessableEntity, fmt.Sprintf("“%.20s” is no day of a sheet.", page.Of), "Its number and day stand at the foot of the printed sheet."}
	}
	rec, rev, err := s.look(r.Context(), v.folder, day, page.Number, v.Last)
	if err != nil {
		return nil, err
	}
	then := &view{Sheet: v.Sheet, folder: v.folder, rec: rec, rev: rev}
	then.record = rec
	for _, x := range visit.Rows(rev.Visit) {
		page.lay(then, x)
	}
	for i := range agreedRows {
		page.Agreed = append(page.Agreed, typedRow{Number: i + 1, Field: fmt.Sprintf("agreed.%d", i+1)})
	}
	return page, nil
}

// lay makes the row of the page for a row of the sheet.
func (p *typedPage) lay(then *view, x visit.Row) {
	row := typedRow{Number: x.Number, Part: then.rec.Name(x.Part), Name: then.rec.Name(x.Of), of: x.Of}
	if x.Part == "" {
		row.Part = ""
	}
	if x.Steps() {
		row.Field = "step." + x.Of.Key()
		p.Steps = append(p.Steps, row)
		return
	}
	row.Field = "value." + strconv.Itoa(x.Number)
	row.Says = then.fieldText(x.Of, "should")
	p.Values = append(p.Values, row)
}

// typeIn writes all that a printed sheet holds, or nothing.
func (s *Site) typeIn(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, self, err := s.visitView(r)
	if err != nil {
		return err
	}
	page, err := s.typedSheet(r, v, self)
	if err != nil {
		return err
	}
	in := &typing{v: v, f: f, at: page.Visit, first: s.draft(w, r, f, page.Visit.Day, record.Written)}
	in.first.Origin = fmt.Sprintf("printed sheet no. %d, of %s", page.Number, page.Of)
	in.rows(r, page)
	switch {
	case in.err != nil:
		return in.err
	case in.wrong > 0:
		page.Wrong = refusal(in.wrong)
	case len(in.entries) == 0:
		page.Wrong = "Nothing is filled in yet."
	}
	if page.Wrong == "" {
		if _, err := f.Accept(r.Context(), in.entries...); err != nil {
			page.Wrong = whyRefused(err)
		}
	}
	if page.Wrong != "" {
		return s.render(w, http.StatusUnprocessableEntity, "typed", page)
	}
	return wrote(w, r, pathOf(self)+"#h-found", self, in.entries[len(in.entries)-1].ID)
}

// rows reads what was typed into each row.
func (in *typing) rows(r *http.Request, page *typedPage) {
	in.wrong += page.ticked(r)
	for i := range page.Steps {
		row := &page.Steps[i]
		in.take(row, "sighting", row.State != "", map[string]string{"step": string(row.of), "state": row.State})
	}
	for i := range page.Values {
		row := &page.Values[i]
		row.Got = strings.TrimSpace(r.PostFormValue(row.Field))
		in.take(row, "measurement", row.Got != "", in.v.again(row.of, row.Got))
	}
	for i := range page.Agreed {
		row := &page.Agreed[i]
		row.Got, row.With, row.Before = strings.TrimSpace(r.PostFormValue(row.Field)), r.PostFormValue(row.Field+".with"), r.PostFormValue(row.Field+".before")
		in.take(row, "agreement", row.Got != "", map[string]string{"says": row.Got, "with": row.With, "before": row.Before})
	}
}

// again is what is known of a value that is measured again: its check, or what
// the reading before it said.
func (v *view) again(of record.Ref, got string) map[string]string {
	if of.Kind() == "check" {
		return map[string]string{"check": string(of), "got": got}
	}
	m, _ := journal.Get[record.Measurement](v.rec, of)
	return map[string]string{"check": string(m.Check), "what": m.What, "of": string(m.Of), "should": v.fieldText(of, "should"), "state": m.State, "drawing": m.Drawing, "got": got}
}

// typing gathers the entries of a printed sheet.
type typing struct {
	v       *view
	f       *store.Folder
	at      record.Visit
	first   journal.Entry // whose author and origin the others take
	entries []journal.Entry
	wrong   int
	err     error
}

// take reads one row, if something is written in it.
func (in *typing) take(row *typedRow, kind string, filled bool, typed map[string]string) {
	if !filled || in.err != nil {
		return
	}
	k := record.KindOf(kind)
	t, err := in.v.thing(in.at, k, typed, "")
	if err != nil {
		in.err = err
		return
	}
	if len(t.wrong) > 0 {
		in.wrong++
		row.Wrong = strings.TrimPrefix(whyNot(k, t.wrong), "Nothing is written yet. ")
		return
	}
	e := in.f.Draft(in.first.Author, in.at.Day, t.grounds)
	e.Origin = in.first.Origin
	in.v.say(&e, in.at, k, &t)
	in.entries = append(in.entries, e)
}
