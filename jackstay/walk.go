package jackstay

import (
	"fmt"
	"math"

	"dogshore/plane"
)

// Posture is how a person is at a place.
type Posture string

// The postures.
const (
	Standing Posture = "standing"
	Kneeling Posture = "kneeling"
	Lying    Posture = "lying"
)

// lyingRing is how high the ring is above the deck, lying, m (assumed).
const lyingRing = 0.15

// Way is a task on deck: the places where one goes and what is done there.
type Way struct {
	ID     string     `json:"id"`
	Person string     `json:"person,omitempty" says:"the first of the case if left out"`
	Tether string     `json:"tether,omitempty" says:"the first that the person uses if left out"`
	Stops  []Waypoint `json:"stops"`
}

// Waypoint is a place on a way.
type Waypoint struct {
	At    plane.Point `json:"at"`
	By    Posture     `json:"by,omitempty" says:"how one comes here: kneeling (on hands and knees) if left out"`
	As    Posture     `json:"as,omitempty" says:"how one is here: kneeling if left out"`
	Hands int         `json:"hands,omitempty" says:"needed for what is done here; with two nothing can be clipped meanwhile"`
	Task  string      `json:"task,omitempty"`
}

// Walked is a way, clipped as well as it can be: first with the least way
// unclipped, then with the fewest moments on no hook, then with the fewest
// changes, then on the shortest legs.
type Walked struct {
	ID        string   `json:"id"`
	Length    float64  `json:"length_m"`
	Clipped   bool     `json:"clipped_all_the_way" says:"no gap, and no moment on no hook"`
	Parts     []Part   `json:"parts"`
	Changes   int      `json:"changes_of_hook" says:"counting neither the first clipping on nor the last off"`
	Moments   int      `json:"moments_on_no_hook" says:"changes at which the only hook is let go first"`
	Gaps      []Gap    `json:"gaps,omitempty"`
	Low       float64  `json:"gone_lower_m,omitempty" says:"way that is clipped only lower than told: on hands and knees, not upright"`
	CantDo    []string `json:"cannot,omitempty" says:"tasks at which the person cannot be as told on any leg that reaches"`
	Hands     int      `json:"hands" says:"most that a task on the way needs; a change of hook needs one more between tasks"`
	Through   []string `json:"through,omitempty" says:"obstacles that the way leads through: is it drawn right?"`
	Dragged   []string `json:"may_be_dragged,omitempty" says:"parts on which a fall over the side may end in the water"`
	Tolerance float64  `json:"tolerance_m" says:"error of the tracing, already taken off every leg"`
}

// Part is a stretch of the way on one hook.
type Part struct {
	On   string   `json:"on"`
	Leg  float64  `json:"leg_m"`
	From float64  `json:"from_m" says:"along the way"`
	To   float64  `json:"to_m"`
	Done []string `json:"done,omitempty" says:"tasks done on it"`
}

// Gap is a stretch of the way on no hook.
type Gap struct {
	From  float64     `json:"from_m"`
	To    float64     `json:"to_m"`
	Start plane.Point `json:"start"`
	End   plane.Point `json:"end"`
	Eye   plane.Point `json:"eye" says:"where one more clip point would come first to mind: the middle of the gap"`
}

// Walk finds how a way can be gone clipped. r may be empty; with a deck's
// answer the parts on which one may be dragged are named.
func Walk(c Case, r Result, way Way) (Walked, error) {
	s, err := prepare(&c)
	if err != nil {
		return Walked{}, err
	}
	w, err := s.walker(&way)
	if err != nil {
		return Walked{}, err
	}
	w.stations(&way)
	out := w.best()
	out.ID, out.Tolerance = way.ID, s.tracing
	w.obstacles(&way, &out)
	for _, st := range way.Stops {
		out.Hands = max(out.Hands, st.Hands)
	}
	for _, p := range out.Parts {
		if drags(r, p) {
			out.Dragged = append(out.Dragged, fmt.Sprintf("%s on %.3g m", p.On, p.Leg))
		}
	}
	return out, nil
}

// walker is one person with one tether on one way.
type walker struct {
	s      *setup
	person Person
	legs   []float64
	things []thing
	at     []stationOf
}

// stationOf is a moment on the way.
type stationOf struct {
	along float64
	place plane.Point
	ring  vec  // as one is here
	kneel vec  // kneeling down to change
	fixed bool // both hands at work
	task  string
}

// longestWay bounds a way, m.
const longestWay = 1000.0

