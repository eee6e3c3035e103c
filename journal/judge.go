package journal

import (
	"encoding/json"
	"fmt"
	"slices"
	"strings"

	"dogshore/record"
)

// judge looks at the record as a whole: references to nothing, needed fields
// that nobody has said, parts and places that lie in themselves.
func (r *Record) judge() []Doubt {
	var out []Doubt
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		fields := make([]int32, len(k.Fields)) // as the journal numbers them
		for n := range k.Fields {
			id, ok := r.j.fields[k.Fields[n].Name]
			if !ok {
				id = none
			}
			fields[n] = id
		}
		for _, sub := range r.ofKind(k.Name) {
			out = r.judgeOne(out, k, sub, fields)
		}
	}
	out = append(out, r.nests("part")...)
	return append(out, r.nests("place")...)
}

func (r *Record) judgeOne(out []Doubt, k *record.Kind, sub int32, fields []int32) []Doubt {
	self := r.j.subjects[sub].ref
	for n := range k.Fields {
		f := &k.Fields[n]
		if !f.Need && f.Type != record.RefType {
			continue
		}
		h, ok := r.winner(sub, fields[n])
		if !ok {
			if f.Need {
				out = append(out, Doubt{Kind: Missing, About: self, Field: f.Name,
					Says: fmt.Sprintf("%s %q: nobody has said its %s", k.Title, r.name(self), f.Title)})
			}
			continue
		}
		if f.Type != record.RefType {
			continue
		}
		if to := refOf(h.Value); to != "" && !r.has(to) {
			out = append(out, Doubt{Kind: Dangling, About: self, Field: f.Name, Sides: []string{string(to)}, From: []string{h.Entry.ID},
				Says: fmt.Sprintf("%s %q: its %s names %s, which is not in the record", k.Title, r.name(self), f.Title, to)})
		}
	}
	return out
}

// winner returns the value that holds in one slot.
func (r *Record) winner(sub, field int32) (Held, bool) {
	at := r.j.slot(sub, field)
	if at == none || int(at) >= len(r.win) || r.win[at].entry == none {
		return Held{}, false
	}
	h := r.at(r.win[at])
	return h, h.Value != record.Clear
}

// refOf reads a reference. The door has looked at it, so that it mostly is a
// plain JSON string.
func refOf(v record.Value) record.Ref {
	if n := len(v); n >= 2 && v[0] == '"' && v[n-1] == '"' && !strings.Contains(string(v), `\`) {
		return record.Ref(v[1 : n-1])
	}
	var to record.Ref
	if json.Unmarshal([]byte(v), &to) != nil {
		return ""
	}
	return to
}

// nests finds parts (or places) that lie, through others, in themselves.
func (r *Record) nests(kind string) []Doubt {
	var out []Doubt
	done := map[record.Ref]bool{}
	for _, sub := range r.ofKind(kind) {
		path := map[record.Ref]int{}
		var walk []record.Ref
		for at := r.j.subjects[sub].ref; at != "" && !done[at]; at = r.within(at) {
			if i, again := path[at]; again {
				out = append(out, r.ring(walk[i:]))
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

func (r *Record) within(self record.Ref) record.Ref {
	h, ok := r.held(self, "within")
	if !ok {
		return ""
	}
	return refOf(h.Value)
}

func (r *Record) ring(refs []record.Ref) Doubt {
	refs = slices.Clone(refs)
	slices.Sort(refs)
	d := Doubt{Kind: Cycle, About: refs[0], Field: "within"}
	for _, x := range refs {
		d.Sides = append(d.Sides, string(x))
	}
	d.Says = fmt.Sprintf("%s lies in itself, through %d others", r.name(refs[0]), len(refs)-1)
	return d
}
