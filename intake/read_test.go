package intake_test

import (
	"bytes"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/record"
)

var today = calendar.Date(2026, 5, 20)

// boat is a record with a few parts, steps and people, as a template and a
// first week leave it.
func boat(t testing.TB, more ...journal.Entry) *journal.Record {
	t.Helper()
	var j journal.Journal
	add := func(id string, self record.Ref, values map[string]record.Value) {
		e := journal.Entry{ID: id, Stamp: journal.Stamp(j.Len() + 1), Since: journal.Always, Author: "template", Grounds: record.Inferred, Version: journal.Version, Arrival: int64(j.Len() + 1)}
		k := record.KindOf(self.Kind())
		for i := range k.Fields {
			if v, ok := values[k.Fields[i].Name]; ok {
				e.Facts = append(e.Facts, journal.Fact{Kind: self.Kind(), Key: self.Key(), Field: k.Fields[i].Name, Value: v})
			}
		}
		c, err := journal.Check(e)
		if err != nil {
			t.Fatal(err)
		}
		j.Add(c)
	}
	add("t0", "build/build", record.Values(record.Build{Name: "Nobody's Boat"}))
	add("t1", "part/deck", record.Values(record.Part{Name: "Deck"}))
	add("t2", "part/port-hull", record.Values(record.Part{Name: "Port hull"}))
	add("t3", "step/deck-gelcoat", record.Values(record.Step{Name: "Deck gelcoat", Part: "part/deck", Stage: "gelcoat"}))
	add("t4", "step/deck-skin-coat", record.Values(record.Step{Name: "Deck skin coat", Part: "part/deck", Stage: "skin-coat"}))
	add("t5", "step/port-hull-core", record.Values(record.Step{Name: "Port hull core", Part: "part/port-hull", Stage: "core"}))
	add("t6", "person/marek", record.Values(record.Person{Name: "Marek Lind", Role: "yard lead", Contact: "marek@yard.example, +00 1"}))
	add("t7", "person/ida", record.Values(record.Person{Name: "Ida Lind", Role: "yard hand"}))
	for _, e := range more {
		e.Arrival = int64(j.Len() + 1)
		j.Add(e)
	}
	return j.As(today, journal.Now)
}

func file(name, text string) intake.File {
	return intake.File{Name: name, Data: strings.NewReader(text), Size: int64(len(text))}
}

func reading(t testing.TB, name string, raw []byte) *intake.Reading {
	t.Helper()
	return intake.Read([]intake.File{{Name: name, Data: bytes.NewReader(raw), Size: int64(len(raw))}}, boat(t), intake.Options{Today: today})
}

