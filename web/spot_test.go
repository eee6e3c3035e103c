package web_test

import (
	"math"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strconv"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/record"
)

// A picture's place is written as it was pointed at; what was not pointed at
// comes from the drawing and says so; what can't be known is refused.
func TestPlaceOfAPicture(t *testing.T) {
	f := shotBuild(t)
	b := visit(t, f)
	rest(t, b)
	photo := func() record.Photo {
		p, _ := journal.Get[record.Photo](as(t, f), "photo/ph2")
		return p
	}
	if w := b.post("/photo/ph2/spot", url.Values{"x": {"2.1"}, "y": {"-0,5"}, "facing": {"forward and to port"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	p := photo()
	// The hull's profile at 2.1 m: keel from (1, -0.3) to (8.6, -0.4), sheer from (0.2, 0.9) to (9.8, 1.2).
	keel, sheer := -0.3-0.1*(2.1-1)/7.6, 0.9+0.3*(2.1-0.2)/9.6
	if s := p.Spot; s.X != 2.1 || s.Y != -0.5 || math.Abs(s.Z-(keel+sheer)/2) > 0.006 || !strings.Contains(s.As, "the height taken from the outline of Hull") || p.Facing != "forward and to port" {
		t.Errorf("%+v, %s", p.Spot, p.Facing)
	}
	if page := b.get("/photo/ph2").Body.String(); !strings.Contains(page, "Not pointed at: the height") {
		t.Error("the page does not say what was not pointed at")
	}
	held := func() record.Grounds { h, _ := as(t, f).Held("photo/ph2", "spot"); return h.Entry.Grounds }
	if g := held(); g != record.Inferred {
		t.Errorf("with its height from the drawing it is known as %s", g)
	}
	for name, form := range map[string]url.Values{"beside her": {"x": {"2"}, "y": {"9"}}, "one number": {"x": {"2"}}, "no number": {"x": {"bow"}, "y": {"1"}, "z": {"1"}}, "NaN": {"x": {"NaN"}, "y": {"1"}, "z": {"1"}}, "no such way": {"x": {"2"}, "y": {"0"}, "z": {"0"}, "facing": {"inward"}}} {
		if w := b.post("/photo/ph2/spot", form); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	if photo().Spot != p.Spot {
		t.Error("what was refused was written")
	}
	if b.post("/photo/ph2/spot", url.Values{"x": {"2.1"}, "y": {"-0.5"}, "z": {"0.4"}}); held() != record.Seen {
		t.Errorf("all of it pointed at, it is known as %s", held())
	}
	for _, path := range []string{"/boat", "/behind", "/behind?lies=yes"} {
		if page := b.get(path).Body.String(); !strings.Contains(page, `href="/photo/ph2"`) {
			t.Errorf("%s does not show the picture's place", path)
		}
	}
}

// Behind a tapped place stands the picture near it, and not behind another.
func TestBehindATappedPlace(t *testing.T) {
	f := shotBuild(t)
	b := visit(t, f)
	rest(t, b)
	b.post("/photo/ph2/spot", url.Values{"x": {"2.1"}, "y": {"0.5"}, "z": {"1"}})
	near, far := b.get("/behind/at?x=2.4&y=0.3").Body.String(), b.get("/behind/at?x=7&y=0").Body.String()
	if !strings.Contains(near, "2.4 m forward, 0.3 m to port") || !strings.Contains(near, `href="/part/deck"`) && !strings.Contains(near, `href="/behind/part/deck"`) {
		t.Errorf("what lies there: %s", near)
	}
	if !strings.Contains(near, `href="/photo/ph2"`) || strings.Contains(far, `href="/photo/ph2"`) {
		t.Errorf("near: %v, far: %v", strings.Contains(near, `href="/photo/ph2"`), strings.Contains(far, `href="/photo/ph2"`))
	}
	for _, bad := range []string{"", "?x=1", "?x=a&y=1", "?x=1e9&y=1"} {
		if w := b.get("/behind/at" + bad); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%q: %d", bad, w.Code)
		}
	}
}

// What a picture shows is pointed at in parts of it; the letter has the arrow
// only where somebody pointed.
func TestPointingOnAPicture(t *testing.T) {
	f := shotBuild(t)
	b := visit(t, f)
	rest(t, b)
	write(t, f, journal.Always, record.Seen, "ev", record.Evidence{Shows: "defect/df1", Photo: "photo/ph2"})
	if page := b.get("/letter-draft").Body.String(); !strings.Contains(page, "no arrow: nobody has pointed") || strings.Contains(page, `class="edge"`) {
		t.Error("an arrow without a mark")
	}
	if w := b.post("/photo/ph2/point", url.Values{"evidence": {"ev"}, "left": {"0.7"}, "down": {"0,25"}}); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	e, _ := journal.Get[record.Evidence](as(t, f), "evidence/ev")
	if e.Left.SI != 0.7 || e.Down.SI != 0.25 {
		t.Errorf("%+v", e)
	}
	for _, path := range []string{"/photo/ph2", "/letter-draft"} {
		page := b.get(path).Body.String()
		if !strings.Contains(page, `x1="100%" y1="25%" x2="70%" y2="25%"`) {
			t.Errorf("%s has no arrow", path)
		}
	}
	for name, form := range map[string]url.Values{"off it": {"evidence": {"ev"}, "left": {"1.2"}, "down": {"0"}}, "half": {"evidence": {"ev"}, "left": {"0.2"}}, "NaN": {"evidence": {"ev"}, "left": {"NaN"}, "down": {"0"}}, "of another": {"evidence": {"none"}, "left": {"0.2"}, "down": {"0.2"}}} {
		if w := b.post("/photo/ph2/point", form); w.Code != http.StatusUnprocessableEntity {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
}

// A tap on the drawing says where: from above how far forward and to port, in
// the shed's view mirrored; on the picture where what it shows is.
func TestTapsInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := shotBuild(t)
	b := visit(t, f)
	rest(t, b)
	write(t, f, journal.Always, record.Seen, "ev", record.Evidence{Shows: "defect/df1", Photo: "photo/ph2"})
	srv := httptest.NewServer(b.site)
	t.Cleanup(srv.Close)
	tap := func(tab *browser.Tab, x, y string) { // a place of the first view from above, in metres of the view
		var at [2]float64
		tab.Eval(`(() => { const f = document.querySelector(".tap"), s = f.querySelector("svg"), v = JSON.parse(f.dataset.views).find((v) => !v.profile);
			const place = () => new DOMPoint(v.left + v.scale * `+x+`, v.zero - v.scale * `+y+`).matrixTransform(s.getScreenCTM());
			scrollBy(0, place().y - innerHeight / 2);
			return [place().x, place().y]; })()`, &at)
		tab.Do(chromedp.MouseClickXY(at[0], at[1]))
	}
	about := func(got, want string) bool { // to what a pixel of a phone is
		g, err1 := strconv.ParseFloat(got, 64)
		w, err2 := strconv.ParseFloat(want, 64)
		return err1 == nil && err2 == nil && math.Abs(g-w) < 0.05
	}
	for _, x := range []struct {
		size   browser.Size
		scheme browser.Scheme
		lies   string
		y      string
	}{{browser.Phone, browser.Light, "", "0.4"}, {browser.Desk, browser.Dark, "?lies=yes", "-0.4"}} {
		tab := browser.New(t, x.size, x.scheme)
		tab.Go(srv.URL + "/photo/ph2" + x.lies)
		tab.Eval(`(() => { document.querySelector("#spot details").open = true; return ""; })()`, new(string))
		tap(tab, "3", "0.4")
		var got string
		tab.Eval(`["x", "y", "z"].map((n) => document.getElementById("spot-form").elements[n].value).join(" ")`, &got)
		if xyz := strings.Split(got, " "); len(xyz) != 3 || !about(xyz[0], "3") || !about(xyz[1], x.y) || xyz[2] != "" {
			t.Errorf("tapped %q, want 3.00 %s", got, x.y)
		}
		tab.Eval(`(() => { const d = document.querySelector("details[data-enhance=point]"); d.open = true; return ""; })()`, new(string))
		tab.Until(`!!document.querySelector(".pointing")`)
		tab.Eval(`(() => { const s = document.querySelector(".pointing"), b = s.getBoundingClientRect(), o = { clientX: b.left + 0.25 * b.width, clientY: b.top + 0.75 * b.height, pointerId: 1, bubbles: true, cancelable: true };
			s.setPointerCapture = () => {}; s.dispatchEvent(new PointerEvent("pointerdown", o)); s.dispatchEvent(new PointerEvent("pointerup", o)); const e = document.querySelector("details[data-enhance=point] form").elements; return e.left.value + " " + e.down.value; })()`, &got)
		if got != "0.250 0.750" {
			t.Errorf("pointed at %q", got)
		}
		if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
			t.Errorf("%s: %v", x.size.Name, found)
		}
		tab.Picture("photo-" + x.size.Name)
		tab.Go(srv.URL + "/behind" + x.lies)
		tab.Picture("behind-" + x.size.Name)
		if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
			t.Errorf("behind, %s: %v", x.size.Name, found)
		}
		tap(tab, "3", "0.4")
		tab.Do(chromedp.WaitVisible(`//h1[contains(., "this place")]`, chromedp.BySearch))
		tab.Settled()
		if got := tab.Text("h1 + p"); !strings.Contains(got, " m to "+map[string]string{"0.4": "port", "-0.4": "starboard"}[x.y]) {
			t.Errorf("behind: %q", got)
		}
		tab.Picture("behind-at-" + x.size.Name)
		if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
			t.Errorf("behind a tap, %s: %v", x.size.Name, found)
		}
	}
}
