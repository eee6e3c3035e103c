package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"dogshore/calendar"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
)

// draftPage is the letter before it is sent: every point can be changed, left
// out, or added to.
type draftPage struct {
	Sheet
	To     string
	People []Choice
	On     string // the day it is sent
	Lines  []draftLine
	Annex  int // the number of the first line that stands in the annex, 0 if none
	Text   string
	Wrong  string
}

// draftLine is one numbered point as it is edited.
type draftLine struct {
	Number int
	Text   string
	By     string
	About  Named
	Sent   bool // it stood in an earlier letter, and is not answered
	Out    bool
}

func (s *Site) draftPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Letter")
	if err != nil {
		return err
	}
	return s.showDraft(w, v, letter.Draft(v.rec, v.rev.Visit, v.Today), nil, http.StatusOK, "")
}

func (s *Site) showDraft(w http.ResponseWriter, v *view, l letter.Letter, out map[int]bool, status int, wrong string) error {
	page := &draftPage{Sheet: v.Sheet, People: v.names([]string{"person"}), On: l.Day.String(), Wrong: wrong, Text: l.Text(v.rec)}
	if l.To != "" {
		page.To = v.rec.Name(l.To)
	}
	for _, x := range slices.Concat(l.Lines, l.Annex) {
		page.Lines = append(page.Lines, draftLine{x.Number, x.Text, x.By.String(), v.called(x.About), x.Line != "", out[x.Number]})
	}
	if len(l.Annex) > 0 {
		page.Annex = l.Annex[0].Number
	}
	return s.render(w, status, "draft", page)
}

// send freezes the letter as it stands in the form, or shows it again with
// the changes ("show").
func (s *Site) send(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Letter")
	if err != nil {
		return err
	}
	l, out, wrong := v.edited(r)
	if wrong != "" || r.PostFormValue("do") != "sent" {
		status := http.StatusOK
		if wrong != "" {
			status = http.StatusUnprocessableEntity
		}
		return s.showDraft(w, v, l, out, status, wrong)
	}
	l.Lines = slices.DeleteFunc(slices.Clone(l.Lines), func(x visit.LetterLine) bool { return out[x.Number] })
	l.Annex = slices.DeleteFunc(slices.Clone(l.Annex), func(x visit.LetterLine) bool { return out[x.Number] })
	e := s.draft(w, r, f, l.Day, record.Written)
	e.Origin, e.Visit = "letter sheet", l.Visit
	e.Facts = l.Facts(e.ID, l.Text(v.rec))
	if _, err := f.Accept(r.Context(), e); err != nil {
		return s.showDraft(w, v, l, out, http.StatusUnprocessableEntity, "It was refused: "+err.Error())
	}
	self := record.R("letter", e.ID)
	return wrote(w, r, pathOf(self), self, e.ID)
}

// edited reads the letter as the form has it. Lines are those of the draft,
// with their texts and dates as typed; a new line takes the next number.
func (v *view) edited(r *http.Request) (letter.Letter, map[int]bool, string) {
	l := letter.Draft(v.rec, v.rev.Visit, v.Today)
	out := map[int]bool{}
	wrong := ""
	highest := 0
	each := func(x *visit.LetterLine) {
		n := strconv.Itoa(x.Number)
		highest = max(highest, x.Number)
		if !r.PostForm.Has("text." + n) {
			return
		}
		x.Text = strings.TrimSpace(r.PostFormValue("text." + n))
		out[x.Number] = r.PostFormValue("out."+n) != "" || x.Text == ""
		day, err := calendar.ParseISO(strings.TrimSpace(r.PostFormValue("by." + n)))
		if err != nil {
			wrong = fmt.Sprintf("Point %d: %v.", x.Number, err)
		}
		x.By = day
	}
	l.Lines, l.Annex = slices.Clone(l.Lines), slices.Clone(l.Annex)
	for i := range l.Lines {
		each(&l.Lines[i])
	}
	for i := range l.Annex {
		each(&l.Annex[i])
	}
	if text := strings.TrimSpace(r.PostFormValue("more")); text != "" {
		l.Lines = append(l.Lines, visit.LetterLine{Number: max(highest, v.highestLine()) + 1, Text: text})
	}
	if to, err := v.resolve(record.KindOf("letter").Field("to"), r.PostFormValue("to")); err == nil {
		l.To = to
	} else {
		wrong = first(err.Error()) + "."
	}
	if day, err := calendar.ParseISO(r.PostFormValue("day")); err == nil && day.Known() && day <= v.Today {
		l.Day = day
	} else {
		wrong = "Write the day on which it is sent, as 2027-04-12."
	}
	return l, out, wrong
}

// highestLine is the highest number that any letter used.
func (v *view) highestLine() int {
	n := 0
	for _, x := range journal.All[record.Line](v.rec) {
		n = max(n, int(x.Number.SI))
	}
	return n
}
