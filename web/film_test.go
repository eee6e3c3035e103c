package web_test

import (
	"bytes"
	"image/jpeg"
	"io"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"strings"
	"testing"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/unit"
)

// filmBuild is the typical build with two films that FFmpeg made
// (picture/testdata): a second and a half red, then blue. The second is the
// yard's.
func filmBuild(t testing.TB) *store.Folder {
	t.Helper()
	f := typicalBuild(t)
	for key, name := range map[string]string{"walk": "film.webm", "theirs": "film.mp4"} {
		file, err := f.Put(t.Context(), name, strings.NewReader(madePicture(t, name)), 1<<20)
		if err != nil {
			t.Fatal(err)
		}
		p := record.Photo{Name: name, Visit: "visit/v2", File: file}
		if key == "theirs" {
			v, _ := journal.Get[record.Visit](as(t, f), "visit/v2")
			p.Day, p.Time, p.Part, p.By = v.Day, "09:59:59 +01:00", "part/deck", "person/ada"
		}
		write(t, f, journal.Always, map[string]record.Grounds{"walk": record.Seen, "theirs": record.Shown}[key], key, p)
	}
	return f
}

func photosOf(t testing.TB, f *store.Folder, film record.Ref) []record.Photo {
	t.Helper()
	var out []record.Photo
	for _, p := range journal.All[record.Photo](as(t, f)) {
		if p.Film == film {
			out = append(out, p)
		}
	}
	return out
}

// A film is handed out piece by piece, as what it is, and the page may play it.
func TestFilmIsServedInPieces(t *testing.T) {
	f := filmBuild(t)
	b := visit(t, f)
	rest(t, b)
	page := b.get("/photo/theirs")
	if !strings.Contains(page.Header().Get("Content-Security-Policy"), "media-src 'self'") || !strings.Contains(page.Body.String(), "<video") || !strings.Contains(page.Body.String(), "in UTC") {
		t.Errorf("the film's page: %v", page.Header())
	}
	p, _ := journal.Get[record.Photo](as(t, f), "photo/theirs")
	r := httptest.NewRequest("GET", "/file/"+p.File.SHA256+"/film.mp4", nil)
	r.Header.Set("Range", "bytes=100-199")
	w := b.do(r)
	if w.Code != http.StatusPartialContent || w.Body.String() != madePicture(t, "film.mp4")[100:200] || w.Header().Get("Content-Type") != "video/mp4" || !strings.Contains(w.Header().Get("Content-Security-Policy"), "sandbox") {
		t.Errorf("%d, %d bytes, %v", w.Code, w.Body.Len(), w.Header())
	}
}

// stillSent posts a still as the form does.
func (b *browse) stillSent(path, at, still string) *httptest.ResponseRecorder {
	var body bytes.Buffer
	m := multipart.NewWriter(&body)
	_ = m.WriteField("at", at)
	if still != "" {
		part, _ := m.CreateFormFile("still", "any name.html")
		_, _ = io.WriteString(part, still)
	}
	_ = m.Close()
	r := httptest.NewRequest("POST", path, &body)
	r.Header.Set("Content-Type", m.FormDataContentType())
	return b.do(r)
}

