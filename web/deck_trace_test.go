package web_test

import (
	"bytes"
	"encoding/json"
	"fmt"
	"image"
	"image/color"
	"image/png"
	"math"
	"mime/multipart"
	"net/http"
	"net/http/httptest"
	"net/url"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"dogshore/internal/browser"
	"dogshore/internal/test"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
)

// planPicture is a picture of 1000 by 500 pixels, made up.
func planPicture(t testing.TB) []byte {
	t.Helper()
	m := image.NewGray(image.Rect(0, 0, 1000, 500))
	for i := range m.Pix {
		m.Pix[i] = 235
		if x, y := i%1000, i/1000; x%100 == 0 || y%100 == 0 {
			m.Set(x, y, color.Gray{Y: 120})
		}
	}
	var b bytes.Buffer
	if err := png.Encode(&b, m); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// handIn sends a file to the list of tracings.
func handIn(b *browse, name, file string, raw []byte) *httptest.ResponseRecorder {
	var body bytes.Buffer
	form := multipart.NewWriter(&body)
	_ = form.WriteField("name", name) // a buffer takes everything
	part, _ := form.CreateFormFile("file", file)
	_, _ = part.Write(raw)
	_ = form.Close()
	r := httptest.NewRequest("POST", "/deck/trace", &body)
	r.Header.Set("Content-Type", form.FormDataContentType())
	return b.do(r)
}

// traceBuild is the deck's build with a picture to trace over. scaled also
// writes its two points: 100 px to the metre, the after end of the waterline at
// 50, 250, the bow to the right.
func traceBuild(t testing.TB, scaled bool) (*store.Folder, *browse) {
	t.Helper()
	f := deckBuild(t)
	b := visit(t, f)
	if w := handIn(b, "Deck plan, sheet 4", "plan.png", planPicture(t)); w.Code != http.StatusSeeOther || !strings.HasPrefix(w.Header().Get("Location"), "/deck/trace/deck-plan-sheet-4?") {
		t.Fatalf("handing in: %d %s", w.Code, w.Body)
	}
	if scaled {
		if w := b.post("/deck/trace/deck-plan-sheet-4/scale", twoPoints()); w.Code != http.StatusSeeOther {
			t.Fatalf("scaling: %d %s", w.Code, w.Body)
		}
	}
	return f, b
}

func twoPoints() url.Values {
	return url.Values{"a": {"0; 0; 1"}, "a_left": {"50"}, "a_down": {"250"}, "b": {"9; 0; 1"}, "b_left": {"950"}, "b_down": {"250"}, "reading": {"2"}}
}

// Two points scale a picture; how far off a traced point may be follows from
// the marks, or is typed; a third point shows how far off it reads.
func TestScalingATracing(t *testing.T) {
	f, b := traceBuild(t, false)
	if page := b.get("/deck/trace/deck-plan-sheet-4").Body.String(); !strings.Contains(page, "shows over it once two points are marked") || strings.Contains(page, "<polygon") {
		t.Error("a picture without its points shows what is on record over it")
	}
	w := b.post("/deck/trace/deck-plan-sheet-4/scale", twoPoints())
	if w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	x, _ := journal.Get[record.Tracing](as(t, f), "tracing/deck-plan-sheet-4")
	if x.A.X != 0 || x.B.X != 9 || x.BLeft.SI != 950 || !x.Off.About {
		t.Fatalf("%+v", x)
	}
	// 2 px of 10 mm; the corner (1000, 0) lies 982.3 + 254.95 px from the marks, which lie 900 px apart.
	lever := (math.Hypot(950, 250) + math.Hypot(50, 250)) / 900
	test.Check(t, "how far a traced point may be off, m, for marks off by 2 px of 10 mm", "derived: px scale (1 + (|p-a| + |p-b|)/|a-b|), printed to two digits", 2*0.01*(1+lever), x.Off.SI, 0.005)
	page := b.get("/deck/trace/deck-plan-sheet-4").Body.String()
	for _, says := range []string{"One pixel is 10 mm on the boat", `data-at="9 1"`, `cx="950.0" cy="150.0"`, "Port side", `name="to" value="edge"`, "edit=level"} {
		if !strings.Contains(page, says) {
			t.Errorf("the page does not say %q", says)
		}
	}
	for text, says := range map[string]string{"4.5; 1; 1": "within what the marks explain", "4.5; 1.4; 1": "more than the marks explain", "up there": "is no spot"} {
		q := url.Values{"c": {text}, "c_left": {"500"}, "c_down": {"150"}}
		if page := b.get("/deck/trace/deck-plan-sheet-4?" + q.Encode()).Body.String(); !strings.Contains(page, says) {
			t.Errorf("a third point at %s: the page does not say %q", text, says)
		}
	}
	typed := twoPoints()
	typed.Set("off", "50 mm")
	if w := b.post("/deck/trace/deck-plan-sheet-4/scale", typed); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if x, _ = journal.Get[record.Tracing](as(t, f), "tracing/deck-plan-sheet-4"); x.Off.SI != 0.05 || x.Off.About {
		t.Errorf("typed: %+v", x.Off)
	}
	for name, change := range map[string]string{"a": "there", "b_left": "50", "b": "0; 0; 1", "a_down": "", "off": "3 kg"} {
		bad := twoPoints()
		bad.Set(name, change)
		if name == "b_left" {
			bad.Set("b_down", "250")
		}
		if name == "a_down" {
			continue // what is on record stands where nothing is typed
		}
		if w := b.post("/deck/trace/deck-plan-sheet-4/scale", bad); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `role="alert"`) {
			t.Errorf("%s = %q: %d", name, change, w.Code)
		}
	}
}

