package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"sort"
	"strings"

	"dogshore/record"
)

// This file finds which subject each row is about. A row with a key says it;
// of the others the key is made of what tells subjects of the kind apart: the
// subjects they belong to, the visit or day of an observation, the name.

// name gives every row its subject, those that others belong to first, so
// that the order of sheets makes no difference. Observations that come out at
// the same key and say different things are different ones.
func (r *reader) name() {
	tables := append([]*table(nil), r.tables...)
	sort.SliceStable(tables, func(i, k int) bool { return rank(tables[i].kind) < rank(tables[k].kind) })
	taken := map[record.Ref]*line{}
	for _, t := range tables {
		made := map[record.Ref][]*line{}
		for _, l := range t.lines {
			l.today = r.ownDay(l)
			key := r.givenKey(l)
			if key == "" && !l.held {
				if key = r.madeKey(l); key != "" {
					made[record.R(t.kind.Name, key)] = append(made[record.R(t.kind.Name, key)], l)
				}
			}
			l.self = record.R(t.kind.Name, key)
			if key == "" {
				l.held = true
			}
		}
		differ := map[record.Ref]bool{}
		for self, lines := range made {
			differ[self] = t.kind.Adds && t.kind.Name != "sighting" && len(lines) > 1 && !allSame(lines)
		}
		for _, l := range t.lines {
			if l.held {
				continue
			}
			isMade := len(made[l.self]) > 0
			if differ[l.self] {
				l.self = record.R(t.kind.Name, l.self.Key()+"-"+digest(l)[:4])
			}
			r.once(l, isMade, taken)
		}
	}
}

// once asks of rows that come out at the same subject whether they are the
// same thing. made says that the key was made and not given.
func (r *reader) once(l *line, made bool, taken map[record.Ref]*line) {
	first := taken[l.self]
	if first == nil {
		taken[l.self] = l
		r.names.Add(l.self, r.called(l))
		return
	}
	id := l.at(0).String() + " twice"
	const same, other = "the same one", "another one"
	readings := []string{same}
	if made {
		readings = append(readings, other)
	}
	switch a, _ := r.answer(id); {
	case a == same:
	case a == other && made:
		for n := 2; ; n++ {
			self := record.R(l.t.kind.Name, fmt.Sprintf("%s-%d", l.self.Key(), n))
			if taken[self] == nil {
				l.self = self
				taken[self] = l
				r.names.Add(self, r.called(l))
				return
			}
		}
	default:
		l.held = true
		r.ask(Ask{ID: id, At: l.at(0), Text: joinedLine(l), Readings: readings,
			Question: fmt.Sprintf("%s has the same name or key; is this the same %s or another? A column \"key\" tells two apart", first.at(0), l.t.kind.Title)})
	}
}

func allSame(lines []*line) bool {
	for _, l := range lines {
		if digest(l) != digest(lines[0]) {
			return false
		}
	}
	return true
}

// digest is a hash of all that a row says.
func digest(l *line) string {
	h := sha256.New()
	for _, c := range l.t.columns {
		fmt.Fprintf(h, "%s\x00%s\x00", c.field.Name, l.text(c.n))
	}
	return hex.EncodeToString(h.Sum(nil))
}

// rank counts how many kinds must be named before k: those that its needed
// references name.
func rank(k *record.Kind) int {
	n := 0
	for i := range k.Fields {
		if f := &k.Fields[i]; tells(k, f) && f.Type == record.RefType {
			for _, name := range f.Of {
				if of := record.KindOf(name); of != k {
					n = max(n, rank(of)+1)
				}
			}
		}
	}
	return n
}

// tells reports whether a field tells subjects of a kind apart, beside its name.
func tells(k *record.Kind, f *record.Field) bool {
	switch {
	case f.Type == record.RefType:
		return f.Need || k.Adds && f.Name == "visit"
	case f.Type == record.DayType:
		return k.Adds && !f.Names && (f.Need || f.Name == "day" || f.Name == "on") || k.Name == "closure" && f.Name == "from"
	}
	return f.Name == "what" && k.Adds && !f.Names && (f.Type == record.ChoiceType || k.Name == "evidence")
}

