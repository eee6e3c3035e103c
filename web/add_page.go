package web

import (
	"net/http"
	"net/url"
	"strconv"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// formPage adds or edits a subject of any kind, from the table of kinds.
type formPage struct {
	Sheet
	Kind    *record.Kind
	Key     string // of the subject that is edited; empty for a new one
	Title   string
	Inputs  []Input
	Lists   []NameList
	Files   bool
	Problem string
	Back    string // where to go when it is written
	Doubts  []Doubt
	Foot    Foot
}

// Foot is the end of every form: from when it holds, how we know, who writes.
type Foot struct {
	Adds    bool   // an observation: its own day says from when it holds
	Own     bool   // new, and of a kind that has a day of its own
	Editing bool   //
	Holds   string // "own", "always" or "day"; edited: "correction" or "change"
	Day     string
	Wrong   string // why the day is refused
	Grounds string // "" leaves it to the usual ground of the kind
	All     []record.Grounds
	Author  string
}

func (s *Site) addPage(w http.ResponseWriter, r *http.Request) error {
	v, k, err := s.formView(r)
	if err != nil {
		return err
	}
	typed := map[string]string{}
	for i := range k.Fields {
		typed[k.Fields[i].Name] = r.URL.Query().Get(k.Fields[i].Name)
	}
	if k.Name == "point" && typed["asked"] == "" { // it comes up as it is written
		typed["asked"] = v.Today.String()
	}
	return s.showForm(w, r, v, k, "", typed, nil, "")
}

// formView reads the kind from the address; forms show and change today's
// record, whatever day was looked at before.
func (s *Site) formView(r *http.Request) (*view, *record.Kind, error) {
	k := record.KindOf(r.PathValue("kind"))
	if k == nil {
		return nil, nil, notFound("There is no kind “%s”.", r.PathValue("kind"))
	}
	v, err := s.view(r, desk.Capital(k.Title))
	if err == nil && v.Past {
		err = refused("Nothing can be written on a past day's sheet.", "Go back to today first: the title block at the foot of the sheet does it.")
	}
	return v, k, err
}

func (s *Site) showForm(w http.ResponseWriter, r *http.Request, v *view, k *record.Kind, key string, typed, wrong map[string]string, says string) error {
	page := &formPage{Sheet: v.Sheet, Kind: k, Key: key, Problem: says, Back: back(r)}
	page.Title = "Add " + k.Title
	page.Inputs, page.Lists = v.inputs(k, typed, wrong)
	for i := range page.Inputs {
		page.Files = page.Files || page.Inputs[i].Control == FileControl
	}
	page.Foot = Foot{Adds: k.Adds, Editing: key != "", Holds: r.PostFormValue("holds"), Day: r.PostFormValue("holds-from"),
		Wrong: wrong["holds-from"], Grounds: r.PostFormValue("grounds"), All: record.AllGrounds, Author: author(r)}
	if page.Foot.Day == "" {
		page.Foot.Day = v.Today.String()
	}
	if page.Foot.Holds == "" {
		page.Foot.Holds = map[bool]string{true: "correction", false: "always"}[key != ""]
		if page.Foot.Own = key == "" && len(journal.DayFields(k)) > 0; page.Foot.Own {
			page.Foot.Holds = "own"
		}
	}
	if key != "" {
		self := record.R(k.Name, key)
		page.Title, page.Doubts = v.called(self).Name, v.doubts(self)
		was, over := v.texts(self)
		for i := range page.Inputs {
			name := page.Inputs[i].Field.Name
			page.Inputs[i].Was, page.Inputs[i].Over = was[name], over[name]
			if r.Method == http.MethodPost { // the value that this form showed, not one that came since
				page.Inputs[i].Was, page.Inputs[i].Over = r.PostFormValue("was."+name), r.PostFormValue("over."+name)
			}
		}
	}
	status := http.StatusOK
	if says != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "form", page)
}