// Without script an outline is typed, of any kind, and changed on the same
// page; its entry says what it was traced over, and how far off it may be.
func TestTracingWithoutScript(t *testing.T) {
	f, b := traceBuild(t, true)
	at := "/deck/trace/deck-plan-sheet-4/outline"
	for kind, x := range map[string]url.Values{
		"level":    {"name": {"Coachroof"}, "plan": {"3 -0.8; 6,5 -0.7; 6.5 0.7; 3 0.8"}, "height": {"1,6 m"}},
		"edge":     {"name": {"Starboard side"}, "path": {"0 -1.4; 9 -1"}, "height": {"1.0 to 1.1 m"}, "rail": {"0 m"}},
		"obstacle": {"name": {"Bow cleat"}, "sort": {"cleat"}, "plan": {"8.6 0.4"}, "height": {"90 mm"}},
		"sweep":    {"name": {"Mainsheet"}, "sort": {"mainsheet"}, "plan": {"1 -1; 2 0; 1 1"}, "low": {"1.2 m"}, "high": {"2 m"}},
	} {
		x.Set("kind", kind)
		x.Set("holds", "always")
		if w := b.post(at, x); w.Code != http.StatusSeeOther || !strings.Contains(w.Header().Get("Location"), "kind="+kind) {
			t.Fatalf("%s: %d %s", kind, w.Code, w.Body)
		}
	}
	roof, ok := journal.Get[record.Level](as(t, f), "level/coachroof")
	if !ok || len(roof.Plan) != 4 || roof.Plan[1] != [2]float64{6.5, -0.7} {
		t.Fatalf("%+v", roof)
	}
	e := as(t, f).From("level/coachroof")
	if e.Grounds != record.Written || !strings.HasPrefix(e.Origin, "traced over Deck plan, sheet 4, within") || e.Since != journal.Always {
		t.Errorf("%+v", e)
	}
	// Changed on the same page, over the entry that the form showed.
	page := b.get("/deck/trace/deck-plan-sheet-4?edit=level%2Fcoachroof").Body.String()
	h, _ := as(t, f).Held("level/coachroof", "plan")
	if !strings.Contains(page, "Change Coachroof") || !strings.Contains(page, `name="over.plan" value="`+h.Entry.ID) || !strings.Contains(page, "3 -0.8; 6.5 -0.7") {
		t.Fatal("the page does not hold the outline that is to be changed")
	}
	was := "3 -0.8; 6.5 -0.7; 6.5 0.7; 3 0.8"
	change := url.Values{"edit": {"level/coachroof"}, "name": {"Coachroof"}, "was.name": {"Coachroof"}, "plan": {was + "; 2.9 0"}, "was.plan": {was}, "over.plan": {h.Entry.ID}, "height": {"1.6 m"}, "was.height": {"1.6 m"}, "holds": {"correction"}}
	if w := b.post(at, change); w.Code != http.StatusSeeOther {
		t.Fatalf("%d %s", w.Code, w.Body)
	}
	if roof, _ = journal.Get[record.Level](as(t, f), "level/coachroof"); len(roof.Plan) != 5 || len(as(t, f).Doubts()) != len(as(t, deckBuild(t)).Doubts()) {
		t.Errorf("%+v", roof)
	}
	// What was typed stays where it is refused, and where it is something else.
	bad := b.post(at, url.Values{"kind": {"level"}, "name": {"Half"}, "plan": {"1 1; 2 2"}})
	if bad.Code != http.StatusUnprocessableEntity || !strings.Contains(bad.Body.String(), "1 1; 2 2") || !strings.Contains(bad.Body.String(), "at least three corners") {
		t.Errorf("an outline of two corners: %d", bad.Code)
	}
	if page := b.get("/deck/trace/deck-plan-sheet-4?kind=level&to=edge&name=Rail&plan=1+1%3B+2+2").Body.String(); !strings.Contains(page, `id="f-path"`) || !strings.Contains(page, "1 1; 2 2") || !strings.Contains(page, `value="Rail"`) {
		t.Error("the corners do not go along when it is something else")
	}
	for _, p := range []string{"/deck/trace/none", "/deck/trace/deck-plan-sheet-4?kind=person", "/deck/trace/deck-plan-sheet-4?edit=level%2Fnone"} {
		if w := b.get(p); w.Code != http.StatusNotFound {
			t.Errorf("%s: %d", p, w.Code)
		}
	}
	if page := b.get("/deck/trace/deck-plan-sheet-4?as-of=2027-02-10").Body.String(); strings.Contains(page, `method="post"`) {
		t.Error("something can be drawn on a past day's sheet")
	}
}

