package web

import (
	"net/http"
	"slices"
	"strconv"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
	"dogshore/store"
)

// letterPage is a letter as it was sent, with what was answered.
type letterPage struct {
	Sheet
	Self   Named
	Letter record.Letter
	To     Named
	Lines  []sentLine
	People []Choice
	Read   []readAnswer // what was understood of a pasted answer, to be confirmed
	Rest   string
	Pasted string
	By     string
	On     string
	Wrong  string
	Paper  string // where the printed sheet is, as it was sent
}

// Open lists the points without an answer, to be answered one by one.
func (p *letterPage) Open() []sentLine {
	return slices.DeleteFunc(slices.Clone(p.Lines), func(x sentLine) bool { return len(x.Answers) > 0 })
}

// sentLine is one numbered point with its answers.
type sentLine struct {
	record.Line
	Number  int
	About   Named
	Answers []answered
}

type answered struct {
	record.Answer
	By    Named
	Entry string
}

// readAnswer is one answer as it was understood.
type readAnswer struct {
	Number int
	Asked  string
	Text   string
}

func (s *Site) letterPage(w http.ResponseWriter, r *http.Request) error {
	v, self, err := s.letterView(r)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "letter", v.letterSheet(self))
}

func (s *Site) letterView(r *http.Request) (*view, record.Ref, error) {
	self := record.R("letter", r.PathValue("key"))
	v, err := s.view(r, "Letter")
	if err != nil {
		return nil, "", err
	}
	_, err = v.known(self)
	return v, self, err
}

func (v *view) letterSheet(self record.Ref) *letterPage {
	l, _ := journal.Get[record.Letter](v.rec, self)
	page := &letterPage{Self: v.Ref(self), Letter: l, To: v.Ref(l.To), People: v.names([]string{"person"}), On: v.Today.String()}
	if l.To != "" {
		page.By = v.rec.Name(l.To)
	}
	if l.Sheet.Known() {
		page.Paper = filePath(l.Sheet)
	}
	page.Self.Name = "Letter of " + l.Day.Said()
	v.Name = page.Self.Name
	page.Sheet = v.Sheet
	page.Lines = v.sentLines(self)
	return page
}

func (v *view) sentLines(self record.Ref) []sentLine {
	answers := map[record.Ref][]answered{}
	for _, a := range journal.All[record.Answer](v.rec) {
		answers[a.To] = append(answers[a.To], answered{a, v.Ref(a.By), v.rec.From(a.Self).ID})
	}
	var out []sentLine
	for _, x := range journal.All[record.Line](v.rec) {
		if x.Letter == self {
			out = append(out, sentLine{x, int(x.Number.SI), v.called(x.About), answers[x.Self]})
		}
	}
	slices.SortFunc(out, func(a, b sentLine) int { return a.Number - b.Number })
	return out
}

// answers reads a pasted answer and shows what was understood; confirmed, it
// writes each answer against its line.
func (s *Site) answers(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, self, err := s.letterView(r)
	if err != nil {
		return err
	}
	page := v.letterSheet(self)
	page.By, page.On, page.Pasted = r.PostFormValue("by"), r.PostFormValue("on"), r.PostFormValue("pasted")
	by, err := v.resolve(record.KindOf("answer").Field("by"), page.By)
	if err != nil {
		page.Wrong = desk.Capital(err.Error()) + "."
	}
	day, err := calendar.ParseISO(page.On)
	if err != nil || !day.Known() || day > v.Today {
		page.Wrong = "Write the day on which they answered, as 2027-04-12."
	}
	if page.Wrong == "" && r.PostFormValue("do") == "write" {
		return s.writeAnswers(w, r, f, v, page, by, day)
	}
	if page.Read = page.typed(r); page.Read == nil || r.PostFormValue("do") != "write" {
		page.understand()
	}
	status := http.StatusOK
	if page.Wrong != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "letter", page)
}

// typed are the answers as the form has them, point by point: what is refused
// comes back as it was typed.
func (page *letterPage) typed(r *http.Request) []readAnswer {
	var out []readAnswer
	for _, x := range page.Lines {
		if text := strings.TrimSpace(r.PostFormValue("answer." + strconv.Itoa(x.Number))); text != "" {
			out = append(out, readAnswer{x.Number, x.Text, text})
		}
	}
	return out
}

func (page *letterPage) understand() {
	var open []int
	asked := map[int]string{}
	for _, x := range page.Lines {
		open = append(open, x.Number)
		asked[x.Number] = x.Text
	}
	var read []letter.Answered
	read, page.Rest = letter.Answers(page.Pasted, open)
	for _, a := range read {
		page.Read = append(page.Read, readAnswer{a.Number, asked[a.Number], a.Text})
	}
	if len(read) == 0 && page.Wrong == "" {
		page.Wrong = "No numbered answer was found in it. Write the number before each answer, as “2 yes, 4 Thursday”."
	}
}

func (s *Site) writeAnswers(w http.ResponseWriter, r *http.Request, f *store.Folder, v *view, page *letterPage, by record.Ref, day calendar.Day) error {
	var all []journal.Entry
	page.Read = page.typed(r)
	for _, x := range page.Lines {
		text := strings.TrimSpace(r.PostFormValue("answer." + strconv.Itoa(x.Number)))
		if text == "" {
			continue
		}
		e := s.draft(w, r, v.folder, day, record.Written)
		e.Origin = "answers to the " + page.Self.Name
		e.Facts = journal.Facts(record.R("answer", e.ID), record.Values(record.Answer{To: x.Self, Text: text, By: by, Day: day}))
		all = append(all, e)
	}
	if len(all) == 0 {
		page.Wrong = "Nothing is written yet: every answer is empty."
		return s.render(w, http.StatusUnprocessableEntity, "letter", page)
	}
	if _, err := f.Accept(r.Context(), all...); err != nil {
		page.Wrong = whyRefused(err)
		return s.render(w, http.StatusUnprocessableEntity, "letter", page)
	}
	return wrote(w, r, page.Self.Href, page.Self.Ref, all[0].ID)
}
