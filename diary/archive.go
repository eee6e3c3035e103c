package diary

import (
	"archive/zip"
	"bytes"
	"embed"
	"errors"
	"fmt"
	"html/template"
	"io"
	"path"
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/record"
)

//go:embed all:page
var files embed.FS

// Article is the template of one visit, "diary-visit", which pages and the
// archive share. Its data is a Page.
var Article = text("page/_visit.html")

// Style is the style sheet of Article.
var Style = text("page/visit.css")

func text(name string) string {
	b, err := files.ReadFile(name)
	if err != nil {
		panic(err) // embedded
	}
	return string(b)
}

var pages = template.Must(template.Must(template.New("archive").Funcs(template.FuncMap{"said": calendar.Day.Said, "join": strings.Join}).
	Parse(Article)).ParseFS(files, "page/index.html", "page/leaf.html"))

// Pictures finds a picture as a JPEG at the size of a screen, made anew so
// that nothing is in it but the picture.
type Pictures func(record.File) ([]byte, error)

// Files opens a file of the build folder as it is.
type Files func(record.File) (io.ReadSeekCloser, error)

// made is the day that every file of an archive bears: the same diary gives
// the same bytes.
var made = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// Archive writes the diary as a zip: a folder with index.html, a page for each
// visit, and the pictures. It opens from the disk, loads nothing from
// elsewhere, and can be read without script; script only finds words in it.
// Letters go along only where nothing is left out.
func (d Diary) Archive(w io.Writer, pictures Pictures, open Files) error {
	z := zip.NewWriter(w)
	a := &archive{z: z, root: folder(d), sent: map[string]string{}}
	for i := range d.Visits {
		if err := a.carry(&d.Visits[i], pictures, open); err != nil {
			return fmt.Errorf("diary archive: %w", err)
		}
	}
	err := a.page("index.html", "index", indexPage{d, d.Places(), d.Stages(), byPlace(d), byStage(d)})
	for i, p := range d.Visits {
		leaf := leafPage{Diary: d, Page: p}
		if i > 0 {
			leaf.Before = &d.Visits[i-1]
		}
		if i+1 < len(d.Visits) {
			leaf.After = &d.Visits[i+1]
		}
		err = errors.Join(err, a.page(p.Name+".html", "leaf", leaf))
	}
	err = errors.Join(err, a.put("diary.css", []byte(text("page/archive.css")+Style)), a.put("find.js", []byte(text("page/find.js"))))
	if err = errors.Join(err, z.Close()); err != nil {
		return fmt.Errorf("diary archive: %w", err)
	}
	return nil
}

// FileName is what the archive is called.
func (d Diary) FileName() string { return folder(d) + ".zip" }

func folder(d Diary) string { return "diary-" + record.Slug(d.Build) }

// archive is the zip while it is being filled.
type archive struct {
	z    *zip.Writer
	root string
	n    int               // pictures so far
	sent map[string]string // by their content
}

// carry puts the pictures and letters of a visit into the archive, and makes
// the page lead to them.
func (a *archive) carry(p *Page, pictures Pictures, open Files) error {
	p.Self = ""
	for i := range p.Pictures {
		x := &p.Pictures[i]
		x.Src, x.Why = "", "there is no file of it"
		if !x.File.Known() {
			continue
		}
		if was, ok := a.sent[x.File.SHA256]; ok {
			x.Src, x.Why = was, ""
			continue
		}
		data, err := pictures(x.File)
		if err != nil {
			x.Why = "its file can't be shown here"
			continue
		}
		a.n++
		name := fmt.Sprintf("picture/%04d.jpg", a.n)
		if err := a.put(name, data); err != nil {
			return err
		}
		x.Src, x.Why = name, ""
		a.sent[x.File.SHA256] = name
	}
	for i := range p.Letters {
		l := &p.Letters[i]
		l.Href = ""
		if !l.File.Known() {
			continue
		}
		name := fmt.Sprintf("letter/%s-%d.pdf", p.Name, i+1)
		if err := a.copy(name, l.File, open); err != nil {
			return err
		}
		l.Href = name
	}
	return nil
}

func (a *archive) copy(name string, f record.File, open Files) error {
	in, err := open(f)
	if err != nil {
		return err
	}
	data, err := io.ReadAll(in)
	if err = errors.Join(err, in.Close()); err != nil {
		return err
	}
	return a.put(name, data)
}

func (a *archive) page(name, tmpl string, data any) error {
	var b bytes.Buffer
	if err := pages.ExecuteTemplate(&b, tmpl, data); err != nil {
		return err
	}
	return a.put(name, b.Bytes())
}

func (a *archive) put(name string, data []byte) error {
	h := &zip.FileHeader{Name: path.Join(a.root, name), Method: zip.Deflate, Modified: made}
	if path.Ext(name) == ".jpg" {
		h.Method = zip.Store // is packed already
	}
	h.SetMode(0o644)
	w, err := a.z.CreateHeader(h)
	if err == nil {
		_, err = w.Write(data)
	}
	return err
}

// indexPage is the archive's first page.
type indexPage struct {
	Diary
	AllPlaces, AllStages []string
	ByPlace, ByStage     []Shelf
}

// leafPage is one visit of the archive.
type leafPage struct {
	Diary
	Page          Page
	Before, After *Page
}

// Shelf is the finds of one place or stage.
type Shelf struct {
	Name  string
	Finds []Find
}

// Find is one item with the visit that it is of.
type Find struct {
	Page Page
	Item Item
}

// noPlace heads what lies at no place.
const noPlace = "Without a place"

func byPlace(d Diary) []Shelf {
	return shelves(d, append(d.Places(), noPlace), func(i Item) string {
		if i.Place == "" {
			return noPlace
		}
		return i.Place
	})
}

func byStage(d Diary) []Shelf { return shelves(d, d.Stages(), func(i Item) string { return i.Stage }) }

func shelves(d Diary, names []string, of func(Item) string) []Shelf {
	all := map[string][]Find{}
	for _, p := range d.Visits {
		for _, i := range p.Items() {
			all[of(i)] = append(all[of(i)], Find{p, i})
		}
	}
	var out []Shelf
	for _, n := range names {
		if all[n] != nil {
			out = append(out, Shelf{n, all[n]})
		}
	}
	return out
}
