package dxf

import (
	"fmt"
	"maps"
	"math"
	"slices"
	"strings"
)

// This file joins pieces that meet end to end. Only pieces of one layer and
// one insertion are joined, and only where exactly two ends meet: where three
// meet, which two belong together is not to be known, and the runs end there.

// end is one end of a piece: its start or its finish.
type end struct {
	piece  int
	finish bool
}

// joiner holds the pieces of one layer and insertion while they are joined.
type joiner struct {
	tol    float64
	pieces []piece
	nodes  [][]end // the ends that meet, by node
	of     map[end]int
	used   []bool
}

// joined makes shapes of pieces, in the order in which their first piece was
// drawn, and counts those that were drawn twice.
func joined(pieces []piece, tol float64) (shapes []Shape, twice int) {
	type group struct {
		layer     string
		insertion int
	}
	var order []group
	groups := map[group][]piece{}
	for _, p := range pieces {
		g := group{p.layer, p.insertion}
		if groups[g] == nil {
			order = append(order, g)
		}
		groups[g] = append(groups[g], p)
	}
	seen := map[string]bool{}
	for _, g := range order {
		var once []piece
		for _, p := range groups[g] {
			if k := sameAs(p, tol); seen[k] {
				twice++
				continue
			} else {
				seen[k] = true
			}
			once = append(once, p)
		}
		j := &joiner{tol: tol, pieces: once, of: map[end]int{}, used: make([]bool, len(once))}
		j.meet()
		shapes = append(shapes, j.runs()...)
	}
	return shapes, twice
}

// sameAs is one text for pieces that lie on each other, whichever way round
// they were drawn: their layer and their points, to the tolerance.
func sameAs(p piece, tol float64) string {
	grid := max(tol, 1e-12)
	var fore, back strings.Builder
	say := func(b *strings.Builder, q Point) {
		fmt.Fprintf(b, "%.0f,%.0f,%.0f;", math.Round(q.X/grid), math.Round(q.Y/grid), math.Round(q.Z/grid))
	}
	for i, n := 0, len(p.points); i < n; i++ {
		say(&fore, p.points[i])
		say(&back, p.points[n-1-i])
	}
	return fmt.Sprintf("%s\x00%v\x00%s", p.layer, p.closed, min(fore.String(), back.String()))
}

func (j *joiner) at(e end) Point {
	p := j.pieces[e.piece].points
	if e.finish {
		return p[len(p)-1]
	}
	return p[0]
}

// meet finds which ends lie within the tolerance of each other.
func (j *joiner) meet() {
	type cell [3]int64
	grid := map[cell][]int{}
	var first []Point // of each node
	size := max(j.tol, 1e-12)
	key := func(p Point) cell {
		return cell{int64(math.Floor(p.X / size)), int64(math.Floor(p.Y / size)), int64(math.Floor(p.Z / size))}
	}
	near := func(p Point) int {
		k := key(p)
		for dx := int64(-1); dx <= 1; dx++ {
			for dy := int64(-1); dy <= 1; dy++ {
				for dz := int64(-1); dz <= 1; dz++ {
					for _, n := range grid[cell{k[0] + dx, k[1] + dy, k[2] + dz}] {
						if apart(first[n], p) <= j.tol {
							return n
						}
					}
				}
			}
		}
		return -1
	}
	for i, p := range j.pieces {
		if p.closed || len(p.points) < 2 {
			continue
		}
		for _, e := range []end{{i, false}, {i, true}} {
			n := near(j.at(e))
			if n < 0 {
				n = len(first)
				first = append(first, j.at(e))
				j.nodes = append(j.nodes, nil)
				k := key(j.at(e))
				grid[k] = append(grid[k], n)
			}
			j.nodes[n] = append(j.nodes[n], e)
			j.of[e] = n
		}
	}
}

// next is the end that goes on from e, if exactly one does.
func (j *joiner) next(e end) (end, bool) {
	node := j.nodes[j.of[e]]
	if len(node) != 2 {
		return end{}, false
	}
	for _, x := range node {
		if x != e && x.piece != e.piece && !j.used[x.piece] {
			return x, true
		}
	}
	return end{}, false
}

// runs walks along the pieces that meet.
func (j *joiner) runs() []Shape {
	var out []Shape
	for i, p := range j.pieces {
		if j.used[i] {
			continue
		}
		j.used[i] = true
		s := Shape{Layer: p.layer, Block: p.block, Insert: p.outer, Points: p.points, Closed: p.closed, Of: p.sort}
		if p.closed || len(p.points) < 2 {
			out = append(out, s)
			continue
		}
		count := map[string]int{p.sort: 1}
		s.Points = slices.Clone(p.points)
		last := j.walk(end{i, true}, &s, count)
		slices.Reverse(s.Points)
		other := j.walk(end{i, false}, &s, count)
		slices.Reverse(s.Points)
		if n := len(s.Points); n > 3 && j.of[last] == j.of[other] && apart(s.Points[0], s.Points[n-1]) <= 2*j.tol {
			s.Closed, s.Points = true, s.Points[:n-1]
		}
		if len(count) > 1 || count[p.sort] > 1 {
			var of []string
			for _, sort := range slices.Sorted(maps.Keys(count)) {
				of = append(of, fmt.Sprintf("%d %s", count[sort], sort))
			}
			s.Of = strings.Join(of, ", ")
		}
		out = append(out, s)
	}
	return out
}

// walk adds to a run what goes on from an end, and returns its last end.
func (j *joiner) walk(from end, s *Shape, count map[string]int) end {
	for {
		e, ok := j.next(from)
		if !ok {
			return from
		}
		j.used[e.piece] = true
		p := j.pieces[e.piece]
		points := slices.Clone(p.points)
		if e.finish {
			slices.Reverse(points)
		}
		s.Points = append(s.Points, points[1:]...)
		count[p.sort]++
		from = end{e.piece, !e.finish}
	}
}
