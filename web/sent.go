package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"time"

	"github.com/google/uuid"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

// mostSent bounds how many things a phone sends at once; their length is
// bounded as a form's is.
const mostSent = 200

// sentBatch is what a phone kept while it had no connection, in the order in
// which it was noted.
type sentBatch struct {
	Things []sentThing `json:"things"`
}

// sentThing is one thing noted on a phone. Its id was made there and becomes
// that of its entry, so that what is sent twice is written once.
type sentThing struct {
	ID      string            `json:"id"`
	Kind    string            `json:"kind"`
	Who     string            `json:"who"`     // who was signed in when it was noted
	Wall    time.Time         `json:"wall"`    // the phone's clock: kept, never compared
	Fields  map[string]string `json:"fields"`  // as they would be typed into the form
	Over    map[string]string `json:"over"`    // by field: the entries whose values the phone showed
	Strikes string            `json:"strikes"` // of kind "entry": the entry that was a mistake
}

// sentAnswer says what became of each thing.
type sentAnswer struct {
	Things []sentState `json:"things"`
	Last   int64       `json:"last"` // the arrival of the newest entry
}

// sentState is what became of one thing: "written", "there" (it was written
// before) or "refused", and why.
type sentState struct {
	ID    string `json:"id"`
	State string `json:"state"`
	Why   string `json:"why,omitempty"`
}

// sent takes what a phone kept, thing by thing: what is refused keeps nothing
// else back, and stays on the phone to be mended.
func (s *Site) sent(w http.ResponseWriter, r *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return errNoBuild
	}
	if !strings.HasPrefix(r.Header.Get("Content-Type"), "application/json") {
		return problem{http.StatusUnsupportedMediaType, "A phone sends what it kept as JSON.", "Nothing was written."}
	}
	var batch sentBatch
	if err := json.NewDecoder(r.Body).Decode(&batch); err != nil {
		var long *http.MaxBytesError
		if errors.As(err, &long) {
			return err
		}
		return refused("What was sent can't be read: "+err.Error()+".", "Nothing was written. It is still on the phone.")
	}
	if len(batch.Things) > mostSent {
		return refused(fmt.Sprintf("%d things are more than the %d that are taken at once.", len(batch.Things), mostSent), "Nothing was written. Send them in parts.")
	}
	d := s.draft(w, r, f, s.today(), record.Written) // only for who writes
	in := &taking{s: s, f: f, r: r, author: d.Author, self: record.R("visit", r.PathValue("key"))}
	answer := sentAnswer{Things: []sentState{}}
	for _, x := range batch.Things {
		state, err := in.take(r.Context(), x)
		if err != nil {
			return err
		}
		answer.Things = append(answer.Things, state)
	}
	var err error
	if answer.Last, err = f.Last(r.Context()); err != nil {
		return err
	}
	return answerJSON(w, answer)
}

// answerJSON answers a script of ours.
func answerJSON(w http.ResponseWriter, x any) error {
	w.Header().Set("Content-Type", "application/json; charset=utf-8")
	return json.NewEncoder(w).Encode(x)
}

// taking takes one batch in.
type taking struct {
	s      *Site
	f      *store.Folder
	r      *http.Request // who sends it, and so what they may write
	author string
	self   record.Ref // the visit
}

// take writes one thing, unless it is there or something is wrong with it.
func (in *taking) take(ctx context.Context, x sentThing) (sentState, error) {
	state := sentState{ID: x.ID, State: "refused"}
	if id, err := uuid.Parse(x.ID); err != nil || id.String() != x.ID {
		state.Why = fmt.Sprintf("“%.60s” is no id of a thing that a phone kept.", x.ID)
		return state, nil
	}
	was, err := in.f.Entry(ctx, x.ID)
	if err != nil {
		return state, err
	}
	e, why, err := in.entry(ctx, x)
	switch {
	case err != nil:
		return state, err
	case was != nil && (why != "" || sameSaid(was.Facts, e.Facts)): // what names it may be called otherwise by now
		state.State = "there"
		return state, nil
	case was != nil:
		state.Why = "Something else is written under its id already; note it anew."
		return state, nil
	case why != "":
		state.Why = why
		return state, nil
	}
	n, err := in.f.Accept(ctx, e)
	switch {
	case errors.Is(err, store.ErrRefused):
		state.Why = whyRefused(err)
	case err != nil:
		return state, err
	case n == 0: // another request brought it in between
		state.State = "there"
	default:
		state.State = "written"
	}
	return state, nil
}

