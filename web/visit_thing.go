package web

import (
	"encoding/json"
	"fmt"
	"net/http"
	"path"

	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
)

// thing is one thing found at a visit, read from what was typed and not
// written yet: the subject it is about ("" for one that takes the key of its
// entry), its values, and what is wrong with them.
type thing struct {
	subject record.Ref
	values  map[string]record.Value
	wrong   map[string]string
	grounds record.Grounds
}

// thing reads what was typed at a visit. id, if there is one, is that of the
// entry to come: it becomes the key.
func (v *view) thing(at record.Visit, k *record.Kind, typed map[string]string, id string) (thing, error) {
	t := thing{}
	t.values, t.wrong = v.read(k, v.completed(at, k, typed))
	if id != "" {
		t.subject = record.R(k.Name, id)
	}
	t.grounds = journal.Grounds(k, at.By)
	if k.Name == "measurement" {
		v.bare(&t)
	}
	if plain(t.values["taken"]) == "reading shown" && t.grounds == record.Measured {
		t.grounds = record.Seen // the yard measured; what we have seen is its gauge
	}
	if k.Name == "sighting" && t.wrong["step"] == "" { // a second tap at the same visit takes the place of the first
		var step record.Ref
		if err := json.Unmarshal([]byte(t.values["step"]), &step); err != nil {
			return t, err // read has resolved it
		}
		t.subject = sightingAt(at.Self, step)
	}
	return t, nil
}

// say puts a thing into its entry, over what its writer was shown.
func (v *view) say(e *journal.Entry, at record.Visit, k *record.Kind, t *thing) {
	if t.subject == "" {
		t.subject = record.R(k.Name, e.ID)
	}
	e.Visit, e.Facts = at.Self, journal.Facts(t.subject, t.values)
	for i, x := range e.Facts {
		e.Facts[i].Over = v.rec.Over(t.subject, x.Field)
	}
}

// bare asks for the unit of a value written without one, where what it should
// be has one: 55 can be millimetres, and a wrong guess is off by a factor.
func (v *view) bare(t *thing) {
	var got unit.Quantity
	var should record.Tolerance
	if json.Unmarshal([]byte(t.values["got"]), &got) != nil || got.Dim != unit.Number {
		return
	}
	said := t.values["should"]
	var check record.Ref
	if json.Unmarshal([]byte(t.values["check"]), &check) == nil && said == "" {
		if h, ok := v.rec.Held(check, "should"); ok {
			said = h.Value
		}
	}
	if json.Unmarshal([]byte(said), &should) != nil || !should.Known || should.Dim == unit.Number {
		return
	}
	t.wrong["got"] = fmt.Sprintf("“%s” has no unit, and it should be %s; write which, as in %s.", got.As, record.KindOf("measurement").Field("should").Format(said), unitExample[should.Dim])
}

// unitExample is a value with its unit, by what it measures.
var unitExample = map[unit.Dimension]string{
	unit.Length: "24,5 mm or 2 1/4 in", unit.Area: "1,2 m²", unit.Volume: "12 l or 3 US gal", unit.Mass: "12,5 kg", unit.Force: "400 N",
	unit.Pressure: "14 mbar or 2 psi", unit.Angle: "0,3°", unit.Temperature: "19 °C", unit.Speed: "6 kn", unit.Time: "30 min", unit.Work: "3 wd",
	unit.Barcol: "36 Barcol", unit.ShoreD: "82 Shore D",
}

// completed adds what the sheet itself knows: the visit and its day, and of a
// check what it is that is measured, and how.
func (v *view) completed(at record.Visit, k *record.Kind, typed map[string]string) map[string]string {
	full := map[string]string{}
	for name, text := range typed {
		full[name] = text
	}
	if k.Field("visit") != nil {
		full["visit"] = string(at.Self)
	}
	for _, name := range []string{"day", "on", "asked"} {
		if k.Field(name) != nil && full[name] == "" {
			full[name] = at.Day.String()
		}
	}
	if f := k.Field("check"); f != nil && full["check"] != "" {
		ref, err := v.resolve(f, full["check"])
		c, ok := journal.Get[record.Check](v.rec, ref)
		if err != nil || !ok {
			return full // read says what is wrong with it
		}
		how := map[string]string{"own measure": "own measure", "reading to be shown": "reading shown"}[c.Taken]
		for name, text := range map[string]string{"what": c.What, "of": string(c.Of), "taken": how, "state": c.State} {
			if full[name] == "" {
				full[name] = text
			}
		}
	}
	return full
}

// named gives a picture whose name nobody typed that of its file.
func (t *thing) named(typed map[string]string) bool {
	var file record.File
	if typed["name"] != "" || json.Unmarshal([]byte(t.values["file"]), &file) != nil || !file.Known() {
		return false
	}
	t.values["name"] = record.Encode(file.Name)
	return true
}

// shownBy makes the entries of the picture that was sent along with a defect:
// the picture itself, and that it shows the defect.
func (s *Site) shownBy(r *http.Request, f *store.Folder, v *view, of journal.Entry, t thing) ([]journal.Entry, error) {
	if r.MultipartForm == nil || len(r.MultipartForm.File["picture"]) == 0 || r.MultipartForm.File["picture"][0].Size == 0 {
		return nil, nil
	}
	sent := r.MultipartForm.File["picture"][0]
	in, err := sent.Open()
	if err != nil {
		return nil, fmt.Errorf("read the picture that was sent: %w", err)
	}
	defer func() { _ = in.Close() }() // only read
	file, err := f.Put(r.Context(), path.Base(sent.Filename), in, longestFile)
	if err != nil {
		return nil, refused(desk.Capital(err.Error())+".", "Nothing was written.")
	}
	at, _ := journal.Get[record.Visit](v.rec, of.Visit)
	var where record.Ref
	_ = json.Unmarshal([]byte(t.values["part"]), &where) // not said is nowhere
	x := record.Photo{Name: file.Name, Visit: of.Visit, File: file, Day: at.Day, Note: plain(t.values["what"])}
	if where.Kind() == "part" {
		x.Part = where
	} else {
		x.Place = where
	}
	entry := func(k string, values map[string]record.Value) journal.Entry {
		e := f.Draft(of.Author, of.Since, journal.Grounds(record.KindOf(k), at.By))
		e.Visit, e.Origin = of.Visit, of.Origin
		e.Facts = journal.Facts(record.R(k, e.ID), values)
		return e
	}
	photo := entry("photo", record.Values(x))
	shows := entry("evidence", record.Values(record.Evidence{Shows: t.subject, Photo: record.R("photo", photo.ID), Visit: of.Visit, Day: at.Day}))
	return []journal.Entry{photo, shows}, nil
}