// back is where a form leads when it is written: a path of these pages.
func back(r *http.Request) string {
	return ownPath(r.FormValue("back"))
}

// ownPath is b if it is a path of these pages, else nothing.
func ownPath(b string) string {
	if !strings.HasPrefix(b, "/") || strings.HasPrefix(b, "//") || strings.ContainsAny(b, "\\\r\n") {
		return ""
	}
	return b
}

func typedFields(r *http.Request, k *record.Kind) map[string]string {
	typed := map[string]string{}
	for i := range k.Fields {
		typed[k.Fields[i].Name] = r.PostFormValue(k.Fields[i].Name)
	}
	return typed
}

// add writes a new subject.
func (s *Site) add(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, k, err := s.formView(r)
	if err != nil {
		return err
	}
	typed := typedFields(r, k)
	values, wrong := v.read(k, typed)
	if err := s.takeFiles(r, f, k, values, wrong); err != nil {
		return err
	}
	since := v.holdsFrom(k, values)
	if !k.Adds {
		since = s.holds(r, since, wrong)
	}
	how := groundsOr(r, v.groundsFor(k, values))
	if len(wrong) == 0 && len(values) == 0 {
		return s.showForm(w, r, v, k, "", typed, wrong, "Nothing is filled in yet.")
	}
	if len(wrong) > 0 {
		return s.showForm(w, r, v, k, "", typed, wrong, refusal(len(wrong)))
	}
	e := s.draft(w, r, f, since, how)
	self := record.R(k.Name, v.newKey(k, values, e.ID))
	e.Origin = "form " + k.Title
	e.Visit = v.visitOf(k, values).Self
	e.Facts = journal.Facts(self, values)
	if _, err := f.Accept(r.Context(), e); err != nil {
		return s.showForm(w, r, v, k, "", typed, wrong, whyRefused(err))
	}
	return wrote(w, r, back(r), self, e.ID)
}

func refusal(n int) string {
	if n == 1 {
		return "Nothing is written yet: one field needs another look."
	}
	return "Nothing is written yet: " + strconv.Itoa(n) + " fields need another look."
}

// holds reads from which day a definition holds.
func (s *Site) holds(r *http.Request, otherwise calendar.Day, wrong map[string]string) calendar.Day {
	switch r.PostFormValue("holds") {
	case "always":
		return journal.Always
	case "day", "change":
		d, err := calendar.ParseISO(r.PostFormValue("holds-from"))
		if err == nil && d.Known() && d <= s.today() {
			return d
		}
		wrong["holds-from"] = "Write the day from which it holds, as 2027-04-12. It can't lie ahead: what is planned is written as a date that somebody said."
	}
	return otherwise
}

func groundsOr(r *http.Request, usual record.Grounds) record.Grounds {
	if g := record.Grounds(r.PostFormValue("grounds")); g.Rank() >= 0 {
		return g
	}
	return usual
}

// newKey makes a key: of the name for what is found by name, else the entry's
// id, which no other copy of the build can have used.
func (v *view) newKey(k *record.Kind, values map[string]record.Value, id string) string {
	n := k.NameField()
	if n == nil || k.Adds {
		return id
	}
	slug := record.Slug(plain(values[n.Name]))
	key := slug
	for i := 2; v.rec.Has(record.R(k.Name, key)); i++ {
		key = slug + "-" + strconv.Itoa(i)
	}
	return key
}

// wrote leads on after something was written.
func wrote(w http.ResponseWriter, r *http.Request, to string, self record.Ref, id string) error {
	if to == "" {
		to = pathOf(self)
	}
	path, place, ok := strings.Cut(to, "#")
	join := "?"
	if strings.Contains(path, "?") {
		join = "&"
	}
	path += join + url.Values{"wrote": {id}}.Encode()
	if ok {
		path += "#" + place
	}
	http.Redirect(w, r, path, http.StatusSeeOther)
	return nil
}
