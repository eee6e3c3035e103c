package web

import (
	"fmt"
	"net/http"
	"path/filepath"
	"slices"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/template"
)

// startPage asks the six things from which a template lays the first record.
type startPage struct {
	Sheet
	Questions []Question
	Problem   string
	Author    string
	Dir       string
}

// Question is one of the six, with the fields that answer it.
type Question struct {
	Says   string
	Inputs []Input
}

// sixQuestions lists the questions and the fields of the build that answer them.
var sixQuestions = []struct {
	says   string
	fields []string
}{
	{"What do you call her? A name, or the yard's hull number.", []string{"name"}},
	{"What boat is she, and how is she built?", []string{"boat", "way", "hulls", "series"}},
	{"How long is the hull? Without it nothing can be drawn.", []string{"length"}},
	{"Who builds her, and where?", []string{"yard", "country"}},
	{"When was the contract signed?", []string{"contract_day"}},
	{"How is the build visited?", []string{"visiting"}},
}

// chosenFirst are the fields without which no template can be laid.
var chosenFirst = []string{"name", "boat", "way", "hulls", "series"}

// start shows the six questions while there is no template laid, and the
// start sheet after that.
func (s *Site) start(w http.ResponseWriter, r *http.Request) error {
	if s.folder.Load() == nil {
		return s.askSix(w, r, &view{Sheet: s.bareSheet(r, "Start")}, map[string]string{"name": suggested(s.dir)}, nil)
	}
	v, err := s.view(r, "Start sheet")
	if err != nil {
		return err
	}
	if v.Past { // what is written here is written today
		http.Redirect(w, r, "/start", http.StatusSeeOther)
		return nil
	}
	if len(v.rec.Refs("part")) > 0 {
		return s.startSheet(w, r, v, nil)
	}
	typed := map[string]string{}
	if v.rec.Has(buildRef) {
		typed, _ = v.texts(buildRef)
	}
	return s.askSix(w, r, v, typed, nil)
}

var buildRef = record.R("build", "build")

// suggested is the folder's own name, if it says something.
func suggested(dir string) string {
	if base := filepath.Base(filepath.Clean(dir)); base != "." && base != string(filepath.Separator) {
		return base
	}
	return ""
}

func (s *Site) askSix(w http.ResponseWriter, r *http.Request, v *view, typed, wrong map[string]string) error {
	page := &startPage{Sheet: v.Sheet, Author: author(r), Dir: s.dir}
	inputs := map[string]Input{}
	all, _ := v.inputs(record.KindOf("build"), typed, wrong)
	for _, in := range all {
		in.Must = slices.Contains(chosenFirst, in.Field.Name)
		inputs[in.Field.Name] = in
	}
	for _, q := range sixQuestions {
		x := Question{Says: q.says}
		for _, f := range q.fields {
			x.Inputs = append(x.Inputs, inputs[f])
		}
		page.Questions = append(page.Questions, x)
	}
	status := http.StatusOK
	if len(wrong) > 0 {
		status, page.Problem = http.StatusUnprocessableEntity, refusal(len(wrong))
	}
	return s.render(w, status, "start", page)
}

// lay makes the build, if there is none, and lays the template.
func (s *Site) lay(w http.ResponseWriter, r *http.Request) error {
	if err := r.ParseForm(); err != nil {
		return err
	}
	v := &view{Sheet: s.bareSheet(r, "Start")}
	k := record.KindOf("build")
	typed := typedFields(r, k)
	values, wrong := v.read(k, typed)
	for _, name := range chosenFirst {
		if _, ok := values[name]; !ok && wrong[name] == "" {
			wrong[name] = "Choose one: the template needs it."
		}
	}
	if len(wrong) > 0 {
		return s.askSix(w, r, v, typed, wrong)
	}
	s.making.Lock()
	defer s.making.Unlock()
	f, err := s.made(r)
	if err != nil {
		return err
	}
	rec, err := f.As(r.Context(), s.today(), journal.Now)
	if err != nil {
		return err
	}
	if len(rec.Refs("part")) > 0 {
		return problem{http.StatusConflict, "A template is laid already.", "The start sheet goes on from there; nothing was changed."}
	}
	b := record.Decode[record.Build](buildRef, func(f string) (record.Value, bool) { x, ok := values[f]; return x, ok })
	entries, err := template.Lay(b, func(how record.Grounds) journal.Entry { return s.draft(w, r, f, journal.Always, how) })
	if err != nil {
		return fmt.Errorf("lay the template: %w", err)
	}
	for i, e := range entries { // the build's own answers, over what was said before
		for j, x := range e.Facts {
			entries[i].Facts[j].Over = rec.Over(x.Ref(), x.Field)
		}
	}
	if _, err := f.Accept(r.Context(), entries...); err != nil {
		return err
	}
	http.Redirect(w, r, "/start", http.StatusSeeOther)
	return nil
}

// made returns the folder, and makes it first where there is none.
func (s *Site) made(r *http.Request) (*store.Folder, error) {
	if f := s.folder.Load(); f != nil {
		return f, nil
	}
	f, err := store.Create(r.Context(), s.dir, s.now)
	if err != nil {
		return nil, err
	}
	s.folder.Store(f)
	return f, nil
}