func printed(t testing.TB, r *intake.Reading) string {
	t.Helper()
	var b strings.Builder
	if err := intake.Print(&b, r); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

// says finds one value among what was read.
func says(r *intake.Reading, self record.Ref, field string) (text string, f intake.Fact, n intake.News) {
	for _, n := range r.Reads {
		for _, f := range n.Facts {
			if n.Self == self && f.Field.Name == field {
				return f.Field.Format(f.Value), f, n
			}
		}
	}
	return "", intake.Fact{}, intake.News{}
}

func asked(r *intake.Reading, id string) *intake.Ask {
	for i := range r.Asks {
		if r.Asks[i].ID == id {
			return &r.Asks[i]
		}
	}
	return nil
}

func committed(t testing.TB, name string) []byte {
	t.Helper()
	raw, err := os.ReadFile(filepath.Join("testdata", name))
	if err != nil {
		t.Fatal(err)
	}
	return raw
}

// What stands in the sheets that LibreOffice wrote, read cell by cell.
func TestQuirksOfSheets(t *testing.T) {
	r := reading(t, "shed.xlsx", committed(t, "shed.xlsx"))
	for _, c := range []struct{ quirk, self, field, want string }{
		{"a header of two rows, not in row 1", "part/hull", "name", "Hull"},
		{"a number where a text is asked for", "part/anchor-locker", "number", "12"},
		{"a formula, as last computed", "part/anchor-locker", "count", "2"},
		{"a name defined on another sheet", "part/anchor-locker", "within", "part/deck"},
		{"a cell merged over three rows", "item/seacocks", "part", "part/hull"},
		{"a unit in the header", "option/which-windlass-electric", "weight", "18.5 kg"},
		{"a decimal comma and a unit in the cell", "option/which-windlass-by-hand", "weight", "12,5 kg"},
		{"a computed weight", "option/which-windlass-both", "weight", "31 kg"},
		{"a unit in the number's format", "option/which-windlass-second-hand", "weight", "21.25 kg"},
		{"an amount with points and comma", "option/which-windlass-electric", "price", "EUR 1.250,00"},
		{"an amount with a space and a sign", "option/which-windlass-by-hand", "price", "1 200 €"},
		{"a credit", "option/which-windlass-none", "price", "-350,- EUR"},
		{"a range", "option/which-windlass-none", "days", "2-3"},
		{"three guesses", "step/deck-core", "work", "3/5/9 wd"},
		{"elapsed time", "step/deck-bagged", "lasts", "2 days"},
		{"a week", "statement/deck-core-starts-2026-04-14", "when", "2026-W34"},
		{"a day kept as a number", "statement/deck-core-is-done-2026-04-14", "when", "2026-09-04"},
		{"a day written as text", "statement/deck-core-is-done-2026-04-14", "on", "2026-04-14"},
		{"a day that only one order fits", "statement/deck-bagged-starts-2026-03-25", "on", "2026-03-25"},
		{"a third of a month, of the year in which it was said", "statement/deck-bagged-starts-2026-03-25", "when", "2026-05-21/2026-05-31"},
		{"a visit named by its day", "measurement/2026-04-14-headroom", "visit", "visit/2026-04-14"},
		{"feet and inches", "measurement/2026-04-14-headroom", "got", `5' 9 1/2"`},
		{"a fraction", "measurement/2026-04-14-bunk-width", "got", "18 3/4 in"},
		{"about", "measurement/2026-04-14-core", "got", "ca. 12 mm"},
		{"two tolerances", "measurement/2026-04-14-core", "should", "25 +0,5/-0 mm"},
		{"a range of lengths", "measurement/2026-04-14-flange", "got", "12-14 mm"},
	} {
		if got, _, _ := says(r, record.Ref(c.self), c.field); got != c.want {
			t.Errorf("%s: %s of %s is %q, want %q", c.quirk, c.field, c.self, got, c.want)
		}
	}
	for id, readings := range map[string]string{
		"shed.xlsx, Bought-in items, row 11 hidden": "yes|no",
		"shed.xlsx, Stands hidden":                  "yes|no",
		"shed.xlsx, Bought-in items, row 13 twice":  "the same one|another one",
		"shed.xlsx, Bought-in items, B14":           "Deck",
		"shed.xlsx, Options, C4":                    "1.2 kg|1200 kg",
		"shed.xlsx, Options, D5":                    "USD 400|AUD 400|CAD 400|NZD 400",
		"shed.xlsx, Statements, C4":                 "3 April 2026|4 March 2026",
	} {
		a := asked(r, id)
		if a == nil {
			t.Errorf("%s is not asked about", id)
		} else if got := strings.Join(a.Readings, "|"); got != readings {
			t.Errorf("%s offers %s, want %s", id, got, readings)
		}
	}
	if len(r.Asks) != 7 || len(r.Refuses) != 0 {
		t.Errorf("%d asks and %d refusals, want 7 and 0:\n%s", len(r.Asks), len(r.Refuses), printed(t, r))
	}
	for at, why := range map[string]string{
		"shed.xlsx, Bought-in items, row 8":  "a subtotal",
		"shed.xlsx, Bought-in items, row 10": "a note",
		"shed.xlsx, Bought-in items, row 15": "a subtotal",
		"shed.xlsx, Bought-in items, row 1":  "above the header",
		"shed.xlsx, Bought-in items, D4":     "Bought-in items have no such column",
		"shed.xlsx, Options, E3":             "not known yet, and owed by somebody: nothing is written",
		"shed.xlsx, Options, E5":             "says that it is not known: nothing is written",
		"shed.xlsx, Scratch":                 "neither its name nor its titles are those of a list that is kept here",
	} {
		found := false
		for _, s := range r.Skips {
			found = found || s.At.String() == at && s.Why == why
		}
		if !found {
			t.Errorf("%s is not said to be passed over as %q", at, why)
		}
	}
	if _, _, n := says(r, "item/old-windlass", "name"); n.Self != "" {
		t.Error("a hidden row was read without asking")
	}
	if _, _, n := says(r, "item/hatches", "name"); n.Self == "" {
		t.Error("a row is lost because one of its cells is asked about")
	}
}

// Answers given for cells settle them on the next reading.
func TestAnswers(t *testing.T) {
	raw := committed(t, "shed.xlsx")
	r := intake.Read([]intake.File{{Name: "shed.xlsx", Data: bytes.NewReader(raw), Size: int64(len(raw))}}, boat(t), intake.Options{Today: today, Answers: map[string]string{
		"shed.xlsx, Bought-in items, row 11 hidden": "yes",
		"shed.xlsx, Stands hidden":                  "yes",
		"shed.xlsx, Bought-in items, row 13 twice":  "another one",
		"shed.xlsx, Bought-in items, B14":           "Deck",
		"shed.xlsx, Options, C4":                    "1200 kg",
		"shed.xlsx, Options, D5":                    "NZD 400",
		"shed.xlsx, Statements, C4":                 "3 April 2026",
	}})
	for _, c := range []struct{ self, field, want string }{
		{"item/old-windlass", "bought_by", "owner"},
		{"stand/deck-mould", "name", "Deck mould"},
		{"item/windlass-2", "bought_by", "yard"},
		{"item/hatches", "part", "part/deck"},
		{"option/which-windlass-none", "weight", "1200 kg"},
		{"option/which-windlass-both", "price", "NZD 400"},
		{"statement/deck-bagged-is-done-2026-03-12", "when", "3 April 2026"},
	} {
		if got, _, _ := says(r, record.Ref(c.self), c.field); got != c.want {
			t.Errorf("%s of %s is %q, want %q", c.field, c.self, got, c.want)
		}
	}
	if len(r.Asks)+len(r.Refuses) != 0 {
		t.Errorf("still asked or refused:\n%s", printed(t, r))
	}
}

func TestDaysFrom1900And1904(t *testing.T) {
	r := reading(t, "a.xlsx", committed(t, "counted-from-1904.xlsx"))
	if got, _, _ := says(r, "visit/2026-04-14", "note"); got != "counted from 1904" {
		t.Errorf("counted from 1904:\n%s", printed(t, r))
	}
	r = reading(t, "b.xlsx", committed(t, "counted-from-1900.xlsx"))
	if got, _, _ := says(r, "visit/2026-04-14", "note"); got != "counted from 1900" {
		t.Errorf("counted from 1900:\n%s", printed(t, r))
	}
	a := asked(r, "b.xlsx, Visits, A3")
	if a == nil || strings.Join(a.Readings, "|") != "15 April 2026|16 April 2030" {
		t.Errorf("a day shown as a number: %+v", a)
	}
}

func TestQuirksOfCSV(t *testing.T) {
	for _, c := range []struct {
		quirk, name, text, self, field, want string
	}{
		{"byte-order mark, semicolons, decimal comma", "Options.csv", "\ufeffpoint;name;weight\r\npoint/p;a;12,5 kg\r\n", "option/p-a", "weight", "12,5 kg"},
		{"tabs", "options.csv", "point\tname\tweight\npoint/p\ta\t18 3/4 lb\n", "option/p-a", "weight", "18 3/4 lb"},
		{"UTF-16 as spreadsheets save it", "parts.csv", utf16("name\tside\nM\u00f6belf\u00fc\u00dfe\tport\n"), "part/moebelfuesse", "name", "M\u00f6belf\u00fc\u00dfe"},
		{"Windows-1252", "parts.csv", "name,side\nM\xf6bel,port\n", "part/moebel", "name", "M\u00f6bel"},
		{"a line that names the mark", "parts.csv", "sep=|\nname|side\nLocker|port\n", "part/locker", "side", "port"},
		{"quotes, line breaks and doubled quotes", "parts.csv", "name,number\n\"A \"\"big\"\" locker,\nthe long one\",7\n", "part/a-big-locker-the-long-one", "number", "7"},
		{"blank lines and rows of separators", "parts.csv", "\n;;\nname;side\n\n;;\nLocker;port\n", "part/locker", "side", "port"},
		{"a header in other letters and dashes", "01-bought-in items.csv", "NAME,Bought-By\nMast,Yard\n", "item/mast", "bought_by", "yard"},
		{"a row of units below the header", "options.csv", "point,name,weight,days\n,,[kg],[wd]\npoint/p,a,12.5,3\n", "option/p-a", "weight", "12.5 kg"},
		{"a unit behind a comma in the header", "steps.csv", "name;lasts, h\nCure;16\n", "step/cure", "lasts", "16 h"},
		{"no minus but a dash", "options.csv", "point;name;price\npoint/p;a;\u22121\u202f200,50 \u20ac\n", "option/p-a", "price", "\u22121\u202f200,50 \u20ac"},
		{"how, by and since beside the fields", "parts.csv", "key,name,since,how we know,by\nlk,Locker,1.5.2026,told,Ida\n", "part/lk", "name", "Locker"},
		{"a week said in March of the year before", "statements.csv", "about,when,on\nDeck gelcoat,KW 50,2025-11-03\n", "statement/deck-gelcoat-2025-11-03", "when", "2025-W50"},
	} {
		j := journal.Entry{ID: "p", Stamp: 99, Since: journal.Always, Author: "x", Grounds: record.Written, Version: journal.Version,
			Facts: []journal.Fact{{Kind: "point", Key: "p", Field: "question", Value: record.Encode("Which?")}}}
		r := intake.Read([]intake.File{file(c.name, c.text)}, boat(t, j), intake.Options{Today: today})
		if got, _, _ := says(r, record.Ref(c.self), c.field); got != c.want {
			t.Errorf("%s: %s of %s is %q, want %q\n%s", c.quirk, c.field, c.self, got, c.want, printed(t, r))
		}
		if len(r.Asks)+len(r.Refuses) > 0 {
			t.Errorf("%s:\n%s", c.quirk, printed(t, r))
		}
	}
}

func utf16(s string) string {
	b := []byte{0xff, 0xfe}
	for _, r := range s {
		b = append(b, byte(r), byte(r>>8))
	}
	return string(b)
}

func TestWhatIsAskedAndRefused(t *testing.T) {
	for _, c := range []struct {
		what, name, text, id, says string
	}{
		{"two readings of a number", "options.csv", "point,name,weight\npoint/p,a,1.200 kg\n", "options.csv, C2", "which is meant"},
		{"a number without a unit", "options.csv", "point,name,weight\npoint/p,a,12\n", "options.csv, C2", "which is meant"},
		{"a new subject without its name", "parts.csv", "name,side\n,port\n", "parts.csv, A2", "needs its name"},
		{"a sheet of an unknown name", "list.csv", "name,bought by,supplier\nMast,yard,Marek Lind\n", "list.csv", "what does this sheet list?"},
		{"two persons near", "open-points.csv", "question,move\nWhere?,Lind\n", "open-points.csv, B2", "no person is called this"},
		{"an observation without what it needs", "sightings.csv", "visit,step\n2026-05-01,deck-gelcoat\n", "sightings.csv, A2", "no visit is called this"},
		{"the same row twice", "cut-offs.csv", "name,day\nLaunch,1 June 2026\nLaunch,2 June 2026\n", "cut-offs.csv, row 3 twice", "the same cut-off or another"},
	} {
		j := journal.Entry{ID: "p", Stamp: 99, Since: journal.Always, Author: "x", Grounds: record.Written, Version: journal.Version,
			Facts: []journal.Fact{{Kind: "point", Key: "p", Field: "question", Value: record.Encode("Which?")}}}
		r := intake.Read([]intake.File{file(c.name, c.text)}, boat(t, j), intake.Options{Today: today})
		a := asked(r, c.id)
		if a == nil || !strings.Contains(a.Question, c.says) {
			t.Errorf("%s is not asked about at %s with %q\n%s", c.what, c.id, c.says, printed(t, r))
		}
	}
	for _, c := range []struct{ what, name, text, at, says string }{
		{"a word that is no choice", "parts.csv", "name,side\nLocker,left\n", "parts.csv, B2", "none of port, starboard"},
		{"a day on the wrong weekday", "visits.csv", "day,by\nMon 13 April 2027,owner\n", "visits.csv, A2", "is a Tuesday"},
		{"a key of two words", "parts.csv", "key,name\na/b/c,Locker\n", "parts.csv, A2", "a key is one short word"},
		{"the same title twice", "parts.csv", "name,side,side\nLocker,port,port\n", "parts.csv, C1", "has the same title"},
		{"a ground that is none", "parts.csv", "name,how we know\nLocker,dreamt\n", "parts.csv, B2", "one of"},
		{"a list without a header", "parts.csv", "Locker,port\nShelf,starboard\n", "parts.csv", "has the titles of Parts"},
		{"an old workbook", "parts.xls", "\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "parts.xls", "save it as XLSX"},
		{"a PDF", "parts.pdf", "%PDF-1.4", "parts.pdf", "PDF"},
	} {
		r := intake.Read([]intake.File{file(c.name, c.text)}, boat(t), intake.Options{Today: today})
		found := false
		for _, x := range r.Refuses {
			found = found || x.At.String() == c.at && strings.Contains(x.Why, c.says)
		}
		if !found {
			t.Errorf("%s is not refused at %s with %q\n%s", c.what, c.at, c.says, printed(t, r))
		}
	}
}

// A sheet's doubtful marks can be settled all at once.
func TestDecimalMarkOfASheet(t *testing.T) {
	text := "question\nWhich?\n"
	list := "point;name;weight [kg]\nWhich?;a;1.200\nWhich?;b;1.300\nWhich?;c;12,5\n"
	files := func() []intake.File { return []intake.File{file("options.csv", list), file("open-points.csv", text)} }
	r := intake.Read(files(), boat(t), intake.Options{Today: today})
	a := asked(r, "options.csv decimal mark")
	if a == nil || len(r.Asks) != 3 || !strings.Contains(a.Question, "C4 has a decimal comma") {
		t.Fatalf("want the two cells asked about, and the mark:\n%s", printed(t, r))
	}
	r = intake.Read(files(), boat(t), intake.Options{Today: today, Answers: map[string]string{a.ID: "comma"}})
	if got, f, _ := says(r, "option/which-a", "weight"); got != "1200 kg" || f.At.String() != "options.csv, C2" || len(r.Asks) != 0 {
		t.Errorf("with a decimal comma 1.200 is %q\n%s", got, printed(t, r))
	}
}

func TestHowAndSince(t *testing.T) {
	files := []intake.File{
		file("visits.csv", "key,day,by\nv1,2026-05-06,owner\nv2,2026-05-13,pictures\nv3,2026-05-18,call\nv4,2026-06-03,owner\n"),
		file("sightings.csv", "visit,step,state\nv1,deck-gelcoat,done\nv2,deck-skin-coat,under way\nv3,port-hull-core,done\n"),
		file("measurements.csv", "visit,what,got\nv1,gap,5 mm\n"),
		file("agreements.csv", "says,day,with\nTwo cleats more,2026-05-06,Marek Lind\n"),
		file("confirmations.csv", "of,day\n2026-05-06-two-cleats-more,2026-05-08\n"),
		file("parts.csv", "name,since,how we know,by\nLocker,2026-05-02,told,Ida\nShelf,,,\n"),
		file("open-points.csv", "question,asked\nWhere?,2026-05-06\n"),
	}
	r := intake.Read(files, boat(t), intake.Options{Today: today})
	for _, c := range []struct {
		self, field, since string
		grounds            record.Grounds
		by                 string
	}{
		{"visit/v1", "day", "2026-05-06", record.Seen, "owner"},
		{"visit/v2", "day", "2026-05-13", record.Shown, "owner"},
		{"visit/v4", "day", "2026-05-20", record.Seen, "owner"}, // to come: known from today
		{"sighting/v1-deck-gelcoat", "state", "2026-05-06", record.Seen, "owner"},
		{"sighting/v2-deck-skin-coat", "state", "2026-05-13", record.Shown, "owner"},
		{"sighting/v3-port-hull-core", "state", "2026-05-18", record.Told, "owner"},
		{"measurement/v1-gap", "got", "2026-05-06", record.Measured, "owner"},
		{"agreement/2026-05-06-two-cleats-more", "says", "2026-05-06", record.Told, "owner"},
		{"confirmation/2026-05-06-two-cleats-more-2026-05-08", "of", "2026-05-08", record.Written, "owner"},
		{"part/locker", "name", "2026-05-02", record.Told, "Ida"},
		{"part/shelf", "name", "1950-01-01", record.Written, "owner"},
		{"point/where", "question", "2026-05-06", record.Written, "owner"},
	} {
		_, _, n := says(r, record.Ref(c.self), c.field)
		if n.Since.String() != c.since || n.Grounds != c.grounds || n.By != c.by {
			t.Errorf("%s holds from %s, %s, by %s; want %s, %s, %s", c.self, n.Since, n.Grounds, n.By, c.since, c.grounds, c.by)
		}
	}
	if len(r.Asks)+len(r.Refuses) > 0 {
		t.Error(printed(t, r))
	}
}

// The order of files and sheets makes no difference to what is read.
func TestOrderOfSheets(t *testing.T) {
	files := []intake.File{
		file("leads.csv", "for,what,wait\nTwo,make,6 weeks\n"),
		file("options.csv", "point,name\nHow many?,Two\n"),
		file("open-points.csv", "question,part\nHow many?,Locker\n"),
		file("parts.csv", "name,within\nShelf,Locker\nLocker,Deck\n"),
	}
	want := printedReads(intake.Read(files, boat(t), intake.Options{Today: today}))
	for i := range files {
		turned := append(append([]intake.File(nil), files[i:]...), files[:i]...)
		r := intake.Read(turned, boat(t), intake.Options{Today: today})
		if got := printedReads(r); got != want || len(r.Asks) > 0 {
			t.Errorf("turned by %d:\n%s\nwant\n%s", i, printed(t, r), want)
		}
	}
}

func printedReads(r *intake.Reading) string {
	var lines []string
	for _, n := range r.Reads {
		for _, f := range n.Facts {
			lines = append(lines, string(n.Self)+" "+f.Field.Name+" "+string(f.Value))
		}
	}
	slices.Sort(lines)
	return strings.Join(lines, "\n")
}
