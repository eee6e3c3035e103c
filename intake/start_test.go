package intake_test

import (
	"bytes"
	"strings"
	"testing"

	"github.com/xuri/excelize/v2"

	"dogshore/intake"
	"dogshore/record"
	"dogshore/workbook"
)

// startSheet is the start sheet of a record, and the rows of its blocks.
func startSheet(t *testing.T) (*excelize.File, map[string]int) {
	t.Helper()
	var b bytes.Buffer
	if err := workbook.StartSheet(&b, boat(t)); err != nil {
		t.Fatal(err)
	}
	f, err := excelize.OpenReader(&b)
	if err != nil {
		t.Fatal(err)
	}
	rows, err := f.GetRows(workbook.StartName)
	if err != nil {
		t.Fatal(err)
	}
	at := map[string]int{}
	for i, r := range rows {
		if len(r) > 0 {
			at[r[0]] = i + 1
		}
	}
	return f, at
}

func asFile(t *testing.T, f *excelize.File, name string) intake.File {
	t.Helper()
	var b bytes.Buffer
	if err := f.Write(&b); err != nil {
		t.Fatal(err)
	}
	return intake.File{Name: name, Data: bytes.NewReader(b.Bytes()), Size: int64(b.Len())}
}

func TestBlankStartSheetSaysNothing(t *testing.T) {
	f, _ := startSheet(t)
	r := intake.Read([]intake.File{asFile(t, f, "start.xlsx")}, boat(t), intake.Options{Today: today})
	if len(r.Reads)+len(r.Asks)+len(r.Refuses) != 0 {
		t.Errorf("a blank start sheet:\n%s", printed(t, r))
	}
}

func TestFilledStartSheet(t *testing.T) {
	f, at := startSheet(t)
	row := func(first int, cells ...string) {
		for i, c := range cells {
			if c == "" {
				continue
			}
			if err := f.SetCellStr(workbook.StartName, workbook.Letters(i+1)+itoa(first), c); err != nil {
				t.Fatal(err)
			}
		}
	}
	row(at["Build"]+2, "Nobody's Boat", "7", "Example Yard", "Nowhere", "14,9 m", "12.1.2026", "3 June 2026")
	row(at["Stages now"], "", "", "14.5.2026")
	row(at["Deck"], "", "skin coat", "under way", "seen")
	row(at["Port hull"], "", "core", "done", "told", "12 May 2026", "they say")
	row(at["Open points"]+2, "Where do the cleats go?", "Deck", "Deck skin coat", "as on the last boat", "Marek Lind")
	row(at["Dates said"]+2, "around week 34", "Port hull core", "is done", "W34", "Marek Lind", "14.5.2026")
	row(at["People"]+2, "Olga Berg", "surveyor", "no", "no", "no")
	row(at["Cut-offs"]+2, "Choice of upholstery", "1 September 2026")
	row(at["Sister hulls"]+2, "Hull 6", "10 weeks")
	r := intake.Read([]intake.File{asFile(t, f, "start.xlsx")}, boat(t), intake.Options{Today: today})
	for _, c := range []struct {
		self, field, want string
		grounds           record.Grounds
	}{
		{"build/build", "length", "14,9 m", record.Written},
		{"build/build", "contract_day", "2026-01-12", record.Written},
		{"visit/2026-05-14", "by", "owner", record.Seen},
		{"visit/2026-05-12-call", "by", "call", record.Told},
		{"sighting/2026-05-14-deck-skin-coat", "state", "under way", record.Seen},
		{"sighting/2026-05-12-call-port-hull-core", "state", "done", record.Told},
		{"point/where-do-the-cleats-go", "covered_by", "step/deck-skin-coat", record.Written},
		{"statement/port-hull-core-is-done-2026-05-14", "when", "2026-W34", record.Told},
		{"person/olga-berg", "may_release", "no", record.Written},
		{"cutoff/choice-of-upholstery", "day", "2026-09-01", record.Written},
		{"sister/hull-6", "ahead", "10 weeks", record.Written},
	} {
		got, _, n := says(r, record.Ref(c.self), c.field)
		if got != c.want || n.Grounds != c.grounds {
			t.Errorf("%s of %s is %q, %s; want %q, %s", c.field, c.self, got, n.Grounds, c.want, c.grounds)
		}
	}
	if len(r.Asks)+len(r.Refuses) != 0 {
		t.Error(printed(t, r))
	}
}

func itoa(n int) string {
	if n < 10 {
		return string(rune('0' + n))
	}
	return itoa(n/10) + string(rune('0'+n%10))
}

// A stage that the part does not have, and a day that nobody wrote, are asked
// about; nothing is taken as seen because a cell was left blank.
func TestStartSheetAsks(t *testing.T) {
	f, at := startSheet(t)
	set := func(cell, text string) {
		if err := f.SetCellStr(workbook.StartName, cell, text); err != nil {
			t.Fatal(err)
		}
	}
	set("B"+itoa(at["Deck"]), "varnished")
	set("C"+itoa(at["Deck"]), "done")
	set("B"+itoa(at["Port hull"]), "core")
	file := asFile(t, f, "start.xlsx")
	r := intake.Read([]intake.File{file}, boat(t), intake.Options{Today: today})
	stage, day := "start.xlsx, Start sheet, B"+itoa(at["Deck"]), "start.xlsx, Start sheet, C"+itoa(at["Stages now"])
	if a := asked(r, stage); a == nil || strings.Join(a.Readings, "|") != "deck-gelcoat|deck-skin-coat" {
		t.Errorf("a stage that is none:\n%s", printed(t, r))
	}
	if asked(r, day) == nil || len(r.Reads) != 0 {
		t.Errorf("no day:\n%s", printed(t, r))
	}
	state := "start.xlsx, Start sheet, C" + itoa(at["Port hull"])
	r = intake.Read([]intake.File{file}, boat(t), intake.Options{Today: today, Answers: map[string]string{stage: "deck-gelcoat", day: "2026-05-14", state: "done"}})
	for _, key := range []string{"2026-05-14-call-deck-gelcoat", "2026-05-14-call-port-hull-core"} {
		if got, _, n := says(r, record.R("sighting", key), "state"); got != "done" || n.Grounds != record.Told {
			t.Errorf("%s is %q, %s; want done, told\n%s", key, got, n.Grounds, printed(t, r))
		}
	}
}
