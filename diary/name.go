package diary

import (
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"dogshore/journal"
	"dogshore/record"
)

// Name says what of a name goes when names are left out.
type Name struct {
	Name      string
	Says      string   // what stands in its place
	Goes      []string // its parts that go wherever they stand
	AsWritten []string // its parts that are words of the trade too: they go only as they are written in it
	Stays     []string // its parts that name nobody, and stay where they stand alone
}

// Names lists the people and firms of a record, each with what goes of its
// name. Whoever shares a diary sees beforehand what of a firm's name stays in
// it.
func Names(r *journal.Record) []Name {
	n := namer{common: vocabulary(r)}
	var out []Name
	each(r, func(name, role string, firm bool) {
		if utf8.RuneCountInString(strings.TrimSpace(name)) >= 2 {
			out = append(out, n.parts(name, role, firm))
		}
	})
	return out
}

// each calls do for every person, the yard, and whoever else wrote something.
func each(r *journal.Record, do func(name, role string, firm bool)) {
	known := map[string]bool{"owner": true, "": true}
	for _, p := range journal.All[record.Person](r) {
		do(p.Name, role(p), p.Role == "supplier" || p.Role == "broker")
		known[p.Name] = true
	}
	b, _ := journal.Get[record.Build](r, record.R("build", "build"))
	do(b.Yard, "the yard", true)
	for _, k := range record.Kinds() {
		for _, self := range r.Refs(k.Name) {
			if e := r.From(self); e != nil && !known[e.Author] {
				known[e.Author] = true
				do(e.Author, "somebody", false)
			}
		}
	}
}

// parts says what of a name's parts goes. A part that is a word of the trade
// too counts only as it is written, and that of a firm not at all.
func (n *namer) parts(name, role string, firm bool) Name {
	out := Name{Name: name, Says: role}
	for _, part := range strings.FieldsFunc(name, func(r rune) bool { return !unicode.IsLetter(r) && r != '\'' && r != '’' }) {
		first, _ := utf8.DecodeRuneInString(part)
		low := strings.ToLower(part)
		switch {
		case !unicode.IsUpper(first) || utf8.RuneCountInString(part) < 2 || slices.Contains(firms, low) || firm && n.common[low]:
			out.Stays = append(out.Stays, part)
		case slices.Contains(words, low) || n.common[low]:
			out.AsWritten = append(out.AsWritten, part)
		default:
			out.Goes = append(out.Goes, part)
		}
	}
	return out
}
