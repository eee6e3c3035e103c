package web

import (
	"fmt"
	"math"
	"net/http"
	"strconv"
	"strings"

	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
	"dogshore/unit"
)

// shownLine is what a picture is said to show, and where on it that is.
type shownLine struct {
	Named
	Number     int
	Evidence   record.Ref
	Left, Down string // in parts of its width and height; "" if nobody pointed
	Pointer    *pointer
}

// pointer is an arrow on a picture, from its nearer side to the mark.
type pointer struct {
	Number          int
	From, Left, Row string // percentages: the side, the mark, and its height
	Back            bool   // it comes from the right
}

func pointerAt(n int, left, down float64) *pointer {
	p := &pointer{Number: n, From: "0%", Left: fmt.Sprintf("%.4g%%", 100*left), Row: fmt.Sprintf("%.4g%%", 100*down)}
	if left > 0.5 {
		p.From, p.Back = "100%", true
	}
	return p
}

func (v *view) shownLine(n int, e record.Evidence) shownLine {
	x := shownLine{Named: v.Ref(e.Shows), Number: n, Evidence: e.Self}
	if e.Left.Known && e.Down.Known {
		x.Left, x.Down = part(e.Left.SI), part(e.Down.SI)
		if e.Left.SI >= 0 && e.Left.SI <= 1 && e.Down.SI >= 0 && e.Down.SI <= 1 {
			x.Pointer = pointerAt(n, e.Left.SI, e.Down.SI)
		}
	}
	return x
}

func part(x float64) string { return strconv.FormatFloat(math.Round(1000*x)/1000, 'f', -1, 64) }

// pointPhoto writes where on a picture something is that it is said to show: the
// letter's arrow points there.
func (s *Site) pointPhoto(w http.ResponseWriter, r *http.Request) error {
	f, v, self, err := s.photoWritten(r)
	if err != nil {
		return err
	}
	ref := record.R("evidence", r.PostFormValue("evidence"))
	e, ok := journal.Get[record.Evidence](v.rec, ref)
	if !ok || e.Photo != self {
		return refused("Nobody has said yet that the picture shows this.", "Say first what it shows, then point at it.")
	}
	var at [2]float64
	for i, name := range []string{"left", "down"} {
		x, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(r.PostFormValue(name)), ",", "."), 64)
		if err != nil || !(x >= 0 && x <= 1) {
			return refused("Nothing is written: where on the picture it is was not said.", "Tap the picture, or write two parts of one, as 0.4 from the left and 0.6 from above.")
		}
		at[i] = math.Round(1000*x) / 1000
	}
	now := s.draft(w, r, f, v.rec.From(ref).Since, groundsOr(r, record.Seen))
	now.Origin = "page of the picture"
	for _, x := range journal.Facts(ref, record.Values(record.Evidence{Left: unit.Q(at[0], unit.Number), Down: unit.Q(at[1], unit.Number)})) {
		x.Over = v.rec.Over(ref, x.Field)
		now.Facts = append(now.Facts, x)
	}
	if _, err := f.Accept(r.Context(), now); err != nil {
		return err
	}
	return wrote(w, r, pathOf(self), self, now.ID)
}

// pointedShot is a picture of a letter's point, with its arrow.
type pointedShot struct {
	Link    Named
	Screen  string
	Pointer *pointer
}

// pointedShots are the pictures that go with a point of a letter.
func (v *view) pointedShots(number int, photos []letter.Photo) []pointedShot {
	var out []pointedShot
	for _, p := range photos {
		if !canScreen(p.File) {
			continue
		}
		x := pointedShot{Link: v.Ref(p.Self), Screen: "/picture/" + p.File.SHA256 + "/screen"}
		if p.Marked {
			x.Pointer = pointerAt(number, p.Left, p.Down)
		}
		out = append(out, x)
	}
	return out
}
