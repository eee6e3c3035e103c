package drawing

import (
	"math"
	"slices"
	"strconv"
	"strings"

	"dogshore/desk/deck"
	"dogshore/internal/draw"
	"dogshore/plane"
	"dogshore/record"
)

// layer draws what body does as a layer; of are the things that it belongs to.
func (t deckPen) layer(name string, of []record.Ref, body func()) {
	l := draw.Layer{Name: name, Apart: t.only != "" && len(of) > 0 && !slices.Contains(of, t.only) || name == DeckAloneLayer && t.only == ""}
	for _, r := range of {
		l.Of = append(l.Of, string(r))
	}
	t.d.Layer(l, body)
}

// hung lists a line or eye with the tasks that are clipped to it.
func (t deckPen) hung(of string) []record.Ref {
	out := []record.Ref{record.Ref(of)}
	for _, task := range t.x.Tasks {
		for _, part := range task.Walked.Parts {
			if line, _, _ := strings.Cut(part.On, ", "); line == of && !slices.Contains(out, task.Self) { // a piece of it counts
				out = append(out, task.Self)
			}
		}
	}
	return out
}

// reach draws how far the longest leg lets one go on each line under load; of
// an eye only when it is shown alone.
func (t deckPen) reach() {
	for _, l := range t.x.Result.Lines {
		r := longestReach(l.Reaches)
		if r == nil {
			continue
		}
		t.layer(DeckReachLayer, t.hung(l.ID), func() {
			for _, piece := range r.Soft {
				t.d.Area("shut", t.at(piece)...)
				t.d.Line(draw.Hidden, t.at(plane.Closed(piece))...)
			}
		})
	}
	leg := longestLeg(t.x)
	for _, c := range t.x.Case.Points {
		t.layer(DeckAloneLayer, []record.Ref{record.Ref(c.ID)}, func() {
			r := leg * t.view.Scale
			round := draw.Arc(t.view.At(c.At.X, c.At.Y), r, r, 0, 360)
			t.d.Area("shut", round...)
			t.d.Line(draw.Hidden, round...)
		})
	}
}

// longestLeg is the longest leg that the answers speak of.
func longestLeg(x *deck.Arrangement) (leg float64) {
	for _, l := range x.Result.Lines {
		if r := longestReach(l.Reaches); r != nil {
			leg = max(leg, r.Leg)
		}
	}
	for _, p := range x.Result.Points {
		for _, s := range p.Sides {
			leg = max(leg, s.Leg)
		}
	}
	return leg
}

// swept hatches what the boom and its sheet sweep; with a line shown alone it
// is out of sight, with a task or a preventer not.
func (t deckPen) swept() {
	var of []record.Ref
	for _, task := range t.x.Tasks {
		of = append(of, task.Self)
	}
	for _, g := range t.x.Gybe {
		for _, lead := range g.Result.Leads {
			of = append(of, record.Ref(lead.Preventer))
		}
	}
	for _, z := range t.x.Sweep.Zones {
		for _, in := range t.x.Sweep.Inside {
			if in.Zone == z.Name && record.Ref(in.Station).Kind() == "fitting" {
				of = append(of, record.Ref(in.Station))
			}
		}
		t.layer(DeckSweptLayer, of, func() {
			for _, o := range z.Outlines {
				run := t.at(o)
				t.d.Hatch(0.12, -45, run...)
				if len(run) > 0 {
					t.d.Line(draw.Centre, append(run, run[0])...)
				}
			}
		})
	}
}

// ways draws the ways of the tasks; where one is not clipped on, heavily.
func (t deckPen) ways() {
	for _, task := range t.x.Tasks {
		t.layer(DeckTaskLayer, []record.Ref{task.Self}, func() {
			t.d.Line(draw.Centre, t.on(task.Way)...)
			for _, gap := range task.Gaps() {
				t.d.Line(draw.Lead, t.at(gap)...)
			}
		})
	}
}

// preventers draws each lead from the boom, as far out as it is set up.
func (t deckPen) preventers() {
	for _, g := range t.x.Gybe {
		for _, lead := range g.Result.Leads {
			run := leadRun(g, lead.Preventer, string(lead.Side), lead.Set)
			t.layer(DeckPreventerLayer, []record.Ref{record.Ref(lead.Preventer)}, func() { t.d.Line(draw.Hidden, t.at(run)...) })
		}
	}
}

