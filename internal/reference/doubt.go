package reference

import (
	"encoding/json"
	"fmt"
	"slices"
	"sort"
	"strings"

	"dogshore/journal"
	"dogshore/record"
)

func (w fold) doubts(r Record) []journal.Doubt {
	var out []journal.Doubt
	newer := 0
	for _, e := range w.entries {
		if e.Version > journal.Version && e.Arrival <= w.known && e.Since <= w.day && !w.struck(e) {
			newer++
		}
	}
	if newer > 0 {
		out = append(out, journal.Doubt{Kind: journal.Newer,
			Says: fmt.Sprintf("%d entries were written by a newer program; they are kept, and not read here", newer)})
	}
	for self := range r.Values {
		k := record.KindOf(self.Kind())
		if k == nil {
			continue
		}
		for i := range k.Fields {
			d := &k.Fields[i]
			out = append(out, w.conflict(r, self, d)...)
			out = append(out, r.missing(self, k, d)...)
			out = append(out, r.dangling(self, k, d)...)
		}
	}
	out = append(out, r.rings("part")...)
	out = append(out, r.rings("place")...)
	sort.Slice(out, func(i, k int) bool { return sortKey(out[i]) < sortKey(out[k]) })
	return out
}

func sortKey(d journal.Doubt) string {
	return strings.Join([]string{string(d.Kind), string(d.About), d.Field, d.Says}, "\x00")
}

func (w fold) conflict(r Record, self record.Ref, d *record.Field) []journal.Doubt {
	win, ok := r.Values[self][d.Name]
	if !ok {
		return nil
	}
	out := journal.Doubt{Kind: journal.Conflict, About: self, Field: d.Name}
	differ := false
	heads := w.standing(self, d)
	for _, h := range heads {
		out.Sides = append(out.Sides, d.Format(h.f.Value))
		out.From = append(out.From, h.e.ID)
		differ = differ || !d.Same(h.f.Value, heads[0].f.Value)
	}
	if !differ {
		return nil
	}
	last := len(out.Sides) - 1
	sides := strings.Join(out.Sides[:last], ", as ") + " and as " + out.Sides[last]
	out.Says = fmt.Sprintf("%s %q: its %s stands as %s; %s holds until somebody says which", record.KindOf(self.Kind()).Title, r.name(self), d.Title, sides, d.Format(win.Value))
	return []journal.Doubt{out}
}

// value returns what holds; a value taken away does not.
func (r Record) value(self record.Ref, field string) (Value, bool) {
	v, ok := r.Values[self][field]
	return v, ok && v.Value != record.Clear
}

func (r Record) name(self record.Ref) string {
	if k := record.KindOf(self.Kind()); k != nil && k.NameField() != nil {
		if v, ok := r.value(self, k.NameField().Name); ok {
			return k.NameField().Format(v.Value)
		}
	}
	return self.Key()
}

func (r Record) missing(self record.Ref, k *record.Kind, d *record.Field) []journal.Doubt {
	if _, ok := r.value(self, d.Name); ok || !d.Need {
		return nil
	}
	return []journal.Doubt{{Kind: journal.Missing, About: self, Field: d.Name,
		Says: fmt.Sprintf("%s %q: nobody has said its %s", k.Title, r.name(self), d.Title)}}
}

func (r Record) dangling(self record.Ref, k *record.Kind, d *record.Field) []journal.Doubt {
	v, ok := r.value(self, d.Name)
	var to record.Ref
	if !ok || d.Type != record.RefType || json.Unmarshal([]byte(v.Value), &to) != nil || to == "" || r.Values[to] != nil {
		return nil
	}
	return []journal.Doubt{{Kind: journal.Dangling, About: self, Field: d.Name, Sides: []string{string(to)}, From: []string{v.Entry},
		Says: fmt.Sprintf("%s %q: its %s names %s, which is not in the record", k.Title, r.name(self), d.Title, to)}}
}

// rings finds every ring once: what comes back to where it began, seen from
// its first member.
func (r Record) rings(kind string) []journal.Doubt {
	var out []journal.Doubt
	for start := range r.Values {
		if start.Kind() != kind {
			continue
		}
		ring := []record.Ref{start}
		for at := r.within(start); at != "" && !slices.Contains(ring, at); at = r.within(at) {
			ring = append(ring, at)
		}
		if r.within(ring[len(ring)-1]) != start || slices.Min(ring) != start {
			continue
		}
		slices.Sort(ring)
		d := journal.Doubt{Kind: journal.Cycle, About: start, Field: "within"}
		for _, x := range ring {
			d.Sides = append(d.Sides, string(x))
		}
		d.Says = fmt.Sprintf("%s lies in itself, through %d others", r.name(start), len(ring)-1)
		out = append(out, d)
	}
	return out
}

func (r Record) within(self record.Ref) record.Ref {
	v, ok := r.value(self, "within")
	var to record.Ref
	if !ok || json.Unmarshal([]byte(v.Value), &to) != nil {
		return ""
	}
	return to
}
