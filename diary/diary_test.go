package diary_test

import (
	"archive/zip"
	"bytes"
	"encoding/hex"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"io"
	"path"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/diary"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

func day(d int) calendar.Day { return calendar.Date(2027, 3, d) }

// An invented sloop with a name, a price and a fault in every place where
// somebody can write one.
type boat struct {
	t *testing.T
	j journal.Journal
}

func (b *boat) put(how record.Grounds, self record.Ref, values map[string]record.Value) {
	b.t.Helper()
	e := journal.Entry{ID: "e-" + string(self), Stamp: b.j.Stamp() + 1, Since: journal.Always, Author: "Otto Penmark", Grounds: how, Version: journal.Version, Facts: journal.Facts(self, values)}
	if _, err := journal.Check(e); err != nil {
		b.t.Fatal(err)
	}
	b.j.Add(e)
}

func file(letter string) record.File {
	return record.File{SHA256: strings.Repeat(letter, 64), Name: "bo-marsh-" + letter + ".jpg"}
}

const said = "Bo Marsh told Ada's foreman: 1.250,00 € or EUR 1 300 to 1 400; HENRIKSEN asked 780, bo says $2k (mail ada.quill@yard.example, +49 170 1234567). "

func sloop(t *testing.T) *journal.Record {
	b := &boat{t: t}
	put := b.put
	put(record.Written, "build/build", record.Values(record.Build{Name: "Test sloop", Yard: "Quill & Henriksen Boats", Currency: "EUR", Notice: "Invented. " + said}))
	put(record.Written, "person/ada", record.Values(record.Person{Name: "Ada Quill", Role: "yard lead", Contact: "room 7 behind the oven"}))
	put(record.Written, "person/bo-marsh", record.Values(record.Person{Name: "Bo Marsh", Role: "yard hand"}))
	put(record.Written, "person/hen", record.Values(record.Person{Name: "Jens Henriksen Hatches", Role: "supplier"}))
	put(record.Written, "part/deck", record.Values(record.Part{Name: "Deck"}))
	put(record.Written, "part/hatch", record.Values(record.Part{Name: "Deck hatches, by Henriksen", Within: "part/deck"}))
	put(record.Written, "step/core", record.Values(record.Step{Name: "deck core", Part: "part/deck", Stage: "core"}))
	put(record.Written, "item/mast", record.Values(record.Item{Name: "mast of Bo Marsh", Part: "part/deck"}))
	put(record.Seen, "visit/with-bo-marsh", record.Values(record.Visit{Day: day(2), By: "surveyor", Who: "person/bo-marsh", Note: said}))
	put(record.Seen, "visit/v2", record.Values(record.Visit{Day: day(9), By: "call"}))
	put(record.Seen, "visit/next", record.Values(record.Visit{Day: day(20), Planned: record.Yes}))
	at := record.Ref("visit/with-bo-marsh")
	put(record.Seen, "sighting/1", record.Values(record.Sighting{Visit: at, Step: "step/core", State: "under way", Note: said + "Crack beside the hatch"}))
	put(record.Seen, "sighting/2", record.Values(record.Sighting{Visit: "visit/v2", Step: "step/core", State: "done"}))
	put(record.Seen, "arrival/1", record.Values(record.Arrival{Item: "item/mast", Visit: at, Whole: record.Yes, Day: day(2), Note: said}))
	put(record.Measured, "measurement/in", record.Values(record.Measurement{Visit: at, What: "hatch rim, of Bo", Of: "part/deck", Got: unit.Q(0.025, unit.Length), Should: record.Tolerance{Known: true, Value: 0.025, Minus: 0.001, Plus: 0.001, Dim: unit.Length}, By: said}))
	put(record.Measured, "measurement/out", record.Values(record.Measurement{Visit: at, What: "coaming height", Of: "part/deck", Got: unit.Q(0.780, unit.Length), Should: record.Tolerance{Known: true, Value: 0.5, Dim: unit.Length}}))
	put(record.Told, "agreement/1", record.Values(record.Agreement{Says: said + "Pads of 780 mm", With: "person/bo-marsh", Visit: at, Day: day(2), Before: "step/core"}))
	put(record.Told, "agreement/2", record.Values(record.Agreement{Says: "The CRACK  beside the hatch is ground out", Visit: at, Day: day(2)}))
	put(record.Written, "point/eye", record.Values(record.Point{Question: "Which eye, says Ada?", Part: "part/deck"}))
	put(record.Written, "option/eye", record.Values(record.Option{Point: "point/eye", Name: "bronze for 780 EUR", Price: unit.Money{Minor: 78000, Currency: "EUR"}}))
	put(record.Told, "decision/1", record.Values(record.Decision{Point: "point/eye", Option: "option/eye", Says: said, With: "person/ada", Visit: at, Day: day(2)}))
	put(record.Written, "confirmation/1", record.Values(record.Confirmation{Of: "decision/1", By: "person/ada", Day: day(2), How: said}))
	put(record.Told, "question/1", record.Values(record.Question{Text: said, To: "person/ada", Visit: at}))
	put(record.Told, "statement/1", record.Values(record.Statement{About: "step/core", What: "is done", When: calendar.On(day(12)), By: "person/ada", On: day(2), Said: said}))
	put(record.Seen, "defect/crack", record.Values(record.Defect{What: "Crack beside the hatch", Part: "part/deck", Visit: at}))
	put(record.Seen, "remedy/1", record.Values(record.Remedy{Defect: "defect/crack", State: "not yet right", Visit: at, Note: "only painted over by Bo Marsh"}))
	put(record.Told, "release/1", record.Values(record.Release{Step: "step/core", By: "person/ada", Day: day(2), Note: said}))
	put(record.Seen, "evidence/crack", record.Values(record.Evidence{Shows: "defect/crack", Photo: "photo/crack", Visit: at}))
	put(record.Written, "evidence/paper", record.Values(record.Evidence{Shows: "step/core", What: "delivery note of Bo Marsh, 99,- EUR", Visit: at}))
	put(record.Written, "note/1", record.Values(record.Note{Text: said, Visit: at, From: "person/ada"}))
	for name, letter := range map[string]string{"crack": "a", "deck": "b", "twin": "a", "none": "c"} {
		put(record.Seen, record.R("photo", name), record.Values(record.Photo{Name: "bo-marsh.jpg", Visit: at, Part: "part/deck", File: file(letter), Note: said, By: "person/bo-marsh"}))
	}
	put(record.Written, "letter/1", record.Values(record.Letter{Visit: at, Day: day(3), Text: said + "the frozen letter", Sheet: record.File{SHA256: strings.Repeat("d", 64), Name: "letter.pdf"}}))
	return b.j.As(day(16), journal.Now)
}

// screens gives each file a picture that can be told from the others, and none
// for file c.
func screens(f record.File) ([]byte, error) {
	if f.SHA256[0] == 'c' {
		return nil, errors.New("no picture")
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 40, 30)), nil); err != nil {
		return nil, err
	}
	return append(b.Bytes(), "picture "+f.SHA256[:4]...), nil
}

