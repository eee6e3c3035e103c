package web

import (
	"errors"
	"io"
	"net/http"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/record"
	"dogshore/store"
	"dogshore/workbook"
)

// intakePage takes files and messages in, and lists what was taken in before.
type intakePage struct {
	Sheet
	Batches []store.BatchInfo
	Problem string
	Message string
	Author  string
}

func (s *Site) intakePage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Intake")
	if err != nil {
		return err
	}
	return s.showIntake(w, r, v, "")
}

func (s *Site) showIntake(w http.ResponseWriter, r *http.Request, v *view, says string) error {
	page := &intakePage{Sheet: v.Sheet, Problem: says, Author: author(r)}
	var err error
	if page.Batches, err = v.folder.Batches(r.Context()); err != nil {
		return err
	}
	status := http.StatusOK
	if says != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "intake", page)
}

// readingPage shows what was read out of what was handed in. Nothing of it is
// written yet.
type readingPage struct {
	Sheet
	ID      string
	Files   string
	Reading *intake.Reading
	News    []NewsLine
	Asks    []AskLine
	Kept    []AskLine // what was answered and is not asked any more
	Values  int
	More    int // entries that are read and not listed
	Since   string
	Correct bool
	Problem string
	Author  string
	Changes bool // something differs from what the record says
}

// NewsLine is what one row says.
type NewsLine struct {
	intake.News
	Word  string
	Facts []NewsFact
}

// NewsFact is one value of it.
type NewsFact struct{ Title, Text, Was string }

// AskLine is a question with what was answered so far.
type AskLine struct {
	intake.Ask
	Answer  string
	Written string             // an answer that is none of the readings
	Photos  []intake.PhotoLine // the first of those that it is about
}

// Leaves says that leaving it unanswered is the only way to leave it out.
func (a AskLine) Leaves() bool { return !slices.Contains(a.Readings, "leave it out") }

const mostNews = 300

// handIn takes files or a message and shows what was read.
func (s *Site) handIn(w http.ResponseWriter, r *http.Request) error {
	if _, err := s.writable(r); err != nil {
		return err
	}
	v, err := s.view(r, "Intake")
	if err != nil {
		return err
	}
	h, err := handedIn(r)
	if err != nil {
		return err
	}
	if len(h.files) == 0 {
		return s.showIntake(w, r, v, "Nothing was handed in: choose a file, or paste a message.")
	}
	h.id = s.pending.keep(h)
	return s.showReading(w, r, v, h, "")
}

// readAgain reads once more with what was answered, and writes it if that was
// asked for.
func (s *Site) readAgain(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Intake")
	if err != nil {
		return err
	}
	h, ok := s.pending.find(r.PathValue("id"))
	if !ok {
		return s.showIntake(w, r, v, "That is not kept any more, and nothing of it was written. Hand it in once more.")
	}
	opt, says := s.intakeOptions(r, v)
	if r.PostFormValue("do") != "accept" || says != "" {
		return s.showReading(w, r, v, h, says)
	}
	done, err := intake.Read(h.files, v.rec, opt).Accept(r.Context(), f, v.Today)
	if errors.Is(err, store.ErrRefused) {
		return s.showReading(w, r, v, h, whyRefused(err))
	}
	if err != nil {
		return err
	}
	s.pending.drop(h.id)
	http.Redirect(w, r, "/intake?batch="+query(done.Batch)+"#batches", http.StatusSeeOther)
	return nil
}

// intakeOptions reads the answers that a form gives.
func (s *Site) intakeOptions(r *http.Request, v *view) (intake.Options, string) {
	opt := intake.Options{Today: v.Today, Author: author(r), Answers: map[string]string{}, Correct: r.PostFormValue("since") == "correction"}
	for name, values := range r.PostForm {
		if id, ok := strings.CutPrefix(name, "answer:"); ok && strings.TrimSpace(values[0]) != "" {
			opt.Answers[id] = strings.TrimSpace(values[0])
		}
	}
	for name, values := range r.PostForm { // in own words, where no reading is chosen
		if id, ok := strings.CutPrefix(name, "written:"); ok && strings.TrimSpace(values[0]) != "" && opt.Answers[id] == "" {
			opt.Answers[id] = strings.TrimSpace(values[0])
		}
	}
	if r.PostFormValue("since") == "day" {
		d, err := calendar.ParseISO(r.PostFormValue("since-day"))
		if err != nil || !d.Known() || d > v.Today {
			return opt, "Write the day from which the changed values hold, as 2027-04-12; it can't lie ahead."
		}
		opt.Since = d
	}
	return opt, ""
}

func (s *Site) showReading(w http.ResponseWriter, r *http.Request, v *view, h handed, says string) error {
	opt, _ := s.intakeOptions(r, v)
	reading := intake.Read(h.files, v.rec, opt)
	page := &readingPage{Sheet: v.Sheet, ID: h.id, Files: strings.Join(h.names, ", "), Reading: reading, Problem: says,
		Since: r.PostFormValue("since-day"), Correct: opt.Correct, Author: author(r)}
	if page.Since == "" {
		page.Since = v.Today.String()
	}
	for _, n := range reading.Reads {
		line := NewsLine{News: n, Word: "adds to"}
		if n.New {
			line.Word = "new"
		}
		for _, f := range n.Facts {
			page.Values++
			if f.Was != "" {
				line.Word, page.Changes = "changes", true
			}
			text := f.Field.Format(f.Value)
			line.Facts = append(line.Facts, NewsFact{f.Field.Title, text, f.Was})
		}
		if len(page.News) < mostNews {
			page.News = append(page.News, line)
		} else {
			page.More++
		}
	}
	for _, a := range reading.Asks {
		line := AskLine{Ask: a, Answer: opt.Answers[a.ID]}
		if !slices.Contains(a.Readings, line.Answer) {
			line.Written = line.Answer
		}
		page.Asks = append(page.Asks, line)
		page.Changes = page.Changes || strings.Contains(a.Question, "when")
	}
	page.keep(opt.Answers)
	status := http.StatusOK
	if says != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "reading", page)
}

// keep carries on what was answered before and is not asked any more, so that
// the next reading knows it.
func (p *readingPage) keep(answers map[string]string) {
	for id, a := range answers {
		if !slices.ContainsFunc(p.Asks, func(x AskLine) bool { return x.ID == id }) {
			p.Kept = append(p.Kept, AskLine{Ask: intake.Ask{ID: id}, Answer: a})
		}
	}
	slices.SortFunc(p.Kept, func(a, b AskLine) int { return strings.Compare(a.ID, b.ID) })
}

// undo strikes everything that one intake wrote; undoing that brings it back.
func (s *Site) undo(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	done, err := intake.Undo(r.Context(), f, r.PathValue("batch"), author(r), s.today())
	if errors.Is(err, intake.ErrNoBatch) {
		return notFound("There is no intake “%s”.", r.PathValue("batch"))
	}
	if err != nil {
		return err
	}
	http.Redirect(w, r, "/intake?batch="+query(done.Batch)+"#batches", http.StatusSeeOther)
	return nil
}

// workbookFile is the whole build as a workbook, a sheet for each kind.
func (s *Site) workbookFile(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Workbook")
	if err != nil {
		return err
	}
	return book(w, record.Slug(v.Build)+"-"+v.Day.String()+".xlsx", func(out io.Writer) error { return workbook.Write(out, v.rec) })
}
