package web

import (
	"bytes"
	"io"
	"net/http"

	"dogshore/drawing"
	"dogshore/internal/draw"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/workbook"
)

// keyPage is the picture key: what one sees at each stage, what not to touch,
// what usually comes next.
type keyPage struct {
	Sheet
	Stages []Pictured
}

func (s *Site) keyPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Picture key")
	if err != nil {
		return err
	}
	page := &keyPage{Sheet: v.Sheet}
	for _, st := range record.Stages {
		page.Stages = append(page.Stages, Pictured{st, drawing.Key(st.Slug).SVG()})
	}
	return s.render(w, http.StatusOK, "key", page)
}

// keyPaper is the picture key for paper.
func (s *Site) keyPaper(w http.ResponseWriter, _ *http.Request) error {
	return paper(w, "picture-key.pdf", "Picture key of stages", drawing.KeySheets())
}

// startPaper is the start sheet of this build for paper.
func (s *Site) startPaper(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Start sheet")
	if err != nil {
		return err
	}
	b, _ := journal.Get[record.Build](v.rec, buildRef)
	return paper(w, "start-sheet.pdf", "Start sheet: "+b.Name, drawing.StartSheet(b, journal.All[record.Part](v.rec), journal.All[record.Step](v.rec)))
}

// startBook is the start sheet as a workbook, to be filled in and brought back.
func (s *Site) startBook(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Start sheet")
	if err != nil {
		return err
	}
	return book(w, "start-sheet.xlsx", func(out io.Writer) error { return workbook.StartSheet(out, v.rec) })
}

// book sends a workbook; it is sent whole or not at all.
func book(w http.ResponseWriter, name string, write func(io.Writer) error) error {
	var b bytes.Buffer
	if err := write(&b); err != nil {
		return err
	}
	h := w.Header()
	h.Set("Content-Type", "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet")
	h.Set("Content-Disposition", `attachment; filename="`+name+`"`)
	_, _ = w.Write(b.Bytes()) // the reader may have gone
	return nil
}

func paper(w http.ResponseWriter, name, title string, sheets []*draw.Drawing) error {
	pdf, err := draw.PDF(title, sheets...)
	if err != nil {
		return err
	}
	return sendPDF(w, name, pdf)
}

// sendPDF sends a document to be shown where the browser can.
func sendPDF(w http.ResponseWriter, name string, pdf []byte) error {
	h := w.Header()
	h.Set("Content-Type", "application/pdf")
	h.Set("Content-Disposition", `inline; filename="`+name+`"`)
	_, _ = w.Write(pdf) // the reader may have gone
	return nil
}