type shut struct{ *bytes.Reader }

func (shut) Close() error { return nil }

func opened(f record.File) (io.ReadSeekCloser, error) {
	return shut{bytes.NewReader([]byte("%PDF-the frozen sheet"))}, nil
}

func archived(t *testing.T, d diary.Diary) ([]byte, map[string]string) {
	t.Helper()
	var b bytes.Buffer
	if err := d.Archive(&b, screens, opened); err != nil {
		t.Fatal(err)
	}
	z, err := zip.NewReader(bytes.NewReader(b.Bytes()), int64(b.Len()))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, f := range z.File {
		in, err := f.Open()
		if err != nil {
			t.Fatal(err)
		}
		data, err := io.ReadAll(in)
		if err != nil {
			t.Fatal(err)
		}
		out[f.Name] = string(data)
	}
	return b.Bytes(), out
}

// What is left out stands nowhere: not in a text or its small letters, not in
// the name of a file or an anchor, not in a picture; and what is not left out
// is all there.
func TestLeftOutStandsNowhere(t *testing.T) {
	parts := map[string][]string{
		"prices": {"1.250", "1 300", "1 400", "$2k", "€", "EUR", "780 EUR", "780,", "99,-"},
		"names":  {"bo marsh", "ada", "quill", "henriksen", "bo says", "jens", "penmark", "bo-marsh", "yard.example", "1234567", "room 7", "of bo"},
		"faults": {"crack", "painted over", "coaming", "not yet right", "picture aaaa", "outside it"},
	}
	for bits := range 8 {
		leave := diary.Leave{Prices: bits&1 != 0, Names: bits&2 != 0, Faults: bits&4 != 0}
		t.Run(fmt.Sprint(leave.Words()), func(t *testing.T) {
			_, files := archived(t, diary.Read(sloop(t), leave))
			var all strings.Builder
			for name, text := range files {
				all.WriteString(strings.ToLower(name + "\n" + text + "\n"))
			}
			for what, texts := range parts {
				left := map[string]bool{"prices": leave.Prices, "names": leave.Names, "faults": leave.Faults}[what]
				there := 0
				for _, x := range texts {
					if n := strings.Count(all.String(), strings.ToLower(x)); n > 0 {
						there++
						if left {
							i := strings.Index(all.String(), strings.ToLower(x))
							t.Errorf("%s are left out, and %q stands there: …%q…", what, x, all.String()[max(0, i-60):min(all.Len(), i+60)])
						}
					}
				}
				if !left && there < len(texts)/2 {
					t.Errorf("%s are not left out, and only %d of %d stand there", what, there, len(texts))
				}
			}
			if !strings.Contains(all.String(), "780 mm") && !leave.Faults {
				t.Error("a measure was taken for a price")
			}
			if letter := strings.Contains(all.String(), "frozen"); letter == leave.Any() {
				t.Errorf("the letter is there: %v", letter)
			}
		})
	}
}

