package web_test

import (
	"bytes"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

// shotBuild is the typical build with three pictures of one visit that are not
// sorted yet; the first has its file.
func shotBuild(t testing.TB) *store.Folder {
	t.Helper()
	f := typicalBuild(t)
	m := image.NewGray(image.Rect(0, 0, 400, 300))
	for i := range m.Pix {
		m.Pix[i] = color.Gray{Y: uint8(i / 500)}.Y
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, m, nil); err != nil {
		t.Fatal(err)
	}
	file, err := f.Put(t.Context(), "IMG_0002.jpg", &b, 1<<20)
	if err != nil {
		t.Fatal(err)
	}
	for i, key := range []string{"ph2", "ph3", "ph4"} {
		p := record.Photo{Name: "IMG_000" + string(rune('2'+i)) + ".jpg", Visit: "visit/v2", Time: "10:0" + string(rune('0'+i)) + ":00 +01:00"}
		if key == "ph2" {
			p.File = file
		}
		write(t, f, journal.Always, record.Seen, key, p)
	}
	return f
}

// A tap sorts a run of pictures, and the page goes on to what comes next; what
// names no part is refused, and nothing is written.
func TestSortingPictures(t *testing.T) {
	f := shotBuild(t)
	b := visit(t, f)
	page := b.get("/photos").Body.String()
	if !strings.Contains(page, "3 are still to be sorted") || !strings.Contains(page, `value="part/deck"`) {
		t.Fatalf("the page to sort: %s", page)
	}
	w := b.post("/photos/sort", url.Values{"photo": {"ph2", "ph3", "ph4"}, "last": {"ph3"}, "behind": {"ph2"}, "of": {"part/deck"}})
	if w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "after=ph2") {
		t.Fatalf("%d %s", w.Code, w.Header().Get("Location"))
	}
	for key, want := range map[string]record.Ref{"ph2": "part/deck", "ph3": "part/deck", "ph4": ""} {
		if p, _ := journal.Get[record.Photo](as(t, f), record.R("photo", key)); p.Part != want {
			t.Errorf("%s is of %q, want %q", key, p.Part, want)
		}
	}
	if !strings.Contains(b.get("/photos").Body.String(), "one is still to be sorted") {
		t.Error("the page does not go on to the one that is left")
	}
	w = b.post("/photos/sort", url.Values{"photo": {"ph4"}, "other": {"no such part"}})
	if p, _ := journal.Get[record.Photo](as(t, f), "photo/ph4"); w.Code != http.StatusUnprocessableEntity || p.Part != "" {
		t.Errorf("an unknown part: %d, %q", w.Code, p.Part)
	}
}

// Of many sorted pictures the page shows some of each visit, and says how many
// more there are and where.
func TestManySortedPictures(t *testing.T) {
	f := typicalBuild(t)
	for i := range 40 {
		write(t, f, journal.Always, record.Seen, fmt.Sprintf("many%02d", i), record.Photo{Name: fmt.Sprintf("M_%02d.jpg", i), Visit: []record.Ref{"visit/v1", "visit/v2"}[i/30], Part: "part/deck"})
	}
	page := visit(t, f).get("/photos").Body.String()
	if n := strings.Count(page, `class="shot"`); n != 24+11 || !strings.Contains(page, "6 more") || !strings.Contains(page, `href="/visit/v1"`) {
		t.Errorf("%d pictures, want 24 of one visit and the 11 of the other", n)
	}
}