// Only pictures that can be traced over are taken.
func TestPicturesToTraceOver(t *testing.T) {
	f := deckBuild(t)
	b := visit(t, f)
	for name, raw := range map[string]string{"plan.pdf": "%PDF-1.7", "plan.png": "", "film.mp4": "\x00\x00\x00\x18ftypmp42\x00\x00\x00\x00mp42isom", "plan.jpg": "\xff\xd8\xff broken"} {
		if w := handIn(b, "Plan", name, []byte(raw)); w.Code != http.StatusUnprocessableEntity || !strings.Contains(w.Body.String(), `role="alert"`) {
			t.Errorf("%s: %d", name, w.Code)
		}
	}
	if n := len(journal.All[record.Tracing](as(t, f))); n != 0 {
		t.Errorf("%d tracings", n)
	}
	if w := handIn(b, "", "Sheet 7.png", planPicture(t)); w.Code != http.StatusSeeOther {
		t.Fatalf("%d", w.Code)
	}
	if x := journal.All[record.Tracing](as(t, f)); len(x) != 1 || x[0].Name != "Sheet 7" {
		t.Errorf("%+v", x)
	}
}

// at is where a place of the picture, in its pixels, is in the window.
func at(tab *browser.Tab, left, down float64) [2]float64 {
	var out [2]float64
	tab.Eval(fmt.Sprintf(`(() => { const o = document.querySelector(".trace-over"); const b = o.getBoundingClientRect(); window.scrollBy(0, b.top - 60); const c = o.getBoundingClientRect(); return [c.left + %g / 1000 * c.width, c.top + %g / 500 * c.height]; })()`, left, down), &out)
	return out
}

// click is a tap or a click at a place of the picture.
func click(tab *browser.Tab, left, down float64) {
	p := at(tab, left, down)
	tab.Do(chromedp.MouseClickXY(p[0], p[1]))
}

func value(tab *browser.Tab, selector string) string {
	var out string
	tab.Eval(fmt.Sprintf(`document.querySelector(%q).value`, selector), &out)
	return out
}

// key presses keys on what has the focus in the picture.
func key(tab *browser.Tab, selector string, names ...string) {
	raw, _ := json.Marshal(names) // of strings
	tab.Eval(fmt.Sprintf(`(() => { const e = document.querySelector(%q); e.focus(); for (const k of %s) { const [key, shift] = k.startsWith("+") ? [k.slice(1), true] : [k, false]; document.activeElement.dispatchEvent(new KeyboardEvent("keydown", { key, shiftKey: shift, bubbles: true, cancelable: true })); } return ""; })()`, selector, raw), new(string))
}

