package journal

import (
	"encoding/json"
	"fmt"
	"sort"

	"dogshore/record"
)

// judge looks at the record as a whole: references to nothing, needed fields
// that nobody has said, parts and steps that lie in or wait for themselves.
func (r *Record) judge() []Doubt {
	var out []Doubt
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		for _, self := range r.byKind[k.Name] {
			for j := range k.Fields {
				f := &k.Fields[j]
				h, ok := r.Held(self, f.Name)
				if !ok {
					if f.Need {
						out = append(out, Doubt{Kind: Missing, About: self, Field: f.Name,
							Says: fmt.Sprintf("%s %q: nobody has said its %s", k.Title, r.Name(self), f.Title)})
					}
					continue
				}
				if f.Type != record.RefType {
					continue
				}
				var to record.Ref
				if json.Unmarshal([]byte(h.Value), &to) == nil && to != "" && !r.Has(to) {
					out = append(out, Doubt{Kind: Dangling, About: self, Field: f.Name, Sides: []string{string(to)}, From: []string{h.Entry.ID},
						Says: fmt.Sprintf("%s %q: its %s names %s, which is not in the record", k.Title, r.Name(self), f.Title, to)})
				}
			}
		}
	}
	out = append(out, r.nests("part")...)
	out = append(out, r.nests("place")...)
	return out
}

// nests finds parts (or places) that lie, through others, in themselves.
func (r *Record) nests(kind string) []Doubt {
	var out []Doubt
	within := func(self record.Ref) record.Ref {
		var to record.Ref
		if h, ok := r.Held(self, "within"); ok {
			_ = json.Unmarshal([]byte(h.Value), &to)
		}
		return to
	}
	done := map[record.Ref]bool{}
	for _, start := range r.byKind[kind] {
		path := map[record.Ref]int{}
		var walk []record.Ref
		for at := start; at != "" && !done[at]; at = within(at) {
			if i, again := path[at]; again {
				ring := walk[i:]
				sort.Slice(ring, func(a, b int) bool { return ring[a] < ring[b] })
				d := Doubt{Kind: Cycle, About: ring[0], Field: "within"}
				for _, x := range ring {
					d.Sides = append(d.Sides, string(x))
				}
				d.Says = fmt.Sprintf("%s lies in itself, through %d others", r.Name(ring[0]), len(ring)-1)
				out = append(out, d)
				break
			}
			path[at] = len(walk)
			walk = append(walk, at)
		}
		for _, x := range walk {
			done[x] = true
		}
	}
	return out
}