// sameSaid reports whether two sets of facts give the same values.
func sameSaid(a, b []journal.Fact) bool {
	said := map[journal.Fact]bool{}
	for _, f := range a {
		f.Over = ""
		said[f] = true
	}
	for _, f := range b {
		f.Over = ""
		if k := record.KindOf(f.Kind); k != nil && k.Field(f.Field) != nil {
			if v, err := k.Field(f.Field).Check(f.Value); err == nil {
				f.Value = v
			}
		}
		if !said[f] {
			return false
		}
	}
	return len(a) == len(b)
}

// entry makes the entry of a thing, or says why it can't be one.
func (in *taking) entry(ctx context.Context, x sentThing) (e journal.Entry, why string, err error) {
	v := &view{Sheet: Sheet{Today: in.s.today(), Day: in.s.today()}, folder: in.f}
	if v.rec, err = in.f.As(ctx, v.Day, journal.Now); err != nil {
		return e, "", err
	}
	v.record = v.rec
	if x.Kind == "visit" {
		return in.begun(v, x)
	}
	at, ok := journal.Get[record.Visit](v.rec, in.self)
	if !ok {
		return e, "The visit that it belongs to is not in the record; it may have been struck.", nil
	}
	if x.Kind == journal.EntryKind {
		return in.strike(ctx, x, at)
	}
	k := record.KindOf(x.Kind)
	if k == nil || quick[k.Name] == nil {
		return e, fmt.Sprintf("A visit has no form for “%.60s”.", x.Kind), nil
	}
	if !mayNote(in.r, k.Name) {
		return e, "That is for the owner to write.", nil
	}
	typed := map[string]string{}
	for _, name := range quick[k.Name] {
		typed[name] = x.Fields[name]
	}
	t, err := v.thing(at, k, typed, x.ID)
	if err != nil {
		return e, "", err
	}
	if t.named(typed) {
		delete(t.wrong, "name")
	}
	if why := in.unsent(t); why != "" {
		t.wrong["file"] = why
	}
	if len(t.wrong) > 0 {
		return e, whyNot(k, t.wrong), nil
	}
	e = in.draft(x, at.Day, t.grounds)
	e.Facts = journal.Facts(t.subject, t.values)
	for i, fact := range e.Facts {
		e.Facts[i].Over = x.Over[fact.Field]
	}
	return e, "", nil
}

// unsent says that the bytes of a thing's file are not here.
func (in *taking) unsent(t thing) string {
	var file record.File
	if json.Unmarshal([]byte(t.values["file"]), &file) != nil || !file.Known() {
		return ""
	}
	r, err := in.f.File(file)
	if err != nil {
		return "The picture itself has not come yet."
	}
	_ = r.Close() // only opened
	return ""
}

// draft begins the entry of a thing. The stamp is given here, on arrival: the
// phone's clock orders nothing but what the phone itself noted, which it sends
// in that order.
func (in *taking) draft(x sentThing, since calendar.Day, how record.Grounds) journal.Entry {
	e := in.f.Draft(in.author, since, how)
	e.ID, e.Visit = x.ID, in.self
	if y := x.Wall.Year(); y >= 1970 && y < 2200 { // a clock may be set to anything
		e.Wall = x.Wall
	}
	e.Origin = "phone, at the visit of " + since.Said()
	if v := visitorOf(in.r); v != nil && x.Who != "" && x.Who != v.Who { // somebody else signed in since, and sends it
		e.Origin += fmt.Sprintf(", noted there as “%.80s”", strings.ToValidUTF8(x.Who, ""))
	}
	return e
}

// begun makes the entry of a visit that was begun without a connection.
func (in *taking) begun(v *view, x sentThing) (e journal.Entry, why string, err error) {
	if x.ID != in.self.Key() {
		return e, "A visit begun on a phone is sent under its own id.", nil
	}
	day, err := calendar.ParseISO(strings.TrimSpace(x.Fields["day"]))
	if err != nil || !day.Known() || day > v.Today {
		return e, "Write the day of the visit, as 2027-04-12; it can't lie ahead.", nil
	}
	by := x.Fields["by"]
	values := record.Values(record.Visit{Day: day, By: by})
	e = in.draft(x, day, journal.Grounds(record.KindOf("visit"), by))
	e.Facts = journal.Facts(in.self, values)
	return e, "", nil
}

// strike makes the entry that takes back what the same visit noted.
func (in *taking) strike(ctx context.Context, x sentThing, at record.Visit) (e journal.Entry, why string, err error) {
	was, err := in.f.Entry(ctx, x.Strikes)
	if err != nil {
		return e, "", err
	}
	if was == nil || was.Visit != in.self {
		return e, "What is to be taken back was not noted at this visit.", nil
	}
	if !mayStrike(in.r, *was) {
		return e, "Only what one noted oneself can be taken back here; the owner can strike the rest.", nil
	}
	e = in.draft(x, at.Day, record.Told)
	e.Facts = []journal.Fact{journal.Strike(was.ID)}
	return e, "", nil
}
