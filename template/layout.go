package template

import (
	"slices"
	"sort"
	"strings"

	"dogshore/record"
)

// layout is the template for one build, with every reference found.
type layout struct {
	build  record.Build
	laid   []laid
	steps  []step
	index  map[string]int // of steps by key
	links  [][2]string    // from, to: keys of steps, each pair once
	covers []laidCover
}

// laid is an assembly of this build.
type laid struct {
	assembly
	base string // "hull" of hull-port
}

// step is one step of this build.
type step struct {
	stage
	key, part, name string
	depth, rank     int
}

type laidCover struct {
	cover
	key, step string
	of        string // the step whose work is hidden
}

func layOut(b record.Build) *layout {
	l := &layout{build: b, index: map[string]int{}}
	for _, a := range assemblies() {
		if !holds(b, a.only) {
			continue
		}
		if a.key == "hull" && b.Boat == "catamaran" {
			for _, side := range []string{"port", "starboard"} {
				h := a
				h.key, h.side = "hull-"+side, side
				h.name = strings.ToUpper(side[:1]) + side[1:] + " hull"
				l.laid = append(l.laid, laid{h, "hull"})
			}
			continue
		}
		l.laid = append(l.laid, laid{a, a.key})
	}
	for _, p := range l.laid {
		for _, s := range p.stages {
			if holds(b, s.only) {
				l.index[p.key+"-"+s.slug] = len(l.steps)
				l.steps = append(l.steps, step{stage: s, key: p.key + "-" + s.slug, part: p.key, name: p.stepName(s)})
			}
		}
	}
	l.connect()
	l.order()
	return l
}

func (p laid) stepName(s stage) string {
	name := s.name
	if name == "" {
		st, _ := record.StageOf(s.slug)
		short := p.short
		if short == "" {
			short = p.name
		}
		name = short + " " + strings.ToLower(st.Name)
	}
	return capital(p.fill(name))
}

// fill puts the hull's name into a text.
func (p laid) fill(text string) string {
	return strings.ReplaceAll(text, "{hull}", strings.ToLower(p.name))
}

func capital(s string) string { return strings.ToUpper(s[:1]) + s[1:] }

// connect links the steps of each assembly in their order, each step with
// those of other assemblies that it waits for, and with what it covers up.
func (l *layout) connect() {
	last := map[string]string{}
	for _, s := range l.steps {
		if before, ok := last[s.part]; ok {
			l.link(before, s.key)
		}
		last[s.part] = s.key
		for _, a := range s.after {
			ref, only, _ := strings.Cut(a, " if ")
			if !holds(l.build, only) {
				continue
			}
			for _, from := range l.find(ref, s.part) {
				l.link(from, s.key)
			}
		}
	}
	for _, s := range l.steps {
		for _, c := range s.covers {
			l.cover(s, c)
		}
	}
}

// cover lays a cover, once for each hull if it hides what belongs to hulls.
func (l *layout) cover(s step, c cover) {
	if !holds(l.build, c.only) {
		return
	}
	for _, of := range l.find(c.of, s.part) {
		from := l.step(of)
		x := laidCover{cover: c, key: s.key + "-" + c.key, step: s.key, of: of}
		owner := l.part(from.part)
		if x.what == "part/hull" {
			x.what = "part/" + owner.key
			if s.part != owner.key && owner.key != "hull" {
				x.key += "-" + owner.side
			}
			x.hides = owner.fill(x.hides)
		}
		if !l.reaches(of, s.key) {
			l.link(of, s.key)
		}
		l.covers = append(l.covers, x)
	}
}

// find returns the steps that a reference means from within a part: the first
// of the alternatives that this build has; of a hull's step, that of the same
// hull if the reference stands in a hull, else those of all hulls.
func (l *layout) find(ref, within string) []string {
	for _, alt := range strings.Split(ref, "|") {
		var out []string
		for _, p := range l.laid {
			rest, ok := strings.CutPrefix(alt, p.base+"-")
			if !ok || p.base == l.part(within).base && p.key != within {
				continue
			}
			if key := p.key + "-" + rest; l.step(key) != nil {
				out = append(out, key)
			}
		}
		if out != nil {
			return out
		}
	}
	return nil
}

func (l *layout) link(from, to string) {
	if pair := [2]string{from, to}; !slices.Contains(l.links, pair) {
		l.links = append(l.links, pair)
	}
}

func (l *layout) step(key string) *step {
	if i, ok := l.index[key]; ok {
		return &l.steps[i]
	}
	return nil
}

func (l *layout) part(key string) laid {
	for _, p := range l.laid {
		if p.key == key {
			return p
		}
	}
	return laid{}
}

// reaches reports whether to waits for from, directly or through others.
func (l *layout) reaches(from, to string) bool {
	seen := map[string]bool{}
	var walk func(string) bool
	walk = func(at string) bool {
		if at == to {
			return true
		}
		if seen[at] {
			return false
		}
		seen[at] = true
		for _, k := range l.links {
			if k[0] == at && walk(k[1]) {
				return true
			}
		}
		return false
	}
	return walk(from)
}

// order ranks the steps by how many stand before them at least, the number of
// links on the longest way from a beginning; ties keep the order of the tables.
func (l *layout) order() {
	for range l.steps { // the longest way has at most that many links
		changed := false
		for _, k := range l.links {
			if from, to := l.step(k[0]), l.step(k[1]); to.depth <= from.depth {
				to.depth = from.depth + 1
				changed = true
			}
		}
		if !changed {
			break
		}
	}
	order := make([]*step, len(l.steps))
	for i := range l.steps {
		order[i] = &l.steps[i]
	}
	sort.SliceStable(order, func(i, k int) bool { return order[i].depth < order[k].depth })
	for i, s := range order {
		s.rank = 10 * (i + 1)
	}
}
