package web

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime/multipart"
	"net/http"
	"os"
	"path"
	"sort"
	"strings"
	"time"

	"dogshore/intake"
	"dogshore/picture"
	"dogshore/record"
	"dogshore/store"
)

// picturesPage takes pictures in, lists what was handed in and not taken in
// yet, and says how far the small pictures are.
type picturesPage struct {
	Sheet
	Trays   []store.TrayInfo
	Small   picture.Progress
	Kept    int // pictures on record with their file
	Noted   int // of them, those known by name only
	Author  string
	Problem string
}

func (s *Site) picturesPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Pictures")
	if err != nil {
		return err
	}
	return s.showPictures(w, r, v, "")
}

func (s *Site) showPictures(w http.ResponseWriter, r *http.Request, v *view, says string) error {
	page := &picturesPage{Sheet: v.Sheet, Author: author(r), Problem: says}
	var err error
	if page.Trays, err = v.folder.Trays(); err != nil {
		return err
	}
	files := picture.Files(v.rec)
	s.small(v.folder).Want(files...)
	page.Small, page.Kept = s.small(v.folder).Progress(), len(files)
	page.Noted = len(v.rec.Refs("photo")) - len(files)
	status := http.StatusOK
	if says != "" {
		status = http.StatusUnprocessableEntity
	}
	return s.render(w, status, "pictures", page)
}

// handInPictures lays the pictures of a form into a tray, a new one or one
// that is there, as they come: none is held in memory.
func (s *Site) handInPictures(w http.ResponseWriter, r *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return errNoBuild
	}
	parts, err := r.MultipartReader()
	if err != nil {
		return refused("No pictures were sent.", "Choose some on the page of pictures.")
	}
	var tray *store.Tray
	if id := r.PathValue("tray"); id != "" {
		if tray, err = f.Tray(id); err != nil {
			return noTray()
		}
	} else if tray, err = f.NewTray(); err != nil {
		return err
	}
	n, err := layDown(w, r, tray, parts)
	switch {
	case errors.Is(err, store.ErrTooLong):
		return refused("A file is larger than what is taken in: "+err.Error()+".", "What was laid down before it is kept: the page of pictures has it.")
	case err != nil:
		return err
	}
	if r.Header.Get("Accept") == "application/json" {
		w.Header().Set("Content-Type", "application/json")
		return json.NewEncoder(w).Encode(map[string]any{"at": "/pictures/" + tray.ID, "files": n})
	}
	if n == 0 {
		if r.PathValue("tray") == "" {
			err = tray.Drop()
		}
		v, verr := s.view(r, "Pictures")
		if err = errors.Join(err, verr); err != nil {
			return err
		}
		return s.showPictures(w, r, v, "Nothing was handed in: choose pictures or a folder first.")
	}
	http.Redirect(w, r, "/pictures/"+tray.ID, http.StatusSeeOther)
	return nil
}

func noTray() error {
	return notFound("These pictures are not kept any more: they were taken in, or thrown away.")
}

// patience is how long the next piece of what is sent may take.
const patience = 2 * time.Minute

// layDown reads a form's files one after the other into a tray.
func layDown(w http.ResponseWriter, r *http.Request, tray *store.Tray, parts *multipart.Reader) (n int, err error) {
	still := http.NewResponseController(w)
	for {
		_ = still.SetReadDeadline(time.Now().Add(patience)) // the server's own bound is for short forms
		_ = still.SetWriteDeadline(time.Now().Add(patience))
		part, err := parts.NextPart()
		if errors.Is(err, io.EOF) {
			return n, nil
		}
		if err != nil {
			return n, err
		}
		name := fileName(part)
		if name == "" {
			continue // another field of the form
		}
		err = tray.Put(r.Context(), name, &patient{part, still}, picture.LongestFilm)
		if err != nil {
			return n, err
		}
		n++
	}
}

// fileName is the name of a part with the folders it lay in, which
// part.FileName leaves out; the tray makes it harmless.
func fileName(part *multipart.Part) string {
	if part.FileName() == "" {
		return ""
	}
	if name, ok := strings.CutPrefix(part.FormName(), "file:"); ok {
		return name
	}
	return part.FileName()
}

// patient moves the deadline on while something comes.
type patient struct {
	io.Reader
	still *http.ResponseController
}

func (p *patient) Read(b []byte) (int, error) {
	n, err := p.Reader.Read(b)
	if n > 0 {
		_ = p.still.SetReadDeadline(time.Now().Add(patience))
		_ = p.still.SetWriteDeadline(time.Now().Add(patience))
	}
	return n, err
}

// trayNames lists what lies in a tray, for going on with it.
func (s *Site) trayNames(w http.ResponseWriter, r *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return errNoBuild
	}
	tray, err := f.Tray(r.PathValue("tray"))
	if err != nil {
		return noTray()
	}
	files, err := tray.Files()
	if err != nil {
		return err
	}
	out := make([][2]any, 0, len(files))
	for _, x := range files {
		out = append(out, [2]any{x.Name, x.Size})
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(out)
}

// trayPage lists what lies in a tray, sorted to visits; nothing of it is on
// record yet.
type trayPage struct {
	Sheet
	ID                  string
	Files               int
	Reading             *intake.PhotoReading
	Asks                []AskLine
	Clock, Camera, Zone string
	Author              string
	Problem             string
}

