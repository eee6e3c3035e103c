package jackstay

import (
	"fmt"
	"slices"

	"dogshore/plane"
)

// Deck works a whole deck. The error is an *Invalid that names all that is
// wrong with the case.
func Deck(c Case) (Result, error) {
	s, err := prepare(&c)
	if err != nil {
		return Result{}, err
	}
	r := Result{Lines: s.lines(c.Lines), Cautions: Cautions()}
	for i := range c.Points {
		r.Points = append(r.Points, s.point(&c.Points[i]))
	}
	s.rest(&r)
	return r, nil
}

// Put lays the answer of one line of a case, as LineOf gave it, into a deck's,
// and works anew what hangs together: transfers, islands, what is bare.
func (r *Result) Put(c Case, l LineResult) error {
	s, err := prepare(&c)
	if err != nil {
		return err
	}
	for i := range r.Lines {
		if r.Lines[i].ID == l.ID {
			r.Lines[i] = l
			s.rest(r)
			return nil
		}
	}
	return bad(NotThere, l.ID, "the deck's answer has no line %q", l.ID)
}

// rest fills in all that is not of one line or point.
func (s *setup) rest(r *Result) {
	things := s.c.things()
	r.Transfers, r.Islands = s.transfers(things)
	r.Assumed, r.Unknown, r.Solves = append([]Assumed(nil), s.assumed...), nil, 0
	for i := range r.Lines {
		r.Assumed = append(r.Assumed, r.Lines[i].Assumed...)
		r.Unknown = append(r.Unknown, r.Lines[i].Unknown...)
		r.Solves += r.Lines[i].Solves
	}
	for i := range r.Points {
		r.Unknown = append(r.Unknown, r.Points[i].Unknown...)
	}
	if len(s.c.Edges) == 0 {
		r.Unknown = append(r.Unknown, Unknown{"deck", "who goes over the side, and where", "the edges of the deck, with their guard-rails and freeboard"})
	}
	s.bare(r)
}

// bare finds how much of the deck no ring reaches.
func (s *setup) bare(r *Result) {
	r.Bare, r.Deck = 0, 0
	if len(s.c.Outline) < 3 {
		r.Unknown = append(r.Unknown, Unknown{"deck", "how much of it no ring reaches", "its outline"})
		return
	}
	longest := s.farthest()
	var covers [][]plane.Point
	for i := range s.c.Lines {
		covers = append(covers, s.idle(s.c.Lines[i].ready(1), longest)...)
	}
	for _, p := range s.c.Points {
		sp := spanReady{a: p.At.vec(), b: p.At.vec(), flat: vec{1, 0, 0}, side: vec{0, 1, 0}}
		covers = append(covers, sp.ellipse(0, 0, longest))
	}
	ring := s.c.Outline
	if plane.Area(ring) < 0 { // drawn the other way round it would be a hole
		ring = slices.Clone(ring)
		slices.Reverse(ring)
	}
	outline := plane.Region{ring}
	left := outline
	if len(covers) > 0 {
		all, err := plane.Union(covers...)
		if err == nil {
			left, err = plane.Difference(outline, all)
		}
		if err != nil {
			r.Unknown = append(r.Unknown, Unknown{"deck", "how much of it no ring reaches", fmt.Sprintf("an outline that does not cross itself (%v)", err)})
			return
		}
	}
	r.Bare, r.Deck = max(left.Area(), -left.Area()), max(outline.Area(), -outline.Area())
}

// point works one clip point: the load of a fall, and who goes over the side.
func (s *setup) point(p *ClipPoint) PointResult {
	out := PointResult{ID: p.ID, Rated: p.Rated}
	var load [3]float64
	fall := Drop{Mass: s.mass, Fall: s.fall, EdgeMu: s.edgeMu, EdgeAngle: s.edgeAngle}
	rows := make([][3]sideSweep, len(s.legs)*len(s.c.Edges))
	for q := range scales {
		w := sweep{s: s, q: q, sides: make([]sideSweep, len(rows))} // nothing of a line
		load[q] = arrest(fixedEye, w.stiffest(), &fall).Line
		sp := spanReady{a: p.At.vec(), b: p.At.vec().add(vec{1, 0, 0}), chord: 1, flat: vec{1, 0, 0}, side: vec{0, 1, 0}}
		w.sidesAt(&sp, 0, nil)
		for i := range rows {
			rows[i][q] = w.sides[i]
		}
	}
	out.Arrest = band(load)
	const factor = 2 // an eye is metal; what it sits in is the designer's
	out.Needed = max(factor*out.Arrest.most(), s.anchorMin)
	out.Verdict = verdict(p.Rated, p.Rated, 1, Band{max(factor*load[soft], s.anchorMin), max(factor*load[asEntered], s.anchorMin), out.Needed}, p.Rated > 0)
	if p.Rated == 0 {
		out.Verdict = NotKnown
		out.Unknown = append(out.Unknown, Unknown{"clip point " + p.ID, "whether it holds its load", "the breaking load of the anchorage: bolts, plate, laminate and core"})
	}
	for g := range s.legs {
		for e := range s.c.Edges {
			row := &rows[g*len(s.c.Edges)+e]
			if side, near := s.side(e, s.legs[g].tether, s.legs[g].length, [3]*sideSweep{&row[0], &row[1], &row[2]}); near {
				out.Sides = append(out.Sides, side)
			}
		}
	}
	return out
}
