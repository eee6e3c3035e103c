package diary

import (
	"cmp"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"golang.org/x/text/unicode/norm"

	"dogshore/journal"
	"dogshore/record"
)

// cleaner takes out of texts what a diary leaves out.
type cleaner struct {
	leave  Leave
	names  []alias
	prices prices
	faults []string            // texts of faults, folded
	faulty map[record.Ref]bool // observations that are faults, or show or speak of one
}

// alias is a word of a name and what stands in its place.
type alias struct {
	word  string // folded, unless it counts only as it is written
	says  string
	exact bool
}

func newCleaner(r *journal.Record, leave Leave) *cleaner {
	c := &cleaner{leave: leave, faulty: map[record.Ref]bool{}}
	if leave.Names {
		c.collectNames(r)
	}
	if leave.Prices {
		c.prices = collectPrices(r)
	}
	if leave.Faults {
		c.collectFaults(r)
	}
	return c
}

// remark is a text that somebody wrote beside what was seen. Without faults it
// says nothing: that is where faults are told in other words.
func (c *cleaner) remark(s string) string {
	if c.leave.Faults {
		return ""
	}
	return s
}

// unless is text, or nothing if it has the words of a fault in it.
func (c *cleaner) unless(s string) string {
	f := folded(s)
	for _, x := range c.faults {
		if _, ok := find(f, x, 0); ok {
			return ""
		}
	}
	return c.text(s)
}

var address = regexp.MustCompile(`[\p{L}\p{N}._%+-]+@[\p{L}\p{N}.-]+\.\p{L}{2,}|\+\d[\d ()./-]{6,}\d`)

// text is s without prices and names.
func (c *cleaner) text(s string) string {
	if c.leave.Prices { // first: what stands against an amount becomes a word of its own
		s = c.prices.leaveOut(s)
	}
	if c.leave.Names {
		s = norm.NFC.String(s) // an accent written apart is the same letter
		s = address.ReplaceAllString(s, "(address left out)")
		for _, a := range c.names {
			s = replace(s, a)
		}
	}
	return s
}

// collectNames gathers how people and firms are called: whole names first,
// then their parts, each with the role that stands in its place.
func (c *cleaner) collectNames(r *journal.Record) {
	n := namer{says: map[alias]string{}, common: vocabulary(r)}
	for _, p := range journal.All[record.Person](r) {
		n.add(p.Contact, "(address left out)", false)
	}
	each(r, n.person)
	for a, says := range n.says {
		a.says = says
		c.names = append(c.names, a)
	}
	slices.SortFunc(c.names, func(a, b alias) int {
		return cmp.Or(cmp.Compare(len(b.word), len(a.word)), cmp.Compare(a.word, b.word), cmp.Compare(fmt.Sprint(a.exact), fmt.Sprint(b.exact)))
	})
}

// namer gathers names and what stands in their place.
type namer struct {
	says   map[alias]string // by the word and whether it counts only as written
	common map[string]bool
}

func (n *namer) add(word, role string, exact bool) {
	key := alias{word: norm.NFC.String(strings.TrimSpace(word)), exact: exact}
	if utf8.RuneCountInString(key.word) < 2 {
		return
	}
	if !exact {
		key.word = folded(word)
	}
	if was, ok := n.says[key]; ok && was != role {
		role = "somebody" // two people share it
	}
	n.says[key] = role
}

// person adds a name and its parts.
func (n *namer) person(name, role string, firm bool) {
	n.add(name, role, false)
	x := n.parts(name, role, firm)
	for _, part := range x.Goes {
		n.add(part, role, false)
	}
	for _, part := range x.AsWritten {
		n.add(part, role, true)
	}
}

func role(p record.Person) string {
	if p.Role == "" || p.Role == "other" {
		return "somebody"
	}
	return "the " + p.Role
}

// vocabulary is what this build's parts, places, steps and bought-in items are
// called, in small letters: a firm that has such a word in its name ("... Hatches")
// must not take it out of every sentence.
func vocabulary(r *journal.Record) map[string]bool {
	out := map[string]bool{}
	for _, kind := range []string{"part", "place", "step", "item", "stand"} {
		for _, self := range r.Refs(kind) {
			for _, w := range strings.FieldsFunc(r.Name(self), func(r rune) bool { return !unicode.IsLetter(r) }) {
				if first, _ := utf8.DecodeRuneInString(w); unicode.IsLower(first) {
					out[w] = true
				}
			}
		}
	}
	return out
}

// firms are words in the names of firms that name nobody.
var firms = []string{"yard", "boatyard", "shipyard", "boats", "boat", "marine", "yachts", "yacht", "composites", "composite", "metalwork", "metal", "sails", "sail",
	"spars", "rigging", "engines", "electrics", "electric", "design", "designs", "naval", "architects", "survey", "surveys", "works", "company", "invented", "example",
	"gmbh", "ltd", "limited", "inc", "llc", "bv", "oy", "ab", "as", "the", "and", "sons", "of", "an", "a"}

