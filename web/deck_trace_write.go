package web

import (
	"errors"
	"fmt"
	"net/http"
	"net/url"
	"path"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
	"dogshore/store"
)

// handInTracing keeps a picture to trace over.
func (s *Site) handInTracing(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Tracing")
	if err != nil {
		return err
	}
	name := strings.TrimSpace(r.PostFormValue("name"))
	file, says, err := s.takePicture(r)
	switch {
	case err != nil:
		return err
	case says != "":
		return s.showTraces(w, r, v, name, says)
	}
	if name == "" {
		name = strings.TrimSuffix(file.Name, path.Ext(file.Name))
	}
	k := record.KindFor[record.Tracing]()
	values := record.Values(record.Tracing{Name: name, File: file})
	e := s.draft(w, r, f, journal.Always, record.Written)
	e.Origin = "page of tracings"
	self := record.R(k.Name, v.newKey(k, values, e.ID))
	e.Facts = journal.Facts(self, values)
	if _, err := f.Accept(r.Context(), e); err != nil {
		return s.showTraces(w, r, v, name, whyRefused(err))
	}
	return wrote(w, r, "/deck/trace/"+url.PathEscape(self.Key()), self, e.ID)
}

// takePicture keeps the picture that a form brings, if it is one to trace over;
// says is why it is not.
func (s *Site) takePicture(r *http.Request) (file record.File, says string, err error) {
	if r.MultipartForm == nil || len(r.MultipartForm.File["file"]) == 0 || r.MultipartForm.File["file"][0].Size == 0 {
		return file, "Nothing was handed in: choose a picture.", nil
	}
	sent := r.MultipartForm.File["file"][0]
	in, err := sent.Open()
	if err != nil {
		return file, "", fmt.Errorf("read the picture that was sent: %w", err)
	}
	defer func() { err = errors.Join(err, in.Close()) }()
	p, perr := picture.Read(in, sent.Size)
	switch {
	case perr != nil:
		return file, desk.Capital(perr.Error()) + ". A plan in PDF or DXF goes otherwise: save its page as a picture, or take the DXF in on the intake page.", nil
	case p.Format != picture.JPEG && p.Format != picture.PNG:
		return file, "A " + p.Format.String() + " can't be traced over: save it as JPEG or PNG.", nil
	}
	file, perr = s.folder.Load().Put(r.Context(), path.Base(strings.ReplaceAll(sent.Filename, "\\", "/")), in, longestFile)
	if perr != nil {
		return file, desk.Capital(perr.Error()) + ".", nil
	}
	return file, "", nil
}

// scaleFields are the fields that the form of the known points has.
var scaleFields = []string{"a", "a_left", "a_down", "b", "b_left", "b_down", "off"}

// scaleTrace writes the two known points, and how far a traced point may be
// off: as typed, else as reckoned.
func (s *Site) scaleTrace(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, x, err := s.tracing(r)
	if err != nil {
		return err
	}
	k := record.KindFor[record.Tracing]()
	values, says := v.typedScale(r)
	after := v.scaled(x, values)
	m, ok := scaleOf(after)
	if says == "" && !ok {
		says = "Two points are needed that lie apart, each with its place on the boat and its mark on the picture."
	}
	if says != "" {
		return s.badScale(w, r, v, x, says)
	}
	pic := s.pictureToTrace(v, x)
	if _, typed := values["off"]; !typed {
		off, _ := readingOff(after, m, pic, readingPx(r, pic))
		if values["off"], err = k.Field("off").Parse("ca. "+length(off), v.Today); err != nil {
			return err
		}
	}
	facts := v.scaleFacts(r, x.Self, values)
	to := "/deck/trace/" + url.PathEscape(x.Self.Key())
	if q := thirdIn(r); q != "" {
		to += "?" + q
	}
	if len(facts) == 0 {
		http.Redirect(w, r, to+"#scale", http.StatusSeeOther)
		return nil
	}
	last, err := s.writeTrace(w, r, f, facts, v.correcting(x.Self), record.Written, "page of tracings")
	if errors.Is(err, store.ErrRefused) {
		return s.badScale(w, r, v, x, whyRefused(err))
	}
	if err != nil {
		return err
	}
	return wrote(w, r, to+"#scale", x.Self, last)
}