// Hex dumps and archive names tell nothing either: the zip's own bytes.
func TestLeftOutInTheZipItself(t *testing.T) {
	data, files := archived(t, diary.Read(sloop(t), diary.Leave{Prices: true, Names: true, Faults: true}))
	for _, word := range []string{"Marsh", "marsh", "Quill", "crack"} {
		if bytes.Contains(data, []byte(word)) {
			t.Errorf("%q is in the zip:\n%s", word, hex.Dump(data[:256]))
		}
	}
	for name := range files {
		if !strings.HasPrefix(name, "diary-test-sloop/") || path.IsAbs(name) || strings.Contains(name, "..") {
			t.Errorf("the file is called %s", name)
		}
	}
	again, _ := archived(t, diary.Read(sloop(t), diary.Leave{Prices: true, Names: true, Faults: true}))
	if !bytes.Equal(data, again) {
		t.Error("the same diary gave other bytes")
	}
}

// The pages of a visit: what moved apart from what stood as before, how it is
// known, and that a call only tells.
func TestVisits(t *testing.T) {
	d := diary.Read(sloop(t), diary.Leave{})
	if len(d.Visits) != 2 || d.Visits[0].Name != "visit-2027-03-02" || d.Loose != 0 {
		t.Fatalf("%d visits, %d loose pictures; the planned one is none", len(d.Visits), d.Loose)
	}
	var titles []string
	for _, s := range d.Visits[0].Sections {
		titles = append(titles, s.Title)
	}
	if got := strings.Join(titles, ", "); got != "What moved, Arrived, Measured, Agreed and decided, Asked, Said of dates, Faults, Released, Papers, Notes" {
		t.Errorf("sections %s", got)
	}
	if i := d.Visits[1].Sections[0].Items[0]; i.Text != "deck core: done (was under way)" || i.Grounds != "told" || i.Place != "Deck" || i.Stage != "Core" {
		t.Errorf("by a call: %+v", i)
	}
	if got := d.Find("pads AGREED", "", ""); len(got) != 0 {
		t.Errorf("found %d for words that no item has both of", len(got))
	}
	if got := d.Find("PADS", "Deck", "Core"); len(got) != 1 {
		t.Errorf("found %d, want the agreement", len(got))
	}
	if len(d.Visits[0].Pictures) != 4 || d.Visits[0].First() != nil {
		t.Error("pictures have addresses before anybody gave them one")
	}
}

// Nothing in the archive leads out of it, and every link and picture in it is
// there.
func TestArchiveIsWhole(t *testing.T) {
	_, files := archived(t, diary.Read(sloop(t), diary.Leave{}))
	for name, text := range files {
		if path.Ext(name) != ".html" {
			continue
		}
		if !strings.Contains(text, `content="default-src 'none'; img-src 'self' file:;`) {
			t.Errorf("%s has no policy", name)
		}
		for _, attr := range []string{`href="`, `src="`} {
			for _, rest := range strings.Split(text, attr)[1:] {
				to, _, _ := strings.Cut(rest, `"`)
				at, anchor, _ := strings.Cut(to, "#")
				target := path.Join(path.Dir(name), at)
				if at == "" {
					target = name
				}
				body, ok := files[target]
				if !ok || strings.Contains(to, ":") || anchor != "" && !strings.Contains(body, `id="`+anchor+`"`) {
					t.Errorf("%s leads to %s, which is not there", name, to)
				}
			}
		}
	}
	n := 0
	for name := range files {
		if path.Ext(name) == ".jpg" {
			n++
		}
	}
	if n != 2 { // the twin is the same file, and one can't be shown
		t.Errorf("%d pictures, want 2", n)
	}
}

func TestParseLeave(t *testing.T) {
	l, err := diary.ParseLeave([]string{"faults", "prices"})
	if err != nil || l != (diary.Leave{Prices: true, Faults: true}) {
		t.Errorf("%+v, %v", l, err)
	}
	if _, err := diary.ParseLeave([]string{"weights"}); err == nil {
		t.Error("weights were left out")
	}
}