// words are first names and surnames that are words of the trade, months or
// verbs too: they are taken for a name only as the name is written.
var words = []string{"max", "lee", "jan", "ray", "guy", "don", "pat", "van", "den", "der", "de", "la", "le", "di", "du", "to", "in", "on", "no", "so", "up", "will", "mark", "bill", "frank", "grant", "chase", "miles", "rose", "grace", "hope", "dawn", "april", "june", "august", "may", "rob", "art",
	"wood", "stone", "long", "short", "young", "white", "black", "brown", "green", "gray", "grey", "day", "page", "mast", "keel", "bow", "stern", "marsh", "fisher",
	"carpenter", "mason", "cook", "smith", "wright", "sawyer", "glass", "steel", "quill", "drill", "filler", "roving", "resin", "plate", "field", "hill", "wells"}

// collectFaults gathers the defects, what shows and what speaks of them, and
// the texts that say them: whatever repeats such a text is left out as well.
func (c *cleaner) collectFaults(r *journal.Record) {
	say := func(texts ...string) {
		for _, t := range texts {
			if f := folded(t); utf8.RuneCountInString(f) >= 4 {
				c.faults = append(c.faults, f)
			}
		}
	}
	files := map[string]bool{}
	for _, x := range journal.All[record.Defect](r) {
		c.faulty[x.Self] = true
		say(x.What)
	}
	for _, x := range journal.All[record.Remedy](r) {
		c.faulty[x.Self] = true
		say(x.Note)
	}
	photo := func(ref record.Ref) {
		if x, ok := journal.Get[record.Photo](r, ref); ok {
			c.faulty[ref] = true
			files[x.File.SHA256] = x.File.Known()
			say(x.Note)
		}
	}
	for _, x := range journal.All[record.Evidence](r) {
		if c.faulty[x.Shows] {
			c.faulty[x.Self] = true
			say(x.What)
			photo(x.Photo)
		}
	}
	for _, x := range journal.All[record.Measurement](r) {
		if outside(x) {
			c.faulty[x.Self] = true
			photo(x.Photo)
		}
	}
	c.speakOfFaults(r, say)
	for _, x := range journal.All[record.Photo](r) { // the same file under another name
		if files[x.File.SHA256] {
			c.faulty[x.Self] = true
		}
	}
}

// speakOfFaults leaves out what was asked, agreed and noted of a fault.
func (c *cleaner) speakOfFaults(r *journal.Record, say func(...string)) {
	for _, x := range journal.All[record.Question](r) {
		if c.faulty[x.About] {
			c.faulty[x.Self] = true
			say(x.Text)
		}
	}
	for _, x := range journal.All[record.Agreement](r) {
		if c.faulty[x.About] {
			c.faulty[x.Self] = true
			say(x.Says)
		}
	}
	for _, x := range journal.All[record.Confirmation](r) {
		if c.faulty[x.Of] {
			c.faulty[x.Self] = true
		}
	}
	for _, x := range journal.All[record.Note](r) {
		if c.faulty[x.About] {
			c.faulty[x.Self] = true
			say(x.Text)
		}
	}
	for _, x := range journal.All[record.Statement](r) {
		if c.faulty[x.About] {
			c.faulty[x.Self] = true
			say(x.Said)
		}
	}
}

func folded(s string) string {
	return strings.ToLower(norm.NFC.String(strings.Join(strings.Fields(s), " ")))
}

// find looks for a word or phrase that is no piece of a longer word.
func find(text, word string, from int) (at int, ok bool) {
	for from <= len(text) {
		i := strings.Index(text[from:], word)
		if i < 0 || word == "" {
			return 0, false
		}
		at = from + i
		before, _ := utf8.DecodeLastRuneInString(text[:at])
		after, _ := utf8.DecodeRuneInString(text[at+len(word):])
		if !inWord(before) && !inWord(after) {
			return at, true
		}
		_, n := utf8.DecodeRuneInString(text[at:])
		from = at + n
	}
	return 0, false
}

func inWord(r rune) bool { return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r)) }

// replace puts a's role wherever its word stands.
func replace(s string, a alias) string {
	text, word := []rune(strings.ToValidUTF8(s, "\ufffd")), []rune(a.word)
	look := text
	if !a.exact {
		look, word = caseless(text), caseless(word)
	}
	var b strings.Builder
	for i := 0; i < len(text); {
		end := i + len(word)
		if end <= len(text) && slices.Equal(look[i:end], word) && (i == 0 || !inWord(text[i-1])) && (end == len(text) || !inWord(text[end])) {
			b.WriteString(a.says)
			i = end
			continue
		}
		b.WriteRune(text[i])
		i++
	}
	return b.String()
}

// caseless maps each letter to one for all its cases; dotted and dotless i are
// one, since no two people are told apart by the dot.
func caseless(text []rune) []rune {
	out := make([]rune, len(text))
	for i, r := range text {
		least := r
		for x := unicode.SimpleFold(r); x != r; x = unicode.SimpleFold(x) {
			least = min(least, x)
		}
		if r == 'İ' || r == 'ı' || least == 'I' {
			least = 'I'
		}
		out[i] = least
	}
	return out
}