// A still is a picture of the film's visit, part and person, so long after the
// film began, and known as the film is known; the same one twice is one. What
// is no picture, of no film or of no time is refused and leaves nothing.
func TestStillOfAFilm(t *testing.T) {
	f := filmBuild(t)
	b := visit(t, f)
	rest(t, b)
	for range 2 {
		if w := b.stillSent("/photo/theirs/still", "2.25", madePicture(t, "stripped.jpg")); w.Code != http.StatusSeeOther {
			t.Fatalf("%d %s", w.Code, w.Body)
		}
	}
	all := photosOf(t, f, "photo/theirs")
	if len(all) != 1 {
		t.Fatalf("%d stills", len(all))
	}
	p := all[0]
	if p.Time != "10:00:01 +01:00" || p.Visit != "visit/v2" || p.Part != "part/deck" || p.By != "person/ada" || p.At.SI != 2.3 || p.At.Dim != unit.Time || p.Name != "film 00m02.3s.jpg" {
		t.Errorf("%+v", p)
	}
	rec := as(t, f)
	if g := rec.From(p.Self).Grounds; g != record.Shown || g != rec.From("photo/theirs").Grounds {
		t.Errorf("known as %s", g)
	}
	if page := b.get("/photo/theirs").Body.String(); !strings.Contains(page, p.Name) {
		t.Error("the film's page does not list it")
	}
	for name, w := range map[string]*httptest.ResponseRecorder{
		"a page":         b.stillSent("/photo/theirs/still", "1", "<html><script>alert(1)</script>"),
		"a HEIC":         b.stillSent("/photo/theirs/still", "1", madePicture(t, "plain.heic")),
		"cut off":        b.stillSent("/photo/theirs/still", "1", madePicture(t, "zone.jpg")[:900]),
		"nothing":        b.stillSent("/photo/theirs/still", "1", ""),
		"no time":        b.stillSent("/photo/theirs/still", "soon", madePicture(t, "zone.jpg")),
		"not a number":   b.stillSent("/photo/theirs/still", "NaN", madePicture(t, "zone.jpg")),
		"before it runs": b.stillSent("/photo/theirs/still", "-1", madePicture(t, "zone.jpg")),
		"of a picture":   b.stillSent("/photo/"+p.Self.Key()+"/still", "1", madePicture(t, "zone.jpg")),
	} {
		if w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	if n := len(photosOf(t, f, "photo/theirs")); n != 1 {
		t.Errorf("%d stills after what was refused", n)
	}
}

// In a browser a tap takes what stands on the screen: red in the first half of
// the film, blue in the second.
func TestStillsInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := filmBuild(t)
	b := visit(t, f)
	rest(t, b)
	srv := httptest.NewServer(b.site)
	t.Cleanup(srv.Close)
	for _, x := range []struct {
		film, at string
		size     browser.Size
		scheme   browser.Scheme
		key      bool
		red      bool
	}{{"walk", "0.5", browser.Phone, browser.Light, false, true}, {"walk", "2.2", browser.Desk, browser.Dark, true, false}, {"theirs", "2.4", browser.Phone, browser.Dark, false, false}} {
		tab := browser.New(t, x.size, x.scheme)
		tab.Go(srv.URL + "/photo/" + x.film)
		tab.Until(`document.querySelector("video").readyState >= 1`)
		tab.Eval(`(() => { document.querySelector("video").currentTime = `+x.at+`; return ""; })()`, new(string))
		tab.Until(`!document.querySelector("video").seeking && document.querySelector("video").readyState >= 2`)
		if x.key {
			tab.Eval(`(() => { document.body.dispatchEvent(new KeyboardEvent("keydown", { key: "s", bubbles: true, cancelable: true })); return ""; })()`, new(string))
		} else {
			tab.Eval(`(() => { document.querySelector("[data-take]").click(); return ""; })()`, new(string))
		}
		tab.Until(`document.querySelector("[data-says]").textContent.startsWith("Kept")`)
		tab.Until(`[...document.querySelectorAll("[data-stills] img")].every((i) => i.complete && i.naturalWidth > 40)`)
		if got := append(tab.Stumbles(), tab.Barriers()...); len(got) > 0 {
			t.Errorf("%s, %s: %s", x.film, x.size.Name, strings.Join(got, "\n  "))
		}
		tab.Picture("film-" + x.film)
		all := photosOf(t, f, record.R("photo", x.film))
		var p record.Photo
		for _, s := range all {
			if s.At.Text() != "" && strings.Contains(s.Name, x.at+"s") {
				p = s
			}
		}
		in, err := f.File(p.File)
		if err != nil {
			t.Fatalf("%s at %s: %v of %d stills", x.film, x.at, err, len(all))
		}
		img, err := jpeg.Decode(in)
		if err != nil || img.Bounds().Dx() < 160 || img.Bounds().Dy() < 108 {
			t.Fatalf("the still: %v, %v", img.Bounds(), err)
		}
		red, _, blue, _ := img.At(80, 60).RGBA()
		if x.red != (red > 0xc000 && blue < 0x4000) || x.red == (blue > 0xc000 && red < 0x4000) {
			t.Errorf("%s at %s: red %#x, blue %#x", x.film, x.at, red, blue)
		}
	}
}
