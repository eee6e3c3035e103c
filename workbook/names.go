package workbook

import (
	"sort"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// Names finds subjects by what people call them: a key, kind/key, or a name.
// The zero Names is empty and ready.
type Names struct {
	byKey  map[record.Ref]string              // what each is called
	loose  map[string]map[string][]record.Ref // kind, then name as people compare names
	sorted map[string][]record.Ref
	late   map[string]bool // kinds whose list is out of order
}

// NamesOf returns the names of a record's subjects.
func NamesOf(r *journal.Record) *Names {
	n := &Names{}
	for i := range record.Kinds() {
		for _, self := range r.Refs(record.Kinds()[i].Name) {
			n.Add(self, r.Name(self))
		}
	}
	return n
}

// Add takes in a subject and what it is called. A subject that is there
// already is passed over.
func (n *Names) Add(self record.Ref, name string) {
	if n.byKey == nil {
		n.byKey = map[record.Ref]string{}
		n.loose = map[string]map[string][]record.Ref{}
		n.sorted = map[string][]record.Ref{}
	}
	if _, there := n.byKey[self]; there {
		return
	}
	n.byKey[self] = name
	kind := self.Kind()
	if n.loose[kind] == nil {
		n.loose[kind] = map[string][]record.Ref{}
	}
	n.loose[kind][record.Loose(name)] = append(n.loose[kind][record.Loose(name)], self)
	n.sorted[kind] = append(n.sorted[kind], self)
	if n.late == nil {
		n.late = map[string]bool{}
	}
	n.late[kind] = true
}

// Has reports whether there is such a subject.
func (n *Names) Has(self record.Ref) bool { _, ok := n.byKey[self]; return ok }

// Name returns what a subject is called.
func (n *Names) Name(self record.Ref) string { return n.byKey[self] }

// Of returns the subjects of a kind, by key.
func (n *Names) Of(kind string) []record.Ref {
	refs := n.sorted[kind]
	if n.late[kind] {
		sort.Slice(refs, func(i, k int) bool { return refs[i] < refs[k] })
		n.late[kind] = false
	}
	return refs
}

// Find returns the subjects of the kinds that text names: one by kind/key or
// key, or else all that bear the name. A visit is also found by its day, as
// people write days. What is not found is nothing.
func (n *Names) Find(text string, kinds []string, today calendar.Day) []record.Ref {
	text = strings.TrimSpace(text)
	var keyed, named []record.Ref
	for _, k := range kinds {
		if self := record.Ref(text); self.Kind() == k && n.Has(self) {
			return []record.Ref{self}
		}
		if self := record.R(k, text); n.Has(self) {
			keyed = append(keyed, self)
		}
		named = append(named, n.loose[k][record.Loose(text)]...)
		if k == "visit" {
			if d, err := calendar.ParseDay(text, today); err == nil {
				named = append(named, n.loose[k][record.Loose(d.String())]...)
			}
		}
		if k == "build" && record.Loose(text) == "build" {
			named = append(named, n.sorted[k]...)
		}
	}
	if keyed != nil {
		return keyed
	}
	return unique(named)
}

func unique(refs []record.Ref) []record.Ref {
	seen := map[record.Ref]bool{}
	var out []record.Ref
	for _, r := range refs {
		if !seen[r] {
			out = append(out, r)
		}
		seen[r] = true
	}
	return out
}

// handy is how long a name may be to stand in another subject's cell.
const handy = 40

// Say returns what a cell calls a subject so that Find finds it again among
// the kinds: its name where that is short and enough, else its key.
func (n *Names) Say(self record.Ref, kinds []string) string {
	for _, text := range []string{n.byKey[self], self.Key()} {
		if len(text) > handy && text != self.Key() {
			continue
		}
		if got := n.Find(text, kinds, 0); text != "" && len(got) == 1 && got[0] == self {
			return text
		}
	}
	return string(self)
}

// Near returns up to five texts that name subjects of the kinds, those that
// text resembles first.
func (n *Names) Near(text string, kinds []string) []string {
	type candidate struct {
		text string
		far  int
	}
	var all []candidate
	want := record.Loose(text)
	for _, k := range kinds {
		for _, self := range n.Of(k) {
			name := record.Loose(n.byKey[self])
			far := min(distance(want, name), distance(want, record.Loose(self.Key())))
			if want != "" && (strings.Contains(name, want) || name != "" && strings.Contains(want, name)) {
				far = min(far, 2)
			}
			if far <= max(3, len(want)/2) {
				all = append(all, candidate{n.Say(self, kinds), far})
			}
		}
	}
	sort.SliceStable(all, func(i, k int) bool { return all[i].far < all[k].far })
	var out []string
	for _, c := range all[:min(5, len(all))] {
		out = append(out, c.text)
	}
	return out
}

// Nearest returns the word that resembles text most, or "" if none does.
func Nearest(text string, words []string) string {
	best, far := "", 0
	for _, w := range words {
		if d := distance(record.Loose(text), record.Loose(w)); d <= len(w)/4+1 && (best == "" || d < far) {
			best, far = w, d
		}
	}
	return best
}

// distance counts the letters to be put in, taken out or changed between a
// and b (Levenshtein's distance). Long texts are compared by their beginning.
func distance(a, b string) int {
	const enough = 60
	a, b = a[:min(len(a), enough)], b[:min(len(b), enough)]
	row := make([]int, len(b)+1)
	for j := range row {
		row[j] = j
	}
	for i := range len(a) {
		before := row[0]
		row[0] = i + 1
		for j := range len(b) {
			at := row[j+1]
			change := before
			if a[i] != b[j] {
				change++
			}
			row[j+1] = min(change, at+1, row[j]+1)
			before = at
		}
	}
	return row[len(b)]
}
