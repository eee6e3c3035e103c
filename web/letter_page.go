package web

import (
	"bytes"
	"cmp"
	"context"
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
	Lacks  string // letters that the printed sheet can't carry
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
	Shots  []pointedShot
}

func (s *Site) draftPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Letter")
	if err != nil {
		return err
	}
	return s.showDraft(w, v, drafted{Letter: letter.Draft(v.rec, v.rev.Visit, v.Today)}, http.StatusOK, "")
}

func (s *Site) showDraft(w http.ResponseWriter, v *view, d drafted, status int, wrong string) error {
	whole := d.whole(v)
	lacks, err := whole.Lacks(v.rec)
	if err != nil {
		return err
	}
	page := &draftPage{Sheet: v.Sheet, Lacks: lacks, People: v.names([]string{"person"}), On: cmp.Or(d.typed["day"], d.Day.String()), More: d.more, Wrong: wrong, Text: whole.Text(v.rec)}
	if d.To != "" {
		page.To = v.rec.Name(d.To)
	}
	all := slices.Concat(d.Lines, d.Annex)
	photos := letter.Photos(v.rec, all)
	for i, x := range all {
		by := cmp.Or(d.typed["by."+strconv.Itoa(x.Number)], x.By.String())
		page.Lines = append(page.Lines, draftLine{x.Number, x.Text, by, v.called(x.About), x.Line != "", d.out[x.Number], v.pointedShots(x.Number, photos[i])})
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
	out   map[int]bool
	more  string
	typed map[string]string // days that could not be read, as they were typed
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

// send freezes the letter as it stands in the form, as text and as a printed
// sheet; or shows it again with the changes ("show"), or on paper ("paper").
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
	l := d.whole(v)
	do := r.PostFormValue("do")
	if do != "sent" && do != "paper" {
		return s.showDraft(w, v, d, http.StatusOK, "")
	}
	if len(l.Lines)+len(l.Annex) == 0 {
		return s.showDraft(w, v, d, http.StatusUnprocessableEntity, "Every point is left out: there is nothing to send.")
	}
	pdf, _, err := l.PDF(v.rec, v.screens(r.Context()))
	if err != nil {
		return err
	}
	if do == "paper" {
		return sendPDF(w, l.FileName(), pdf)
	}
	sheet, err := f.Put(r.Context(), l.FileName(), bytes.NewReader(pdf), longestFile)
	if err != nil {
		return err
	}
	e := s.draft(w, r, f, l.Day, record.Written)
	e.Origin, e.Visit = "letter sheet", l.Visit
	e.Facts = l.Facts(e.ID, l.Text(v.rec), sheet)
	if _, err := f.Accept(r.Context(), e); err != nil {
		return s.showDraft(w, v, d, http.StatusUnprocessableEntity, whyRefused(err))
	}
	self := record.R("letter", e.ID)
	return wrote(w, r, pathOf(self), self, e.ID)
}

// draftPaper is the draft on paper, as the desk drafted it.
func (s *Site) draftPaper(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Letter")
	if err != nil {
		return err
	}
	l := letter.Draft(v.rec, v.rev.Visit, v.Today)
	if len(l.Lines) == 0 {
		return notFound("There is no letter to draft yet: no visit noted anything.")
	}
	pdf, _, err := l.PDF(v.rec, v.screens(r.Context()))
	if err != nil {
		return err
	}
	return sendPDF(w, l.FileName(), pdf)
}

// screens finds pictures at the size of a screen.
func (v *view) screens(ctx context.Context) func(record.File) ([]byte, error) {
	return func(file record.File) ([]byte, error) { return Screen(ctx, v.folder, file) }
}

// edited reads the draft as the form has it, and says what is wrong with it.
func (v *view) edited(r *http.Request) (d drafted, wrong string) {
	d = drafted{letter.Draft(v.rec, v.rev.Visit, v.Today), map[int]bool{}, strings.TrimSpace(r.PostFormValue("more")), map[string]string{}}
	d.Lines, d.Annex = slices.Clone(d.Lines), slices.Clone(d.Annex)
	for _, lines := range [][]visit.LetterLine{d.Lines, d.Annex} {
		for i := range lines {
			x, n := &lines[i], strconv.Itoa(lines[i].Number)
			if !r.PostForm.Has("text." + n) {
				continue
			}
			x.Text = strings.TrimSpace(r.PostFormValue("text." + n))
			d.out[x.Number] = r.PostFormValue("out."+n) != "" || x.Text == ""
			text := strings.TrimSpace(r.PostFormValue("by." + n))
			day, err := calendar.ParseISO(text)
			if err != nil {
				d.typed["by."+n] = text
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
		d.typed["day"] = r.PostFormValue("day")
		return d, "Write the day on which it is sent, as 2027-04-12; it can't lie ahead."
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
