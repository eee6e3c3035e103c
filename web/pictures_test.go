package web_test

import (
	"bytes"
	"image/jpeg"
	"net/http"
	"net/url"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"testing"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/web"
)

func madePicture(t testing.TB, name string) string {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "picture", "testdata", "made", name))
	if err != nil {
		t.Fatal(err)
	}
	return string(b)
}

// handInPhotos hands pictures in and returns the tray's page.
func handInPhotos(t *testing.T, b *browse, files map[string]string) (at, body string) {
	t.Helper()
	w := b.send("/pictures", nil, files)
	at = w.Header().Get("Location")
	if w.Code != http.StatusSeeOther || !regexp.MustCompile(`^/pictures/[A-Z2-7]+$`).MatchString(at) {
		t.Fatalf("%d, to %q: %.400s", w.Code, at, w.Body.String())
	}
	return at, b.get(at).Body.String()
}

func rest(t *testing.T, b *browse) { t.Cleanup(func() { b.site.(*web.Site).Rest() }) }

// Pictures are listed before anything is on record, what says no time is asked
// about, and what is taken in is shown at its visit and its part.
func TestPicturesOfAVisit(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	rest(t, b)
	before := len(as(t, f).Refs("photo"))
	at, body := handInPhotos(t, b, map[string]string{
		"file=IMG_0001.jpg": madePicture(t, "stripped.jpg"), // noted by name at v2, with its part
		"file=zone.jpg":     madePicture(t, "zone.jpg"),     // of a day without a visit
		"file=scan.png":     madePicture(t, "deep.png"),     // says nothing
		"file=evil.jpg":     "<script>alert(1)</script>",
		"file=cut.jpg":      madePicture(t, "zone.jpg")[:3000],
	})
	for _, want := range []string{"5 files handed in", "its name was noted before", "In doubt", "Not clear (1)", "scan.png", "a page or a drawing", "cut off", "Invented Box 3 took 1", "one file says where it was taken"} {
		if !strings.Contains(strings.ReplaceAll(body, "in doubt", "In doubt"), want) {
			t.Errorf("the list does not say %q", want)
		}
	}
	if n := len(as(t, f).Refs("photo")); n != before {
		t.Errorf("%d photos on record before the button, were %d", n, before)
	}
	answer := regexp.MustCompile(`name="(answer:[^"]+)" value="(the visit[^"]+)"`).FindStringSubmatch(body)
	taken(t, b.post(at, url.Values{"do": {"accept"}, answer[1]: {answer[2]}}))
	rec := as(t, f)
	if n := len(rec.Refs("photo")); n != before+2 {
		t.Errorf("%d photos on record, want the one noted and 2 more", n)
	}
	var noted record.Photo
	for _, p := range journal.All[record.Photo](rec) {
		if p.Name == "IMG_0001.jpg" {
			noted = p
		}
	}
	if !noted.File.Known() || noted.Part != "part/deck" || noted.Doubt == "" {
		t.Errorf("the one noted by name: %+v", noted)
	}
	thumb := "/picture/" + noted.File.SHA256 + "/thumb"
	for _, page := range []string{"/visit/v2", "/part/deck"} {
		if !strings.Contains(b.get(page).Body.String(), thumb) {
			t.Errorf("%s does not show it", page)
		}
	}
	if w := b.get(pathOfPhoto(noted)); !strings.Contains(w.Body.String(), "/picture/"+noted.File.SHA256+"/screen") {
		t.Error("its own page does not show it")
	}
	if w := b.get(at); w.Code != http.StatusNotFound {
		t.Errorf("the tray is still there: %d", w.Code)
	}
}

func pathOfPhoto(p record.Photo) string { return "/of/photo/" + p.Self.Key() }

