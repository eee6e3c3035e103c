package intake_test

import (
	"bytes"
	"context"
	"errors"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/xuri/excelize/v2"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/workbook"
)

// shed is a build folder whose clock the test sets.
type shed struct {
	*store.Folder
	t   *testing.T
	day calendar.Day
}

func newShed(t *testing.T) *shed {
	t.Helper()
	s := &shed{t: t, day: today}
	f, err := store.Create(context.Background(), filepath.Join(t.TempDir(), "build"), func() time.Time { return s.day.Time().Add(9 * time.Hour) })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	s.Folder = f
	return s
}

func (s *shed) record() *journal.Record {
	s.t.Helper()
	r, err := s.As(context.Background(), s.day, journal.Now)
	if err != nil {
		s.t.Fatal(err)
	}
	return r
}

func (s *shed) read(opt intake.Options, files ...intake.File) *intake.Reading {
	s.t.Helper()
	opt.Today = s.day
	return intake.Read(files, s.record(), opt)
}

func (s *shed) accept(r *intake.Reading) intake.Accepted {
	s.t.Helper()
	done, err := r.Accept(context.Background(), s.Folder, s.day)
	if err != nil {
		s.t.Fatal(err)
	}
	return done
}

func (s *shed) undo(batch string) intake.Accepted {
	s.t.Helper()
	done, err := intake.Undo(context.Background(), s.Folder, batch, "owner", s.day)
	if err != nil {
		s.t.Fatal(err)
	}
	return done
}

// says returns a field as the record has it.
func (s *shed) says(self record.Ref, field string) string {
	s.t.Helper()
	h, ok := s.record().Held(self, field)
	if !ok {
		return ""
	}
	return record.KindOf(self.Kind()).Field(field).Format(h.Value)
}

// edit writes the record as a workbook, and changes cells in it.
func (s *shed) edit(change func(f *excelize.File)) intake.File {
	s.t.Helper()
	var b bytes.Buffer
	if err := workbook.Write(&b, s.record()); err != nil {
		s.t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		s.t.Fatal(err)
	}
	change(f)
	var out bytes.Buffer
	if err := f.Write(&out); err != nil {
		s.t.Fatal(err)
	}
	return intake.File{Name: "build.xlsx", Data: bytes.NewReader(out.Bytes()), Size: int64(out.Len())}
}

func (s *shed) set(f *excelize.File, sheet, at, text string) {
	s.t.Helper()
	if err := f.SetCellStr(sheet, at, text); err != nil {
		s.t.Fatal(err)
	}
}

func (s *shed) fill() intake.Accepted {
	return s.accept(s.read(intake.Options{},
		file("parts.csv", "key,name,side,within\ndeck,Deck,,\nhatch,Hatch,port,Deck\nlocker,Locker,port,Deck\n"),
		file("steps.csv", "name,part,work\nDeck core,Deck,3/5/9 wd\n"),
		file("open-points.csv", "question,covered by\nHow many cleats?,Deck core\n"),
		file("visits.csv", "day,by\n2026-05-06,owner\n"),
		file("sightings.csv", "visit,step,state\n2026-05-06,Deck core,under way\n"),
	))
}

// The same file twice counts once, whatever it is called the second time.
func TestSecondImportIsNothing(t *testing.T) {
	s := newShed(t)
	text := "name,side\nDeck,\nHatch,port\n"
	first := s.accept(s.read(intake.Options{}, file("parts.csv", text)))
	if first.Entries != 2 || first.Batch != "2026-05-20-1" {
		t.Fatalf("first: %+v", first)
	}
	r := s.read(intake.Options{}, file("01 Parts.csv", text))
	if len(r.Reads) != 0 || r.Same != 3 {
		t.Errorf("the second reading has %d news and %d the same", len(r.Reads), r.Same)
	}
	if done := s.accept(r); done != (intake.Accepted{}) {
		t.Errorf("second: %+v", done)
	}
}

// Undo strikes an import; the same file again brings it back; both as often
// as one likes.
func TestUndoAndAgain(t *testing.T) {
	s := newShed(t)
	first := s.fill()
	parts := file("parts.csv", "key,name,side,within\ndeck,Deck,,\nhatch,Hatch,port,Deck\nlocker,Locker,port,Deck\n")
	for range 3 {
		undone := s.undo(first.Batch)
		if s.record().Has("part/deck") || s.record().Has("sighting/2026-05-06-deck-core") {
			t.Fatal("undone, and still in the record")
		}
		if n := s.undo(first.Batch); n.Entries != 0 {
			t.Errorf("undone twice: %+v", n)
		}
		again := s.accept(s.read(intake.Options{}, parts))
		if again.Restored != 3 || s.says("part/hatch", "side") != "port" {
			t.Fatalf("the same file again: %+v, hatch %q", again, s.says("part/hatch", "side"))
		}
		if s.record().Has("step/deck-core") {
			t.Error("a file brought back more than stands in it")
		}
		if n := s.undo(undone.Batch); n.Entries == 0 || !s.record().Has("step/deck-core") {
			t.Error("undoing the undoing does not bring the rest back")
		}
	}
	if _, err := intake.Undo(context.Background(), s.Folder, "nonsense", "owner", today); !errors.Is(err, intake.ErrNoBatch) {
		t.Errorf("a batch that is not there: %v", err)
	}
}