func (s *setup) walker(way *Way) (*walker, error) {
	e := &Invalid{}
	w := &walker{s: s, things: s.c.things()}
	found := false
	for _, p := range s.persons {
		if !found && (way.Person == "" || p.ID == way.Person) {
			w.person, found = p, true
		}
	}
	if !found {
		e.add(NotThere, way.ID, "way %s: there is no person %q", way.ID, way.Person)
	}
	found = false
	for _, t := range s.uses(&w.person) {
		if !found && (way.Tether == "" || t.ID == way.Tether) {
			w.legs, found = t.Legs, true
		}
	}
	if !found {
		e.add(NotThere, way.ID, "way %s: the person uses no tether %q", way.ID, way.Tether)
	}
	length := 0.0
	for i, st := range way.Stops {
		if !st.At.Finite() {
			e.add(BadPlace, way.ID, "way %s: stop %d has no place", way.ID, i+1)
		} else if i > 0 {
			length += st.At.Sub(way.Stops[i-1].At).Norm()
		}
		for _, p := range []Posture{st.By, st.As} {
			if p != "" && p != Standing && p != Kneeling && p != Lying {
				e.add(BadValue, way.ID, "way %s: stop %d is gone to %q: standing, kneeling or lying", way.ID, i+1, p)
			}
		}
		mustBe(e, way.ID, "hands", float64(st.Hands), 0, 2)
	}
	if len(way.Stops) < 2 || len(way.Stops) > MostThings || !(length <= longestWay) {
		e.add(TooShort, way.ID, "way %s: %d stops over %.4g m: from 2 stops to %d, up to %g m", way.ID, len(way.Stops), length, MostThings, longestWay)
	}
	return w, e.orNil()
}

// height is that of the deck at a place.
func (c *Case) height(p plane.Point) float64 {
	z := c.DeckZ
	for _, l := range c.Levels {
		if plane.Contains(l.Outline, p) {
			z = l.Z
		}
	}
	return z
}

func (w *walker) station(along float64, p plane.Point, as Posture) stationOf {
	z := w.s.c.height(p)
	up := map[Posture]float64{Standing: w.person.Ring, Lying: lyingRing}[as]
	if up == 0 {
		up = w.person.Kneel
	}
	return stationOf{along: along, place: p, ring: vec{p.X, p.Y, z + up}, kneel: vec{p.X, p.Y, z + w.person.Kneel}}
}

// stations lays the way out in steps of a tenth of a metre; at each stop one
// comes, does what is to be done, and goes.
func (w *walker) stations(way *Way) {
	along := 0.0
	for i, st := range way.Stops {
		if i > 0 {
			from := way.Stops[i-1].At
			d := st.At.Sub(from)
			n := int(math.Ceil(d.Norm() / jamStep))
			for k := 1; k < n; k++ {
				t := float64(k) / float64(n)
				w.at = append(w.at, w.station(along+t*d.Norm(), from.Add(d.Scale(t)), st.By))
			}
			along += d.Norm()
		}
		w.at = append(w.at, w.station(along, st.At, st.By))
		if st.Hands > 0 || st.As != "" {
			at := w.station(along, st.At, st.As)
			at.fixed, at.task = st.Hands > 1, st.Task
			if at.task == "" {
				at.task = fmt.Sprintf("stop %d", i+1)
			}
			w.at = append(w.at, at, w.station(along, st.At, st.By))
		}
	}
}

func (w *walker) obstacles(way *Way, out *Walked) {
	for _, o := range w.s.c.Obstacles {
		ring := plane.Closed(o.Outline)
		hit := false
		for i := 1; i < len(way.Stops); i++ {
			a, b := way.Stops[i-1].At, way.Stops[i].At
			hit = hit || plane.Contains(o.Outline, a.Add(b).Scale(0.5))
			for k := 1; k < len(ring); k++ {
				hit = hit || plane.Meet(a, b, ring[k-1], ring[k])
			}
		}
		if hit {
			out.Through = append(out.Through, o.ID)
		}
	}
}

// drags says whether a deck's answer has somebody dragged on this thing and
// leg.
func drags(r Result, p Part) bool {
	any := func(sides []Side) bool {
		for _, s := range sides {
			if s.Leg == p.Leg && s.Class.drags() {
				return true
			}
		}
		return false
	}
	for _, l := range r.Lines {
		if (p.On == l.ID || len(p.On) > len(l.ID) && p.On[:len(l.ID)+1] == l.ID+",") && any(l.Sides) {
			return true
		}
	}
	for _, q := range r.Points {
		if p.On == q.ID && any(q.Sides) {
			return true
		}
	}
	return false
}
