package web_test

import (
	"fmt"
	"net/http/httptest"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"

	"dogshore/internal/browser"
	"dogshore/journal"
	"dogshore/record"
)

// A whole visit on a phone: begun, stages tapped without leaving one's place,
// an agreement and a defect noted, what is refused kept, the letter sent and
// answered. Each page is looked at on a phone and on a desk, in light and dark.
func TestVisitInABrowser(t *testing.T) {
	if testing.Short() {
		t.Skip("a real browser takes its time")
	}
	f := typicalBuild(t)
	srv := httptest.NewServer(visit(t, f).site)
	t.Cleanup(srv.Close)
	c := &counted{Tab: browser.New(t, browser.Phone, browser.Light)}

	c.Go(srv.URL + "/visits")
	c.tap(`form[action="/visits"] button.main`)
	if c.taps != 1 {
		t.Errorf("beginning a visit took %d taps", c.taps)
	}
	c.stages(t)
	write(t, f, 46000, record.Told, "elsewhere", record.Note{Text: "written in another window"})
	c.Eval(`new Promise((done) => { const note = document.querySelector(".fresh"); const look = () => note.hidden ? setTimeout(look, 50) : done(); look(); })`, nil)
	c.look(t, "visit")

	c.agreement(t)
	c.taps, c.fields = 0, 0
	c.Do(chromedp.Click("#stop-deck .here a", chromedp.ByQuery))
	c.fill("#d-what", "gap at a joint")
	c.tap("#form-defect button.main")
	if c.taps != 1 || c.fields != 1 {
		t.Errorf("a defect took %d taps and %d fields besides the one that says where", c.taps, c.fields)
	}
	for _, d := range journal.All[record.Defect](as(t, f)) {
		if d.What == "gap at a joint" && d.Part != "part/deck" {
			t.Errorf("a defect that was begun at the deck is of %q", d.Part)
		}
	}
	if got := c.Text(".found"); !strings.Contains(got, "Four drains of 25 mm") || !strings.Contains(got, "gap at a joint") {
		t.Errorf("noted at this visit is %q", got)
	}
	c.look(t, "visit-noted")
	if got := c.Barriers(); len(got) > 0 {
		t.Errorf("the visit's sheet:\n  %s", strings.Join(got, "\n  "))
	}
	c.tap(`form[action$="/close"] button`)
	c.letter(t)

	r := as(t, f)
	if n := len(journal.All[record.Letter](r)); n != 1 {
		t.Errorf("%d letters are on file", n)
	}
	if answers := journal.All[record.Answer](r); len(answers) != 1 || answers[0].Text != "yes, by Thursday" || answers[0].By != "person/ada" {
		t.Errorf("on file are the answers %+v", answers)
	}
}

// stages taps two stages of the deck: neither tap loads the page anew, and
// what one wrote oneself is not offered as something new.
func (c *counted) stages(t *testing.T) {
	t.Helper()
	c.Eval(`window.same = true`, nil)
	for _, state := range []string{"under way", "done"} {
		c.tap(fmt.Sprintf(`#stop-deck form.tap button[value=%q]`, state))
		if got := c.Text(".found"); !strings.Contains(got, "deck core: "+state) {
			t.Fatalf("after a tap on %q what is noted is %q", state, got)
		}
	}
	if got := c.Text("#stop-deck"); !strings.Contains(got, "deck bagged") {
		t.Errorf("once the core is done the deck offers %q", got)
	}
	var same bool
	c.Eval(`window.same === true`, &same)
	if !same {
		t.Error("a tap loaded the page anew")
	}
	var behind int
	c.Eval(`fetch("/last").then((a) => a.text()).then((n) => Number(n) - Number(document.querySelector(".fresh").dataset.after))`, &behind)
	if behind != 0 {
		t.Errorf("%d of one's own taps would be offered as written elsewhere", behind)
	}
}

// agreement notes one: first refused for a step that nobody knows, then with
// what was kept.
func (c *counted) agreement(t *testing.T) {
	t.Helper()
	c.taps, c.fields = 0, 0
	c.fill("#a-says", "Four drains of 25 mm")
	c.pick("#a-with", "Ada Quill")
	c.fill("#a-before", "no such step")
	c.tap("#form-agreement button.main")
	var kept []string
	c.Eval(`["#a-says", "#a-with", "#a-before"].map((x) => document.querySelector(x).value)`, &kept)
	if strings.Join(kept, "|") != "Four drains of 25 mm|Ada Quill|no such step" {
		t.Errorf("refused, the agreement came back as %q", kept)
	}
	if got := c.Text(`[role="alert"]`); !strings.Contains(got, "no such step") {
		t.Errorf("refused because %q", got)
	}
	c.look(t, "visit-refused")
	c.fill("#a-before", "deck bagged")
	c.tap("#form-agreement button.main")
	if c.taps != 2 || c.fields != 4 {
		t.Errorf("an agreement with one mistake took %d taps and %d fields", c.taps, c.fields)
	}
}

// letter sends the draft with a point of one's own, and writes what was
// answered to its first line.
func (c *counted) letter(t *testing.T) {
	t.Helper()
	if got := c.Text("pre.letter-text"); !strings.Contains(got, "Four drains of 25 mm") || !strings.Contains(strings.ToLower(got), "gap at a joint") {
		t.Errorf("the letter says %q", got)
	}
	c.fill("#more", "Please keep the off-cuts.")
	c.tap(`button[value="show"]`)
	if got := c.Text("pre.letter-text"); !strings.Contains(got, "Please keep the off-cuts.") {
		t.Errorf("shown with what was added it says %q", got)
	}
	c.look(t, "letter-draft")
	c.tap(`button[value="sent"]`)
	if got := c.Text(".sent"); !strings.Contains(got, "Please keep the off-cuts.") {
		t.Errorf("sent was %q", got)
	}
	var first int
	c.Eval(`document.querySelector(".sent li").value`, &first)
	c.fill("#pasted", fmt.Sprintf("Hello, %d yes, by Thursday", first))
	c.tap(`button[value="read"]`)
	c.look(t, "letter-read")
	c.tap(`button[value="write"]`)
	if got := c.Text(".sent li:first-child .answer"); !strings.Contains(got, "yes, by Thursday") || !strings.Contains(got, "Ada Quill") {
		t.Errorf("answered was %q", got)
	}
	c.look(t, "letter")
	if got := c.Barriers(); len(got) > 0 {
		t.Errorf("the letter:\n  %s", strings.Join(got, "\n  "))
	}
}

// pick chooses one of a list by its value.
func (c *counted) pick(selector, value string) {
	c.fields++
	c.Eval(fmt.Sprintf(`(() => { const list = document.querySelector(%q); list.value = %q; if (list.value !== %[2]q) throw new Error("no such choice") })()`, selector, value), nil)
}

// look looks at the page as it stands, at each size and in each scheme: what
// would one stumble over?
func (c *counted) look(t *testing.T, name string) {
	t.Helper()
	for _, size := range []browser.Size{browser.Desk, browser.Phone} {
		for _, scheme := range []browser.Scheme{browser.Dark, browser.Light} {
			c.Look(size, scheme)
			if got := c.Stumbles(); len(got) > 0 {
				t.Errorf("%s, %s, %s:\n  %s", name, size.Name, scheme, strings.Join(got, "\n  "))
			}
			c.Picture(name)
		}
	}
}