// A workbook that comes back as it was written says nothing.
func TestUntouchedWorkbookIsNothing(t *testing.T) {
	s := newShed(t)
	s.fill()
	r := s.read(intake.Options{}, s.edit(func(*excelize.File) {}))
	if len(r.Reads)+len(r.Asks)+len(r.Refuses) != 0 || r.Same < 15 {
		t.Errorf("untouched:\n%s", printed(t, r))
	}
}

func TestThreeWays(t *testing.T) {
	s := newShed(t)
	s.fill()
	book := s.edit(func(f *excelize.File) {
		s.set(f, "Parts", "B3", "Skylight")      // hatch renamed
		s.set(f, "Parts", "F4", "")              // nothing was there
		s.set(f, "Parts", "E4", "")              // locker: side taken out
		s.set(f, "Parts", "B5", "Shelf")         // a new row without a key
		s.set(f, "Parts", "C5", "Locker")        // within
		s.set(f, "Sightings", "D2", "done")      // a mistake of the pen
		s.set(f, "Steps", "G2", "4/6/9 wd")      // work
		_ = f.RemoveRow("Open points", 2)        // a row is gone
		s.set(f, "Parts", "F3", "D 7")           // hatch: number, new
		s.set(f, "Visits", "G2", "wind, no wet") // note, new
	})
	if name, _ := bookTitle(t, book, "Steps", "G1"); name != "work" {
		t.Fatalf("column G of Steps is %q", name)
	}
	r := s.read(intake.Options{}, book)
	if got, _, n := says(r, "part/shelf", "within"); got != "part/locker" || !n.New {
		t.Errorf("a new row: %q", got)
	}
	if got, f, n := says(r, "sighting/2026-05-06-deck-core", "state"); got != "done" || f.Was != "under way" || n.Since.String() != "2026-05-06" {
		t.Errorf("an observation is corrected from its own day: %q was %q since %s", got, f.Was, n.Since)
	}
	if got, _, _ := says(r, "part/hatch", "number"); got != "D 7" {
		t.Errorf("a value where there was none: %q", got)
	}
	if got, _, _ := says(r, "part/hatch", "name"); got != "" {
		t.Error("a change was read without knowing from when it holds")
	}
	for _, id := range []string{"since", "build.xlsx, Parts, E4 blank", "build.xlsx, Open points gone point/how-many-cleats"} {
		if asked(r, id) == nil {
			t.Errorf("%s is not asked", id)
		}
	}
	if len(r.Asks) != 3 || len(r.Refuses) != 0 {
		t.Error(printed(t, r))
	}

	r = s.read(intake.Options{Since: calendar.Date(2026, 5, 18), Answers: map[string]string{"build.xlsx, Parts, E4 blank": "take it away"}}, book)
	_, f, n := says(r, "part/hatch", "name")
	if n.Since.String() != "2026-05-18" || f.Was != "Hatch" || f.Over == "" {
		t.Errorf("a change holds from the day that was said: %+v", f)
	}
	s.accept(r)
	for _, c := range []struct{ self, field, want string }{
		{"part/hatch", "name", "Skylight"}, {"part/locker", "side", ""}, {"step/deck-core", "work", "4/6/9 wd"},
		{"point/how-many-cleats", "question", "How many cleats?"}, {"visit/2026-05-06", "note", "wind, no wet"},
	} {
		if got := s.says(record.Ref(c.self), c.field); got != c.want {
			t.Errorf("%s of %s is %q, want %q", c.field, c.self, got, c.want)
		}
	}
	if d := s.record().Doubts(); len(d) != 0 {
		t.Errorf("changes over what was exported leave no doubt, but %+v", d)
	}
	before, err := s.As(context.Background(), calendar.Date(2026, 5, 10), journal.Now)
	if err != nil {
		t.Fatal(err)
	}
	if before.Name("part/hatch") != "Hatch" {
		t.Errorf("before its day the change holds already: %q", before.Name("part/hatch"))
	}
}

func bookTitle(t *testing.T, f intake.File, sheet, at string) (string, error) {
	t.Helper()
	x, err := excelize.OpenReader(newReader(f))
	if err != nil {
		t.Fatal(err)
	}
	return x.GetCellValue(sheet, at)
}