// Small pictures and originals are handed out as what they are and nothing
// else; what is no picture is not.
func TestPicturesAreServedBounded(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	rest(t, b)
	put := func(name, text string) record.File {
		file, err := f.Put(t.Context(), name, strings.NewReader(text), 1<<20)
		if err != nil {
			t.Fatal(err)
		}
		return file
	}
	zone := put("zone.jpg", madePicture(t, "zone.jpg"))
	for _, size := range []string{"thumb", "screen", "thumb"} {
		w := b.get("/picture/" + zone.SHA256 + "/" + size)
		if w.Code != 200 || w.Header().Get("Content-Type") != "image/jpeg" || w.Header().Get("X-Content-Type-Options") != "nosniff" || !strings.Contains(w.Header().Get("Content-Security-Policy"), "sandbox") {
			t.Errorf("%s: %d %v", size, w.Code, w.Header())
		}
		if _, err := jpeg.Decode(bytes.NewReader(w.Body.Bytes())); err != nil {
			t.Errorf("%s: %v", size, err)
		}
		if strings.Contains(w.Body.String(), "Exif") {
			t.Errorf("%s carries what the camera wrote", size)
		}
	}
	w := b.get("/file/" + zone.SHA256 + "/zone.jpg")
	if w.Body.String() != madePicture(t, "zone.jpg") || w.Header().Get("ETag") == "" {
		t.Error("the original is not handed out as it came")
	}
	page := put("page.jpg", "<html><script>alert(1)</script>")
	if w := b.get("/picture/" + page.SHA256 + "/thumb"); w.Code != http.StatusNotFound {
		t.Errorf("what is no picture: %d", w.Code)
	}
	cut := put("cut.jpg", madePicture(t, "zone.jpg")[:3000])
	if w := b.get("/picture/" + cut.SHA256 + "/screen"); w.Code != 200 || w.Header().Get("Content-Type") != "image/svg+xml" || !strings.Contains(w.Body.String(), "can't be shown") {
		t.Errorf("a broken one: %d %s", w.Code, w.Body.String())
	}
	heic := put("a.heic", madePicture(t, "plain.heic"))
	if w := b.get("/picture/" + heic.SHA256 + "/thumb"); w.Code != 200 || w.Header().Get("Content-Type") != "image/svg+xml" {
		t.Errorf("HEIC that is not made yet: %d", w.Code)
	}
	for _, bad := range []string{"/picture/x/thumb", "/picture/" + zone.SHA256 + "/huge", "/picture/..%2F..%2Fbuild.db/thumb", "/pictures/NONENONENONE", "/pictures/..%2Fx"} {
		if w := b.get(bad); w.Code != http.StatusNotFound {
			t.Errorf("%s: %d", bad, w.Code)
		}
	}
}

// Handing in can be stopped: what lies in the tray stays, says its names, and
// more can be laid beside it.
func TestHandingInGoesOn(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	rest(t, b)
	at, _ := handInPhotos(t, b, map[string]string{"file:DCIM/a.jpg=a.jpg": madePicture(t, "zone.jpg")})
	if got := b.get(at + "/names").Body.String(); !strings.Contains(got, `["DCIM/a.jpg",`) {
		t.Errorf("names: %s", got)
	}
	if got := visit(t, f).get("/pictures").Body.String(); !strings.Contains(got, at) {
		t.Error("another program on the same folder does not know of the tray")
	}
	if w := b.send(at+"/more", nil, map[string]string{"file:DCIM/b.jpg=b.jpg": madePicture(t, "nozone.jpg")}); w.Code != http.StatusSeeOther {
		t.Errorf("more: %d", w.Code)
	}
	body := b.get(at).Body.String()
	if !strings.Contains(body, "2 files handed in") {
		t.Errorf("%.300s", body)
	}
	clock := b.post(at, url.Values{"do": {"again"}, "clock": {"an hour"}})
	if clock.Code != http.StatusUnprocessableEntity || !strings.Contains(clock.Body.String(), "+1h13m") {
		t.Errorf("a clock that can't be read: %d", clock.Code)
	}
	taken(t, b.post(at, url.Values{"do": {"drop"}}))
	if w := b.get(at); w.Code != http.StatusNotFound {
		t.Errorf("thrown away, it is still there: %d", w.Code)
	}
	if w := b.send("/pictures", map[string]string{"author": "me"}, nil); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), "Nothing was handed in") {
		t.Errorf("nothing: %d", w.Code)
	}
}

// A batch of pictures can be taken back, and brought in again.
func TestPicturesTakenBack(t *testing.T) {
	f := typicalBuild(t)
	b := visit(t, f)
	rest(t, b)
	before := len(as(t, f).Refs("photo"))
	for range 2 {
		at, _ := handInPhotos(t, b, map[string]string{"file=zone.jpg": madePicture(t, "zone.jpg")})
		taken(t, b.post(at, url.Values{"do": {"accept"}}))
		if n := len(as(t, f).Refs("photo")); n != before+1 {
			t.Fatalf("%d photos, want %d", n, before+1)
		}
		undo := regexp.MustCompile(`action="(/batch/[^"]+/undo)"`).FindStringSubmatch(b.get("/intake").Body.String())
		taken(t, b.post(undo[1], nil))
		if n := len(as(t, f).Refs("photo")); n != before {
			t.Fatalf("taken back, %d photos, want %d", n, before)
		}
	}
}
