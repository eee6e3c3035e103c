package web

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
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
	Annex  int    // the number of the first line that stands in the annex, 0 if none
	More   string // one more point, as it was typed
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
	return s.showDraft(w, v, drafted{Letter: letter.Draft(v.rec, v.rev.Visit, v.Today)}, http.StatusOK, "")
}

func (s *Site) showDraft(w http.ResponseWriter, v *view, d drafted, status int, wrong string) error {
	page := &draftPage{Sheet: v.Sheet, People: v.names([]string{"person"}), On: d.Day.String(), More: d.more, Wrong: wrong, Text: d.whole(v).Text(v.rec)}
	if d.To != "" {
		page.To = v.rec.Name(d.To)
	}
	for _, x := range slices.Concat(d.Lines, d.Annex) {
		page.Lines = append(page.Lines, draftLine{x.Number, x.Text, x.By.String(), v.called(x.About), x.Line != "", d.out[x.Number]})
	}
	if len(d.Annex) > 0 {
		page.Annex = d.Annex[0].Number
	}
	return s.render(w, status, "draft", page)
}

// drafted is a draft as the form has it: the lines that the desk drafted with
// their texts and days as typed, which of them are left out, and one more.
type drafted struct {
	letter.Letter
	out  map[int]bool
	more string
}

// whole is the letter that the draft makes: without what is left out, and with
// the point that was added, under the next number.
func (d drafted) whole(v *view) letter.Letter {
	l := d.Letter
	left := func(x visit.LetterLine) bool { return d.out[x.Number] }
	l.Lines, l.Annex = slices.DeleteFunc(slices.Clone(d.Lines), left), slices.DeleteFunc(slices.Clone(d.Annex), left)
	if d.more != "" {
		n := v.highestLine()
		for _, x := range slices.Concat(d.Lines, d.Annex) {
			n = max(n, x.Number)
		}
		l.Lines = append(l.Lines, visit.LetterLine{Number: n + 1, Text: d.more})
	}
	return l
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
	d, wrong := v.edited(r)
	if wrong != "" {
		return s.showDraft(w, v, d, http.StatusUnprocessableEntity, wrong)
	}
	if r.PostFormValue("do") != "sent" {
		return s.showDraft(w, v, d, http.StatusOK, "")
	}
	l := d.whole(v)
	if len(l.Lines)+len(l.Annex) == 0 {
		return s.showDraft(w, v, d, http.StatusUnprocessableEntity, "Every point is left out: there is nothing to send.")
	}
	e := s.draft(w, r, f, l.Day, record.Written)
	e.Origin, e.Visit = "letter sheet", l.Visit
	e.Facts = l.Facts(e.ID, l.Text(v.rec))
	if _, err := f.Accept(r.Context(), e); err != nil {
		return s.showDraft(w, v, d, http.StatusUnprocessableEntity, whyRefused(err))
	}
	self := record.R("letter", e.ID)
	return wrote(w, r, pathOf(self), self, e.ID)
}

// edited reads the draft as the form has it, and says what is wrong with it.
func (v *view) edited(r *http.Request) (d drafted, wrong string) {
	d = drafted{letter.Draft(v.rec, v.rev.Visit, v.Today), map[int]bool{}, strings.TrimSpace(r.PostFormValue("more"))}
	d.Lines, d.Annex = slices.Clone(d.Lines), slices.Clone(d.Annex)
	for _, lines := range [][]visit.LetterLine{d.Lines, d.Annex} {
		for i := range lines {
			x, n := &lines[i], strconv.Itoa(lines[i].Number)
			if !r.PostForm.Has("text." + n) {
				continue
			}
			x.Text = strings.TrimSpace(r.PostFormValue("text." + n))
			d.out[x.Number] = r.PostFormValue("out."+n) != "" || x.Text == ""
			day, err := calendar.ParseISO(strings.TrimSpace(r.PostFormValue("by." + n)))
			if err != nil {
				wrong = fmt.Sprintf("Point %d: %v.", x.Number, err)
			}
			x.By = day
		}
	}
	to, err := v.resolve(record.KindOf("letter").Field("to"), r.PostFormValue("to"))
	if err != nil {
		wrong = desk.Capital(err.Error()) + "."
	}
	d.To = to
	day, err := calendar.ParseISO(r.PostFormValue("day"))
	if err != nil || !day.Known() || day > v.Today {
		return d, "Write the day on which it is sent, as 2027-04-12."
	}
	d.Day = day
	return d, wrong
}

// highestLine is the highest number that any letter used.
func (v *view) highestLine() int {
	n := 0
	for _, x := range journal.All[record.Line](v.rec) {
		n = max(n, int(x.Number.SI))
	}
	return n
}
