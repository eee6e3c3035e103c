package web

import (
	"encoding/json"
	"errors"
	"fmt"
	"math"
	"net/http"
	"path"
	"strconv"
	"strings"
	"time"

	"dogshore/desk/photo"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
)

// filmView is a film as its page shows it: to be played, and to take stills
// out of.
type filmView struct {
	Src    string
	Began  string // when, as far as it is known
	Stills []Shot
}

// filmOf is the film that a photo is; nil if it is none, or has no file.
func (v *view) filmOf(p photo.Photo, a photo.Answer) *filmView {
	if !p.File.Known() || !picture.IsFilm(p.File.Name) {
		return nil
	}
	film := &filmView{Src: filePath(p.File)}
	if p.Time != "" && p.Day.Known() {
		film.Began = p.Day.Said() + ", " + p.Time
	}
	stills := a.Of(func(x photo.Photo) bool { return x.Film == p.Self })
	sortBy(stills, func(x photo.Photo) int { return int(1000 * x.At.SI) })
	for _, x := range stills {
		film.Stills = append(film.Stills, v.shot(x))
	}
	return film
}

// Bounds of a still.
const (
	longestStill = 24 << 20
	longestFilm  = 3 * time.Hour // no walk-round takes longer
)

// takeStill keeps a still that a page took out of a film, as a picture of the
// film's visit: of its part or place, taken by whom the film was taken, so long
// after it began. It is known as the film is known.
func (s *Site) takeStill(w http.ResponseWriter, r *http.Request) error {
	f, v, self, err := s.photoWritten(r)
	if err != nil {
		return err
	}
	film, _ := journal.Get[record.Photo](v.rec, self)
	if !film.File.Known() || !picture.IsFilm(film.File.Name) {
		return refused("A still can be taken out of a film only.", "Go back to the film's own page.")
	}
	at, err := strconv.ParseFloat(strings.TrimSpace(r.PostFormValue("at")), 64)
	if err != nil || !(at >= 0 && at <= longestFilm.Seconds()) {
		return refused("Nothing is kept: how far into the film it was is not said.", "Write the seconds since the film began, as 62.4.")
	}
	file, err := stillFile(r, f, stillName(film.Name, at))
	if err != nil {
		return err
	}
	still, there := sameFile(v.rec, file)
	if !there {
		e := s.stillEntry(w, r, v, f, film, file, at)
		still = record.R(e.Facts[0].Kind, e.Facts[0].Key)
		if _, err := f.Accept(r.Context(), e); err != nil {
			return err
		}
	}
	s.small(f).Want(file)
	if r.Header.Get("Accept") == "application/json" {
		last, err := f.Last(r.Context())
		if err != nil {
			return err
		}
		w.Header().Set("Content-Type", "application/json")
		return json.NewEncoder(w).Encode(map[string]any{"href": pathOf(still), "name": file.Name, "thumb": "/picture/" + file.SHA256 + "/thumb", "last": last})
	}
	http.Redirect(w, r, pathOf(still), http.StatusSeeOther)
	return nil
}

// sameFile finds the picture of a file that is on record: the same instant
// taken twice is one picture.
func sameFile(rec *journal.Record, file record.File) (record.Ref, bool) {
	for _, p := range journal.All[record.Photo](rec) {
		if p.File.SHA256 == file.SHA256 {
			return p.Self, true
		}
	}
	return "", false
}

// stillFile keeps the file that came, once its head says that it is a picture.
func stillFile(r *http.Request, f *store.Folder, name string) (file record.File, err error) {
	in, head, err := r.FormFile("still")
	if err != nil {
		return file, refused("No picture came with it.", "Go back and choose one, or let the page take it out of the film.")
	}
	defer func() { err = errors.Join(err, in.Close()) }()
	if head.Size > longestStill {
		return file, refused(fmt.Sprintf("The still is larger than %d MB.", longestStill>>20), "Nothing is kept.")
	}
	p, err := picture.Read(in, head.Size)
	if err == nil && p.Format != picture.JPEG && p.Format != picture.PNG {
		err = fmt.Errorf("it is a %s; a still is a JPEG or a PNG", p.Format)
	}
	if err != nil {
		return file, refused("The still is not kept: "+err.Error()+".", "Take it once more.")
	}
	ending := ".jpg"
	if p.Format == picture.PNG {
		ending = ".png"
	}
	return f.Put(r.Context(), name+ending, in, longestStill)
}

// stillName names a still after its film: "VID_0412 01m02.4s".
func stillName(film string, at float64) string {
	tenths := int(math.Round(10 * at))
	return fmt.Sprintf("%s %02dm%02d.%ds", strings.TrimSuffix(film, path.Ext(film)), tenths/600, tenths/10%60, tenths%10)
}

// stillEntry is the entry of a still.
func (s *Site) stillEntry(w http.ResponseWriter, r *http.Request, v *view, f *store.Folder, film record.Photo, file record.File, at float64) journal.Entry {
	day, clock := picture.Later(film.Day, film.Time, time.Duration(at*float64(time.Second)))
	p := record.Photo{Name: file.Name, Visit: film.Visit, Part: film.Part, Place: film.Place, File: file, Day: day, Time: clock, Doubt: film.Doubt, By: film.By, Before: film.Before,
		Film: film.Self, At: unit.Q(math.Round(10*at)/10, unit.Time)}
	k := record.KindFor[record.Photo]()
	visit, _ := journal.Get[record.Visit](v.rec, film.Visit)
	since := day
	if !since.Known() {
		since = visit.Day
	}
	how := journal.Grounds(k, visit.By)
	if from := v.rec.From(film.Self); from != nil {
		how = from.Grounds
	}
	e := s.draft(w, r, f, journal.Since(k, since, v.Today), how)
	e.Origin, e.Visit = "still of a film", film.Visit
	e.Facts = journal.Facts(record.R("photo", "p-"+file.SHA256[:20]), record.Values(p))
	return e
}