func (s *Site) trayPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Pictures handed in")
	if err != nil {
		return err
	}
	tray, err := v.folder.Tray(r.PathValue("tray"))
	if err != nil {
		return noTray()
	}
	page, err := s.readTray(r, v, tray)
	if err != nil {
		return err
	}
	return s.render(w, http.StatusOK, "tray", page)
}

// readTray reads a tray with what the form answers.
func (s *Site) readTray(r *http.Request, v *view, tray *store.Tray) (*trayPage, error) {
	files, err := tray.Files()
	if err != nil {
		return nil, err
	}
	page := &trayPage{Sheet: v.Sheet, ID: tray.ID, Files: len(files), Author: author(r),
		Clock: r.FormValue("clock"), Camera: r.FormValue("camera"), Zone: r.FormValue("zone")}
	opt, _ := s.intakeOptions(r, v)
	p := intake.PhotoOptions{Zone: page.Zone, Clock: picture.Clock{Of: page.Camera}}
	if page.Clock != "" {
		if p.Clock.Add, err = time.ParseDuration(strings.ReplaceAll(page.Clock, " ", "")); err != nil {
			page.Problem = "Write what is to be added to the camera's times as +1h13m, or -45s."
		}
	}
	if _, err := picture.ParseZone(page.Zone); err != nil {
		page.Problem, p.Zone = err.Error()+".", ""
	}
	page.Reading, err = intake.ReadPhotos(r.Context(), handedOver(tray, files), v.rec, opt, p)
	if err != nil {
		return nil, err
	}
	for _, a := range page.Reading.Asks {
		page.Asks = append(page.Asks, AskLine{Ask: a, Answer: opt.Answers[a.ID], Photos: page.Reading.Asked[a.ID]})
	}
	return page, nil
}

func handedOver(tray *store.Tray, files []store.TrayFile) []intake.Photo {
	out := make([]intake.Photo, len(files))
	for i, x := range files {
		out[i] = intake.Photo{Name: x.Name, Size: x.Size, SHA256: x.SHA256,
			Open: func() (picture.ReaderAtCloser, error) { return tray.Open(x) },
			Keep: func(ctx context.Context) (record.File, error) { return tray.Keep(ctx, x) },
		}
	}
	return out
}

// trayThumb shows a picture of a tray small: the one that the camera put into
// it, else one that is made and not kept. HEIC is not waited for.
func (s *Site) trayThumb(w http.ResponseWriter, r *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return errNoBuild
	}
	tray, err := f.Tray(r.PathValue("tray"))
	if err != nil {
		return noTray()
	}
	in, err := tray.Open(store.TrayFile{SHA256: r.PathValue("hash")})
	if err != nil {
		return noTray()
	}
	defer func() { _ = in.Close() }() // only read
	info, err := in.Stat()
	if err != nil {
		return err
	}
	b, err := picture.Preview(in, info.Size())
	p, _ := picture.Read(in, info.Size())
	if errors.Is(err, picture.ErrNoPreview) && p.Format == picture.HEIC && picture.DecodesHEIC() {
		return s.instead(w, "later.svg")
	}
	if errors.Is(err, picture.ErrNoPreview) && p.Format != picture.HEIC {
		var made picture.Small
		made, err = picture.Make(r.Context(), in, info.Size())
		b = made.Thumb
	}
	if err != nil {
		return s.instead(w, "cannot.svg")
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Cache-Control", "private, max-age=600")
	_, _ = w.Write(b) // the reader may have gone
	return nil
}

// takeTray reads a tray again, takes it in, or throws it away.
func (s *Site) takeTray(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Pictures handed in")
	if err != nil {
		return err
	}
	tray, err := f.Tray(r.PathValue("tray"))
	if err != nil {
		return noTray()
	}
	if r.PostFormValue("do") == "drop" {
		if err := tray.Drop(); err != nil {
			return err
		}
		http.Redirect(w, r, "/pictures", http.StatusSeeOther)
		return nil
	}
	page, err := s.readTray(r, v, tray)
	if err != nil {
		return err
	}
	if page.Problem != "" {
		return s.render(w, http.StatusUnprocessableEntity, "tray", page)
	}
	if r.PostFormValue("do") != "accept" {
		return s.render(w, http.StatusOK, "tray", page)
	}
	_ = http.NewResponseController(w).SetWriteDeadline(time.Now().Add(10 * patience))
	defer s.taking.Delete(tray.ID)
	done, err := page.Reading.Accept(r.Context(), f, v.Today, func(done, all int) { s.taking.Store(tray.ID, taken{done, all}) })
	if err != nil {
		return err
	}
	if len(page.Asks) == 0 { // what was asked and not answered stays here
		if err := tray.Drop(); err != nil && !errors.Is(err, os.ErrNotExist) {
			return err
		}
	}
	http.Redirect(w, r, "/pictures?batch="+query(done.Batch), http.StatusSeeOther)
	return nil
}

// taken says how far the taking in of a tray is.
type taken struct {
	Done int `json:"done"`
	All  int `json:"all"`
}

// takenSoFar says how far the taking in of a tray is, to whoever waits for it.
func (s *Site) takenSoFar(w http.ResponseWriter, r *http.Request) error {
	now, ok := s.taking.Load(r.PathValue("tray"))
	if !ok {
		now = taken{}
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(now)
}

// sortPhotos puts pictures in the order in which they were taken.
func sortPhotos(all []record.Photo) {
	key := func(p record.Photo) string { return fmt.Sprintf("%s %s %s", p.Day, p.Time, path.Base(p.Name)) }
	sort.SliceStable(all, func(i, k int) bool { return key(all[i]) < key(all[k]) })
}