// In a browser: marked by mouse, drawn by mouse and by keys, undone, a corner
// dragged and snapped to what is on record, written; on a phone and a desk.
func TestTracingInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	for _, x := range []struct {
		size   browser.Size
		scheme browser.Scheme
	}{{browser.Desk, browser.Light}, {browser.Phone, browser.Dark}} {
		f, b := traceBuild(t, false)
		srv := httptest.NewServer(b.site)
		t.Cleanup(srv.Close)
		tab := browser.New(t, x.size, x.scheme)
		tab.Go(srv.URL + "/deck/trace")
		if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
			t.Errorf("the list, %s: %v", x.size.Name, found)
		}
		tab.Go(srv.URL + "/deck/trace/deck-plan-sheet-4")
		click(tab, 50, 250)
		tab.Eval(`(() => { document.querySelector("input[name=tool][value=b]").click(); return ""; })()`, new(string))
		click(tab, 950, 250)
		if l, d := value(tab, "#s-b_left"), value(tab, "#s-b_down"); !within(l, 950, 3) || !within(d, 250, 3) {
			t.Fatalf("%s: the second mark stands at %s, %s", x.size.Name, l, d)
		}
		tab.Fill("#s-a", "0; 0; 1")
		tab.Fill("#s-b", "9; 0; 1")
		for name, v := range map[string]string{"a_left": "50", "a_down": "250", "b_left": "950", "b_down": "250"} {
			tab.Fill("#s-"+name, v)
		}
		tab.Click("#trace-scale button.main")
		if found := append(tab.Stumbles(), tab.Barriers()...); len(found) > 0 {
			t.Errorf("the page, %s: %v", x.size.Name, found)
		}
		// Three corners by mouse; the second near one on record is taken as that.
		click(tab, 350, 200)
		click(tab, 953, 152)
		click(tab, 650, 330)
		got := value(tab, "#f-plan")
		if corners := strings.Split(got, "; "); len(corners) != 3 || corners[1] != "9 1" {
			t.Fatalf("%s: drawn by mouse: %q", x.size.Name, got)
		}
		tab.Eval(`(() => { document.querySelector("[data-do=undo]").click(); return ""; })()`, new(string))
		if now := value(tab, "#f-plan"); len(strings.Split(now, "; ")) != 2 {
			t.Errorf("%s: undone: %q", x.size.Name, now)
		}
		// And by keys: the cross moves, Enter adds a corner, a corner moves.
		key(tab, ".trace-over", "ArrowDown", "+ArrowRight", "+ArrowRight", "Enter")
		byKeys := value(tab, "#f-plan")
		if len(strings.Split(byKeys, "; ")) != 3 {
			t.Fatalf("%s: drawn by keys: %q", x.size.Name, byKeys)
		}
		key(tab, `.trace-handle[aria-label="Corner 3 of the outline"]`, "+ArrowLeft", "+ArrowLeft")
		if moved := value(tab, "#f-plan"); moved == byKeys || len(strings.Split(moved, "; ")) != 3 {
			t.Errorf("%s: a corner moved by keys: %q", x.size.Name, moved)
		}
		var box []float64
		tab.Eval(`(() => { const b = document.querySelector(".trace-handle .wide").getBoundingClientRect(); return [b.width, b.height]; })()`, &box)
		if box[0] < 44 || box[1] < 44 {
			t.Errorf("%s: a handle is %v", x.size.Name, box)
		}
		// A finger drags a corner, with a loupe beside it.
		from := at(tab, 350, 200)
		touch(tab, from, [2]float64{from[0] + 6, from[1] + 3}, [2]float64{from[0] + 12, from[1] + 6})
		if dragged := value(tab, "#f-plan"); strings.HasPrefix(dragged, strings.Split(byKeys, "; ")[0]+";") {
			t.Errorf("%s: dragged: %q", x.size.Name, dragged)
		}
		tab.Eval(`(() => { document.querySelector("[data-do=larger]").click(); return ""; })()`, new(string))
		var middle float64 // of what is seen, in parts of the picture's width
		tab.Eval(`(() => { const v = document.querySelector(".trace-window"); return (v.scrollLeft + v.clientWidth / 2) / document.querySelector(".trace-frame").clientWidth; })()`, &middle)
		if math.Abs(middle-0.5) > 0.02 {
			t.Errorf("%s: enlarged, the middle moves to %g", x.size.Name, middle)
		}
		tab.Picture("trace-" + x.size.Name + "-" + string(x.scheme))
		if found := tab.Stumbles(); len(found) > 0 {
			t.Errorf("enlarged, %s: %v", x.size.Name, found)
		}
		tab.Fill("#f-name", "Drawn")
		tab.Fill("#f-height", "1.5 m")
		tab.Click("#trace-outline button.main")
		drawn, ok := journal.Get[record.Level](as(t, f), "level/drawn")
		if !ok || len(drawn.Plan) != 3 || drawn.Plan[1] != [2]float64{9, 1} || drawn.Height.SI != 1.5 {
			t.Errorf("%s: written: %+v", x.size.Name, drawn)
		}
	}
}

func within(text string, want, by float64) bool {
	var got float64
	_, err := fmt.Sscanf(text, "%g", &got)
	return err == nil && math.Abs(got-want) <= by
}