// scaleFacts are the values that differ from the record's.
func (v *view) scaleFacts(r *http.Request, self record.Ref, values map[string]record.Value) []journal.Fact {
	var facts []journal.Fact
	for _, name := range scaleFields {
		value, said := values[name]
		if cur, holds := v.rec.Held(self, name); said && !(holds && record.KindOf(self.Kind()).Field(name).Same(cur.Value, value)) {
			facts = append(facts, journal.Fact{Kind: self.Kind(), Key: self.Key(), Field: name, Value: value, Over: r.PostFormValue("over." + name)})
		}
	}
	return facts
}

// typedScale reads the form of the known points; says is what is wrong.
func (v *view) typedScale(r *http.Request) (values map[string]record.Value, says string) {
	k := record.KindFor[record.Tracing]()
	values = map[string]record.Value{}
	for _, name := range scaleFields {
		f := k.Field(name)
		value, err := v.parse(f, r.PostFormValue(name))
		switch {
		case err != nil && says == "":
			says = desk.Capital(f.Title) + ": " + reason(f, err)
		case err == nil && value != record.Clear:
			values[name] = value
		}
	}
	return values, says
}

// thirdIn carries the third point on, which is not kept.
func thirdIn(r *http.Request) string {
	q := url.Values{}
	for _, name := range []string{"c", "c_left", "c_down", "reading"} {
		if text := strings.TrimSpace(r.PostFormValue(name)); text != "" {
			q.Set(name, text)
		}
	}
	return q.Encode()
}

// scaled is x with the values that were typed over those on record.
func (v *view) scaled(x record.Tracing, values map[string]record.Value) record.Tracing {
	return record.Decode[record.Tracing](x.Self, func(field string) (record.Value, bool) {
		if value, ok := values[field]; ok {
			return value, true
		}
		h, ok := v.rec.Held(x.Self, field)
		return h.Value, ok
	})
}

// badScale shows the page again with what was typed, and what is wrong.
func (s *Site) badScale(w http.ResponseWriter, r *http.Request, v *view, x record.Tracing, says string) error {
	k, _, err := v.traced(r)
	if err != nil {
		return err
	}
	return s.showTrace(w, r, v, x, k, "", map[string]string{}, nil, says)
}

// writeTrace writes facts of a subject that is on record, each with the since
// of what it corrects.
func (s *Site) writeTrace(w http.ResponseWriter, r *http.Request, f *store.Folder, facts []journal.Fact, since func(journal.Fact) calendar.Day, how record.Grounds, origin string) (last string, err error) {
	var entries []journal.Entry
	for _, group := range bySince(facts, since) {
		e := s.draft(w, r, f, group.since, how)
		e.Origin, e.Facts = origin, group.facts
		entries = append(entries, e)
	}
	if _, err := f.Accept(r.Context(), entries...); err != nil {
		return "", err
	}
	return entries[len(entries)-1].ID, nil
}

// tracedOver says where a traced outline comes from, and how far off it may be.
func tracedOver(x record.Tracing) string {
	if x.Off.Known {
		return "traced over " + x.Name + ", within " + x.Off.Text()
	}
	return "traced over " + x.Name
}

// traceOutline writes an outline that was drawn or typed: a new subject, or
// what was changed of one.
func (s *Site) traceOutline(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, x, err := s.tracing(r)
	if err != nil {
		return err
	}
	k, edit, err := v.traced(r)
	if err != nil {
		return err
	}
	typed := typedFields(r, k)
	values, wrong := v.read(k, typed)
	since, how := s.holds(r, journal.Always, wrong), groundsOr(r, record.Written)
	again := func(says string) error { return s.showTrace(w, r, v, x, k, edit, typed, wrong, says) }
	if len(wrong) > 0 {
		return again(refusal(len(wrong)))
	}
	self, facts, of := edit, changes(r, k, typed, values), v.correcting(edit)
	switch {
	case edit == "":
		e := f.Draft(author(r), since, how)
		self = record.R(k.Name, v.newKey(k, values, e.ID))
		facts, of = journal.Facts(self, values), func(journal.Fact) calendar.Day { return since }
	case r.PostFormValue("holds") == "change":
		of = func(journal.Fact) calendar.Day { return since }
	}
	if len(facts) == 0 {
		return again("Nothing was changed, so nothing is written.")
	}
	for i := range facts {
		facts[i].Kind, facts[i].Key = self.Kind(), self.Key()
	}
	last, err := s.writeTrace(w, r, f, facts, of, how, tracedOver(x))
	if errors.Is(err, store.ErrRefused) {
		return again(whyRefused(err))
	}
	if err != nil {
		return err
	}
	return wrote(w, r, "/deck/trace/"+url.PathEscape(x.Self.Key())+"?kind="+k.Name+"#outline", self, last)
}
