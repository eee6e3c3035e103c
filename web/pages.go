package web

import (
	"bytes"
	"embed"
	"fmt"
	"html/template"
	"net/http"
	"path"
	"strings"

	"dogshore/diary"
)

//go:embed all:page
var pageFiles embed.FS

// pages holds the parsed templates: each file of page/ is a page, laid on the
// sheet and the pieces, whose names begin with an underscore.
type pages struct {
	byName map[string]*template.Template
}

// newPages parses everything; a template that does not parse stops the start.
func newPages(a *assets) *pages {
	base := template.Must(template.New("sheet").Funcs(words).Funcs(template.FuncMap{"asset": a.address}).ParseFS(pageFiles, "page/_*.html"))
	template.Must(base.Parse(diary.Article))
	files, err := pageFiles.ReadDir("page")
	if err != nil {
		panic(err) // embedded
	}
	p := &pages{byName: map[string]*template.Template{}}
	for _, f := range files {
		if strings.HasPrefix(f.Name(), "_") {
			continue
		}
		name := strings.TrimSuffix(f.Name(), path.Ext(f.Name()))
		t := template.Must(template.Must(base.Clone()).ParseFS(pageFiles, "page/"+f.Name()))
		p.byName[name] = t
	}
	return p
}

// render fills the page of that name and sends it; it is sent whole or not at
// all.
func (s *Site) render(w http.ResponseWriter, status int, name string, page any) error {
	t := s.pages.byName[name]
	if t == nil {
		return fmt.Errorf("web: internal error: there is no page %q", name)
	}
	var b bytes.Buffer
	if err := t.ExecuteTemplate(&b, "sheet", page); err != nil {
		return fmt.Errorf("fill page %s: %w", name, err)
	}
	w.Header().Set("Content-Type", "text/html; charset=utf-8")
	w.WriteHeader(status)
	_, _ = w.Write(b.Bytes()) // the reader may have gone
	return nil
}