func newReader(f intake.File) *bytes.Reader {
	b := make([]byte, f.Size)
	_, _ = f.Data.ReadAt(b, 0)
	return bytes.NewReader(b)
}

// While the workbook was away the record moved: both are shown, neither wins.
func TestRecordMovedMeanwhile(t *testing.T) {
	s := newShed(t)
	s.fill()
	away := s.edit(func(f *excelize.File) { s.set(f, "Parts", "B3", "Skylight") })
	still := s.edit(func(*excelize.File) {})
	s.accept(s.read(intake.Options{Correct: true}, s.edit(func(f *excelize.File) { s.set(f, "Parts", "B3", "Deck hatch") })))
	if s.says("part/hatch", "name") != "Deck hatch" {
		t.Fatal("the first change is not in")
	}
	if r := s.read(intake.Options{}, still); len(r.Reads)+len(r.Asks) != 0 {
		t.Errorf("an old workbook left as it was wants to write:\n%s", printed(t, r))
	}
	r := s.read(intake.Options{Correct: true}, away)
	id := "build.xlsx, Parts, B3 change"
	a := asked(r, id)
	if a == nil || strings.Join(a.Readings, "|") != "Skylight|Deck hatch" || !strings.Contains(a.Question, `"Hatch" when this was exported`) {
		t.Fatalf("both sides are to be shown:\n%s", printed(t, r))
	}
	if len(r.Reads) != 0 {
		t.Error("a conflict was written")
	}
	s.accept(s.read(intake.Options{Correct: true, Answers: map[string]string{id: "Deck hatch"}}, away))
	if got := s.says("part/hatch", "name"); got != "Deck hatch" {
		t.Errorf("kept as the record has it: %q", got)
	}
	s.accept(s.read(intake.Options{Correct: true, Answers: map[string]string{id: "Skylight"}}, away))
	if got := s.says("part/hatch", "name"); got != "Skylight" {
		t.Errorf("taken from the sheet: %q", got)
	}
	if d := s.record().Doubts(); len(d) != 0 {
		t.Errorf("settled by a person, and still a doubt: %+v", d)
	}
}

// A list that was not exported has not seen the record: it asks.
func TestPlainListAgainstTheRecord(t *testing.T) {
	s := newShed(t)
	s.fill()
	list := file("parts.csv", "name,side\nHatch,starboard\nLocker,\n")
	r := s.read(intake.Options{}, list)
	a := asked(r, "parts.csv, B2 change")
	if a == nil || strings.Join(a.Readings, "|") != "starboard|port" || len(r.Reads) != 0 || len(r.Asks) != 1 {
		t.Fatalf("want one question:\n%s", printed(t, r))
	}
	s.accept(s.read(intake.Options{Correct: true}, list))
	if got := s.says("part/hatch", "side"); got != "starboard" {
		t.Errorf("put right: %q", got)
	}
	// To and fro: the same value again, over another one, counts again.
	s.accept(s.read(intake.Options{Correct: true}, file("parts.csv", "name,side\nHatch,port\n")))
	s.accept(s.read(intake.Options{Correct: true}, list))
	if got := s.says("part/hatch", "side"); got != "starboard" {
		t.Errorf("put right once more: %q", got)
	}
}

// That something is left out of the boat holds from a day, and never from
// always.
func TestWithdrawnNeedsItsDay(t *testing.T) {
	s := newShed(t)
	s.fill()
	list := file("parts.csv", "name,withdrawn\nLocker,yes\n")
	if r := s.read(intake.Options{}, list); asked(r, "since") == nil || len(r.Reads) != 0 {
		t.Errorf("want its day asked:\n%s", printed(t, r))
	}
	r := s.read(intake.Options{Answers: map[string]string{"since": "18 May 2026"}}, list)
	if _, _, n := says(r, "part/locker", "withdrawn"); n.Since != calendar.Date(2026, 5, 18) {
		t.Errorf("from %s:\n%s", n.Since, printed(t, r))
	}
}

// A row that is gone is withdrawn only when somebody says so.
func TestRowGone(t *testing.T) {
	s := newShed(t)
	s.fill()
	book := s.edit(func(f *excelize.File) { _ = f.RemoveRow("Parts", 4) })
	id := "build.xlsx, Parts gone part/locker"
	if a := asked(s.read(intake.Options{}, book), id); a == nil || strings.Join(a.Readings, "|") != "leave it|withdraw it" {
		t.Fatalf("want it asked: %+v", a)
	}
	r := s.read(intake.Options{Since: today, Answers: map[string]string{id: "withdraw it"}}, book)
	if got, _, n := says(r, "part/locker", "withdrawn"); got != "yes" || n.Since != today {
		t.Errorf("withdrawn %q from %s", got, n.Since)
	}
}