func (r *reader) givenKey(l *line) string {
	if l.t.kind.Name == "build" {
		return "build"
	}
	if l.given != "" {
		return l.given
	}
	key := l.text(l.t.key)
	if l.t.key == 0 || key == "" {
		return ""
	}
	if _, k, ok := strings.Cut(key, "/"); ok && strings.HasPrefix(key, l.t.kind.Name+"/") {
		key = k
	}
	if len(key) > 200 || strings.ContainsAny(key, "/\n") {
		r.out.refuse(l.at(l.t.key), key, "a key is one short word, as %s", record.Slug(key))
		l.held = true
		return ""
	}
	return key
}

// madeKey makes a row's key, or finds that of the subject with its name. It
// returns "" if what the row belongs to is not known.
func (r *reader) madeKey(l *line) string {
	k := l.t.kind
	var parts []string
	name := ""
	for i := range k.Fields {
		f := &k.Fields[i]
		c, ok := l.field(f.Name)
		text := l.text(c.n)
		if !ok || text == "" {
			continue
		}
		switch {
		case f.Names && f.Type == record.DayType:
			if v, ok := r.value(l, c, false); ok {
				name = f.Plain(v)
			}
		case f.Names:
			name = text
		case tells(k, f):
			v, ok := r.value(l, c, false)
			if !ok {
				if f.Need {
					return ""
				}
				continue
			}
			parts = append(parts, strings.ReplaceAll(lastPart(f.Plain(v)), "/", "-"))
		}
	}
	if name == "" && k.NameField() != nil && len(parts) == 0 {
		if c, _ := l.field(k.NameField().Name); l.text(c.n) == "" { // else it is asked about as it stands
			r.blankName(l)
		}
		return ""
	}
	if len(parts) == 0 && !k.Adds {
		if key, ok := r.byName(l, name); ok {
			return key
		}
	}
	if name != "" {
		parts = append(parts, name)
	}
	if len(parts) == 0 {
		return digest(l)[:12]
	}
	return record.Slug(strings.Join(parts, " "))
}

func lastPart(ref string) string {
	if _, key, ok := strings.Cut(ref, "/"); ok {
		return key
	}
	return ref
}

// blankName asks for the name that a row lacks.
func (r *reader) blankName(l *line) {
	f := l.t.kind.NameField()
	c, ok := l.field(f.Name)
	if !ok {
		r.lacks(l.t, f)
		return
	}
	at := l.at(c.n)
	r.ask(Ask{ID: at.String(), At: at, Text: joinedLine(l), Free: true,
		Question: fmt.Sprintf("%s needs its %s: %s", one(l.t.kind.Title), f.Title, f.Says)})
}

// byName finds the subject that the record has under a name already.
func (r *reader) byName(l *line, name string) (key string, ok bool) {
	found := r.known(l.t.kind.Name, name)
	switch {
	case len(found) == 0:
		return "", false
	case len(found) == 1:
		return found[0].Key(), true
	}
	id := l.at(0).String() + " which"
	var keys []string
	for _, f := range found {
		keys = append(keys, string(f))
	}
	if a, ok := r.answer(id); ok {
		for _, f := range found {
			if a == string(f) {
				return f.Key(), true
			}
		}
	}
	l.held = true
	r.ask(Ask{ID: id, At: l.at(0), Text: joinedLine(l), Question: "the record has several of this name; which is meant?", Readings: keys})
	return "", true
}

func (r *reader) known(kind, name string) []record.Ref {
	var out []record.Ref
	for _, self := range r.names.Find(name, []string{kind}, 0) {
		if r.rec.Has(self) {
			out = append(out, self)
		}
	}
	return out
}

// called is what a row calls its subject.
func (r *reader) called(l *line) string {
	if f := l.t.kind.NameField(); f != nil {
		if c, ok := l.field(f.Name); ok && l.text(c.n) != "" {
			if v, ok := r.value(l, c, false); ok {
				return f.Format(v)
			}
		}
	}
	if r.rec.Has(l.self) {
		return r.rec.Name(l.self)
	}
	return l.self.Key()
}