// A picture is evidence once somebody says what it shows; what it is of leads
// to what is behind it.
func TestPictureIsEvidenceOnceSaid(t *testing.T) {
	f := shotBuild(t)
	b := visit(t, f)
	b.post("/photos/sort", url.Values{"photo": {"ph2"}, "of": {"part/deck"}})
	page := b.get("/photo/ph2").Body.String()
	if !strings.Contains(page, "Not checked") || !strings.Contains(page, `value="cover/deck-core"`) {
		t.Fatal("the picture's page does not ask what it shows")
	}
	if behind := b.get("/behind/part/deck").Body.String(); !strings.Contains(behind, "Pictures exist, not checked") {
		t.Errorf("behind the deck: %s", behind)
	}
	if w := b.post("/photo/ph2/shows", url.Values{"shows": {"cover/deck-core"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("%d", w.Code)
	}
	if behind := b.get("/behind/part/deck").Body.String(); !strings.Contains(behind, "said to show what is hidden") {
		t.Errorf("behind the deck, once it is said: %s", behind)
	}
	if w := b.do(httptest.NewRequest("GET", "/behind/person/ada", nil)); w.Code != http.StatusNotFound {
		t.Errorf("behind a person: %d", w.Code)
	}
	for _, path := range []string{"/behind", "/behind?lies=yes", "/behind/place/foredeck"} {
		if w := b.get(path); w.Code != http.StatusOK {
			t.Errorf("%s: %d", path, w.Code)
		}
	}
}

// A length on a picture is the known one times the ratio of the two, in the
// picture's own proportions, with what a mark may be off; it says that it was
// measured on a picture.
func TestLengthOnAPicture(t *testing.T) {
	f := shotBuild(t)
	b := visit(t, f)
	marks := url.Values{"known": {"300 mm"}, "what": {"pad, fore and aft"}, "aspect": {"1.3333333333"},
		"x1": {"0.1"}, "y1": {"0.5"}, "x2": {"0.4"}, "y2": {"0.5"}, // 0.3 of the width
		"x3": {"0.6"}, "y3": {"0.1"}, "x4": {"0.6"}, "y4": {"0.9"}} // 0.8 of the height: 0.6 of the width
	if w := b.post("/photo/ph2/measure", marks); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	all := journal.All[record.Measurement](as(t, f))
	m := all[len(all)-1]
	for _, x := range all {
		if x.Photo != "" {
			m = x
		}
	}
	if m.Taken != "on a picture" || m.Photo != "photo/ph2" || math.Abs(m.Got.SI-0.6) > 0.0011 || !m.Got.About || !(m.Got.Low < 0.6 && 0.6 < m.Got.High) {
		t.Errorf("measured %+v", m)
	}
	if e := as(t, f).From(m.Self); e.Grounds.Rank() > record.Shown.Rank() {
		t.Errorf("a length on a picture is known as %s", e.Grounds)
	}
	for name, change := range map[string]url.Values{"no marks": {"x1": {""}}, "no length": {"known": {""}}, "no words": {"what": {""}}, "one place": {"x2": {"0.1"}}, "not a length": {"known": {"3 kg"}}} {
		bad := url.Values{}
		for k, v := range marks {
			bad[k] = v
		}
		for k, v := range change {
			bad[k] = v
		}
		if w := b.post("/photo/ph2/measure", bad); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `id="measure-says"`) {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
}

// Taken out on demand, a file is gone with its small copies; its row, the
// reason and the hash stay.
func TestTakingAPictureOut(t *testing.T) {
	f := shotBuild(t)
	b := visit(t, f)
	p, _ := journal.Get[record.Photo](as(t, f), "photo/ph2")
	for _, bad := range []url.Values{{"sure": {"yes"}}, {"reason": {"a face"}}} {
		if w := b.post("/photo/ph2/expunge", bad); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%v: %d", bad, w.Code)
		}
	}
	if w := b.post("/photo/ph2/expunge", url.Values{"reason": {"a face"}, "sure": {"yes"}, "author": {"owner"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if _, err := f.File(p.File); err == nil {
		t.Error("the file is still there")
	}
	if page := b.get("/photo/ph2").Body.String(); !strings.Contains(page, "taken out for good") {
		t.Error("the page does not say that it was taken out")
	}
}

// The pages of pictures stand on a phone and a desk.
func TestPicturePagesInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := shotBuild(t)
	site := visit(t, f)
	site.post("/photos/sort", url.Values{"photo": {"ph3"}, "of": {"part/deck"}})
	write(t, f, journal.Always, record.Seen, "ph3", record.Photo{Name: "IMG_0003.jpg", View: "bow"})
	srv := httptest.NewServer(site.site)
	t.Cleanup(srv.Close)
	t.Cleanup(site.site.(interface{ Rest() }).Rest)
	for _, x := range []struct {
		size   browser.Size
		scheme browser.Scheme
	}{{browser.Phone, browser.Light}, {browser.Desk, browser.Dark}} {
		tab := browser.New(t, x.size, x.scheme)
		for _, path := range []string{"/photos", "/photo/ph2", "/behind", "/behind/part/deck", "/same-view?name=bow"} {
			tab.Go(srv.URL + path)
			if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
				t.Errorf("%s, %s: %v", path, x.size.Name, found)
			}
		}
		// A key sorts, and the next one stands there.
		tab.Go(srv.URL + "/photo/ph2")
		var marks int
		tab.Eval(`(() => { document.querySelector("[data-marks] button").click(); return ""; })()`, new(string))
		tab.Eval(`document.querySelectorAll(".photo-mark").length`, &marks)
		if marks != 4 {
			t.Errorf("%d marks stand on the picture", marks)
		}
	}
}