// leadRun is where a preventer runs, seen from above: from the boom at its
// angle through its turns; on the other side mirrored.
func leadRun(g deck.Gybe, name, side string, set float64) []plane.Point {
	for _, pr := range g.Case.Preventers {
		if pr.Name != name {
			continue
		}
		s := 1.0
		if side == "starboard" {
			s = -1
		}
		sin, cos := math.Sincos(set)
		b := g.Case.Boom.Gooseneck
		run := []plane.Point{{X: b.X - pr.At*cos, Y: b.Y + s*pr.At*sin}}
		for _, turn := range pr.Turns {
			y := turn.Spot.Y
			if !turn.Stays && s*y < 0 {
				y = -y
			}
			run = append(run, plane.Point{X: turn.Spot.X, Y: y})
		}
		return run
	}
	return nil
}

// lines draws jackstays with their points.
func (t deckPen) lines() {
	for _, l := range t.x.Case.Lines {
		run := t.run(l.ID)
		ref := record.Ref(l.ID)
		t.d.Link("/of/jackstay/"+ref.Key(), t.nameOf(ref), func() { t.d.Line(draw.Bold, run...) })
		for i, s := range l.Supports {
			t.handle(record.Ref(s.ID), record.Spot{Known: true, X: s.At.X, Y: s.At.Y, Z: s.At.Z})
			t.d.Dot(draw.Outline, run[i], 1.1)
		}
	}
}

// run is where a line runs on the sheet.
func (t deckPen) run(id string) []draw.Point {
	var out []draw.Point
	for _, l := range t.x.Case.Lines {
		for _, s := range l.Supports {
			if l.ID == id {
				out = append(out, t.view.At(s.At.X, s.At.Y))
			}
		}
	}
	return out
}

// eyes draws the other fittings, and the turns of preventers that are none.
func (t deckPen) eyes() {
	for _, f := range t.x.Fittings {
		if !f.Spot.Known {
			continue
		}
		if t.handle(f.Self, f.Spot) {
			t.d.Dot(draw.Outline, t.view.At(f.Spot.X, f.Spot.Y), 0.9)
		}
		if f.Clip == record.Yes {
			t.d.Line(draw.Outline, draw.Arc(t.view.At(f.Spot.X, f.Spot.Y), 1.7, 1.7, 0, 360)...)
		}
	}
	for _, g := range t.x.Gybe {
		for _, pr := range g.Case.Preventers {
			for _, turn := range pr.Turns {
				ref := record.Ref(turn.Name)
				if ref.Kind() == "turn" && t.handle(ref, record.Spot{Known: true, X: turn.Spot.X, Y: turn.Spot.Y, Z: turn.Spot.Z}) {
					t.d.Dot(draw.Outline, t.view.At(turn.Spot.X, turn.Spot.Y), 0.9)
				}
			}
		}
	}
}

// number counts what the page says more of: lines, eyes to clip to, tasks,
// preventers.
func (t deckPen) number() {
	for _, l := range t.x.Case.Lines {
		t.row(record.Ref(l.ID))
	}
	for _, c := range t.x.Case.Points {
		t.row(record.Ref(c.ID))
	}
	for _, task := range t.x.Tasks {
		t.row(task.Self)
	}
	for _, g := range t.x.Gybe {
		for _, lead := range g.Result.Leads {
			t.row(record.Ref(lead.Preventer))
		}
	}
}

// row numbers a thing of the drawing once.
func (t deckPen) row(self record.Ref) {
	if !slices.ContainsFunc(t.sheet.Rows, func(r DeckRow) bool { return r.Of == self }) {
		t.sheet.Rows = append(t.sheet.Rows, DeckRow{len(t.sheet.Rows) + 1, self, t.nameOf(self)})
	}
}

// handle notes that a hand can move a point; false if it was noted before.
func (t deckPen) handle(self record.Ref, at record.Spot) bool {
	if slices.ContainsFunc(t.sheet.Handles, func(h Handle) bool { return h.Self == self }) {
		return false
	}
	t.sheet.Handles = append(t.sheet.Handles, Handle{Self: self, Name: t.nameOf(self), Spot: at, At: t.view.At(at.X, at.Y)})
	return true
}

func (t deckPen) nameOf(self record.Ref) string {
	for _, l := range t.x.Lines {
		if l.Self == self {
			return l.Name
		}
		for _, s := range t.x.Supports[l.Self] {
			if s.Self == self {
				return l.Name + ", point " + strconv.Itoa(int(s.Number.SI+0.5))
			}
		}
	}
	for _, f := range t.x.Fittings {
		if f.Self == self {
			return f.Name
		}
	}
	for _, task := range t.x.Tasks {
		if task.Self == self {
			return task.Name
		}
	}
	return self.Key()
}
