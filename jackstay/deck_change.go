package jackstay

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"dogshore/plane"
)

// thing is what a hook can be on: a clip point, or a piece of a line along
// which it runs without being unclipped.
type thing struct {
	name string
	line string
	path []vec
}

// things lists what there is to clip to: the lines' pieces, then the points.
func (c *Case) things() []thing {
	var out []thing
	for i := range c.Lines {
		l := &c.Lines[i]
		from, part := 0, 1
		last := len(l.Supports) - 1
		for k := 1; k <= last; k++ {
			if k < last && l.Supports[k].Passes {
				continue
			}
			t := thing{name: l.ID, line: l.ID}
			if from > 0 || k < last {
				t.name = fmt.Sprintf("%s, part %d", l.ID, part)
			}
			for _, s := range l.Supports[from : k+1] {
				t.path = append(t.path, s.At.vec())
			}
			out = append(out, t)
			from, part = k, part+1
		}
	}
	for _, p := range c.Points {
		out = append(out, thing{name: p.ID, path: []vec{p.At.vec()}})
	}
	return out
}

func (t *thing) flat() []plane.Point {
	out := make([]plane.Point, len(t.path))
	for i, p := range t.path {
		out[i] = p.plan()
	}
	return out
}

// near returns the place of a thing that is nearest to p, in space.
func (t *thing) near(p vec) (at vec, distance float64) {
	at, distance = t.path[0], t.path[0].dist(p)
	for i := 1; i < len(t.path); i++ {
		a, d := t.path[i-1], t.path[i].sub(t.path[i-1])
		k := min(max(p.sub(a).dot(d)/d.dot(d), 0), 1)
		q := a.add(d.mul(k))
		if l := q.dist(p); l < distance {
			at, distance = q, l
		}
	}
	return at, distance
}

// apart is the least distance between two paths seen from above.
func apart(a, b []plane.Point) float64 {
	least := math.Inf(1)
	for i := range a {
		_, _, d := plane.Nearest(a[i], b)
		least = min(least, d)
		for j := 1; i > 0 && j < len(b); j++ {
			if plane.Meet(a[i-1], a[i], b[j-1], b[j]) {
				return 0
			}
		}
	}
	for i := range b {
		_, _, d := plane.Nearest(b[i], a)
		least = min(least, d)
	}
	return least
}

// bundle keeps what hangs together: each thing points toward the root of its
// island.
type bundle []int

func newBundle(n int) bundle {
	b := make(bundle, n)
	for i := range b {
		b[i] = i
	}
	return b
}

func (b bundle) root(i int) int {
	for b[i] != i {
		i = b[i]
	}
	return i
}

func (b bundle) join(i, j int) { b[b.root(i)] = b.root(j) }

// transfers lists changes between neighbours, and what hangs together by
// changes that need no unclipping.
func (s *setup) transfers(things []thing) (out []Transfer, islands [][]string) {
	var all []Transfer
	var ends [][2]int
	group := newBundle(len(things))
	paths := make([][]plane.Point, len(things))
	for i := range things {
		paths[i] = things[i].flat()
		for j := range i {
			d := apart(paths[j], paths[i])
			t := Transfer{From: things[j].name, To: things[i].name, Apart: d, Bridge: s.bridge, Can: d <= s.bridge-s.tracing}
			all, ends = append(all, t), append(ends, [2]int{j, i})
			if t.Can {
				group.join(j, i)
			}
		}
	}
	at := map[int]int{}
	for i := range things {
		k, ok := at[group.root(i)]
		if !ok {
			k = len(islands)
			at[group.root(i)] = k
			islands = append(islands, nil)
		}
		islands[k] = append(islands[k], things[i].name)
	}
	// Told are the changes that can be, and the narrowest gaps between what
	// does not hang together.
	byGap := newBundle(len(all))
	slices.SortStableFunc(byGap, func(a, b int) int { return cmp.Compare(all[a].Apart, all[b].Apart) })
	for _, i := range byGap {
		if a, b := ends[i][0], ends[i][1]; all[i].Can || group.root(a) != group.root(b) {
			out = append(out, all[i])
			group.join(a, b)
		}
	}
	return out, islands
}
