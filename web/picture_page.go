package web

import (
	"bytes"
	"encoding/json"
	"errors"
	"net/http"
	"strings"
	"time"

	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
	"dogshore/store"
)

// Shown is a picture as pages show it.
type Shown struct {
	Link                    Named
	Thumb, Screen, Original string // addresses; Thumb is "" of what has no file
	Alt                     string
	Doubt                   string
	Film                    bool
	Why                     string // why it can't be shown
}

// shown makes what pages need to show a picture.
func (v *view) shown(p record.Photo) Shown {
	x := Shown{Link: v.Ref(p.Self), Doubt: p.Doubt, Alt: p.Name}
	if p.Note != "" {
		x.Alt = p.Note
	}
	if p.File.Known() {
		x.Film = picture.IsFilm(p.File.Name)
		x.Original = "/file/" + p.File.SHA256 + "/" + p.File.Name
		x.Thumb, x.Screen = pictureSized(p.File, "thumb"), pictureSized(p.File, "screen")
	}
	return x
}

// pictureSized is where a page finds a picture at one of its sizes.
func pictureSized(f record.File, size string) string { return "/picture/" + f.SHA256 + "/" + size }

// strip lists the pictures that have files, in the order in which they were
// taken.
func (s *Site) strip(v *view, of func(p record.Photo) bool) []Shown {
	var out []Shown
	var want []record.File
	photos := journal.All[record.Photo](v.rec)
	sortPhotos(photos)
	for _, p := range photos {
		if p.File.Known() && of(p) {
			out = append(out, v.shown(p))
			if !picture.IsFilm(p.File.Name) {
				want = append(want, p.File)
			}
		}
	}
	s.small(v.folder).Want(want...)
	return out
}

// small is what makes small pictures in the background, from the first page
// that shows any.
func (s *Site) small(f *store.Folder) *picture.Maker {
	s.smalls.Lock()
	defer s.smalls.Unlock()
	if s.maker == nil {
		s.maker = picture.NewMaker(f)
	}
	return s.maker
}

// Rest ends what runs in the background. What it made is kept.
func (s *Site) Rest() {
	s.smalls.Lock()
	m := s.maker
	s.maker = nil
	s.smalls.Unlock()
	if m != nil {
		m.Close()
	}
}

// pictureFile hands out a small picture. Until the good thumbnail is made, the
// one that the camera put into the file stands in; browsers ask again for it.
func (s *Site) pictureFile(w http.ResponseWriter, r *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return notFound("There is no build here yet.")
	}
	file := record.File{SHA256: r.PathValue("hash"), Name: r.PathValue("hash")}
	size, ok := map[string]picture.Size{"thumb": picture.Thumb, "screen": picture.Screen}[r.PathValue("size")]
	if !ok {
		return notFound("There is no such size of a picture.")
	}
	b, final, err := s.smallOf(r, f, file, size)
	switch {
	case r.Context().Err() != nil:
		return nil // nobody waits for it any more
	case errors.Is(err, picture.ErrNoHEIC), errors.Is(err, picture.ErrBroken), errors.Is(err, picture.ErrTooLarge):
		return s.instead(w, "cannot.svg")
	case errors.Is(err, errNotYet):
		return s.instead(w, "not-yet.svg")
	case err != nil:
		return notFound("The picture is not in the build folder.")
	}
	w.Header().Set("Content-Type", "image/jpeg")
	w.Header().Set("Content-Security-Policy", "default-src 'none'; sandbox")
	if final {
		w.Header().Set("Cache-Control", "private, max-age=3600")
		w.Header().Set("ETag", `"`+file.SHA256[:16]+"-"+r.PathValue("size")+`"`)
	}
	http.ServeContent(w, r, "", time.Time{}, bytes.NewReader(b))
	return nil
}

// errNotYet is met where a picture takes long to make and is waited for.
var errNotYet = errors.New("the picture is not made yet")

// smallOf finds or makes a small picture. HEIC is left to the background: it
// takes seconds, one at a time.
func (s *Site) smallOf(r *http.Request, f *store.Folder, file record.File, size picture.Size) ([]byte, bool, error) {
	if b, err := f.Small(file, picture.NameOf(size)); err == nil {
		return b, true, nil
	}
	if size == picture.Thumb {
		b, final, err := picture.Quick(f, file)
		if err == nil || !errors.Is(err, picture.ErrNoPreview) {
			return b, final, err
		}
	}
	if slow, err := picture.Slow(f, file); err != nil || slow {
		if why := picture.Why(f, file); err == nil && why != "" {
			return nil, true, picture.ErrBroken
		}
		if err == nil && !picture.DecodesHEIC() {
			return nil, true, picture.ErrNoHEIC
		}
		if err == nil {
			s.small(f).Want(file)
			err = errNotYet
		}
		return nil, false, err
	}
	if err := picture.Kept(r.Context(), f, file); err != nil {
		return nil, false, err
	}
	b, err := f.Small(file, picture.NameOf(size))
	return b, true, err
}

// instead shows a drawing of our own in the place of a picture.
func (s *Site) instead(w http.ResponseWriter, name string) error {
	w.Header().Set("Content-Type", "image/svg+xml")
	_, _ = w.Write(s.assets.files[name]) // the reader may have gone
	return nil
}

// progress says how far the small pictures are.
func (s *Site) progress(w http.ResponseWriter, _ *http.Request) error {
	f := s.folder.Load()
	if f == nil {
		return errNoBuild
	}
	w.Header().Set("Content-Type", "application/json")
	return json.NewEncoder(w).Encode(s.small(f).Progress())
}

// stopOrGo stops the making of small pictures, or goes on with it.
func (s *Site) stopOrGo(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	m := s.small(f)
	if r.PostFormValue("do") == "stop" {
		m.Stop()
	} else {
		m.Go()
	}
	http.Redirect(w, r, "/pictures", http.StatusSeeOther)
	return nil
}

// photoOf is the picture that a record page shows.
func (s *Site) photoOf(v *view, self record.Ref) *Shown {
	p, ok := journal.Get[record.Photo](v.rec, self)
	if !ok || !p.File.Known() {
		return nil
	}
	x := v.shown(p)
	if !x.Film {
		s.small(v.folder).Want(p.File)
		x.Why = strings.TrimSpace(picture.Why(v.folder, p.File))
	}
	return &x
}
