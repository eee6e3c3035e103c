package letter

import (
	"cmp"
	"slices"
	"strings"
	"unicode"
	"unicode/utf8"

	"dogshore/internal/draw"
	"dogshore/journal"
	"dogshore/record"
)

// Labels are the words that the letter and the sheets for paper put beside
// what somebody wrote: the first that a glossary should have in the yard's
// language.
var Labels = []string{
	"letter", "points", "annex", "visit", "to", "day", "noted", "seen", "agreed", "decided", "question", "to be seen",
	"please confirm", "answer by", "before", "on", "drawing", "picture", "forward", "further points: see the annex",
}

// Glossary is the owner's own list of words in the yard's language. The zero
// Glossary has none.
type Glossary struct{ terms []term }

type term struct{ word, other string }

// Words reads the glossary of a build. Where a word stands in it twice, the
// first by key counts.
func Words(r *journal.Record) Glossary {
	var g Glossary
	seen := map[string]bool{}
	for _, t := range journal.All[record.Term](r) {
		word := folded(t.Word)
		if word == "" || strings.TrimSpace(t.Other) == "" || seen[word] {
			continue
		}
		seen[word] = true
		g.terms = append(g.terms, term{word, strings.TrimSpace(t.Other)})
	}
	slices.SortStableFunc(g.terms, func(a, b term) int {
		return cmp.Or(cmp.Compare(len(b.word), len(a.word)), cmp.Compare(a.word, b.word))
	})
	return g
}

// OnPaper returns the glossary without the words that the type for paper can't
// write: they would stand there as empty boxes.
func (g Glossary) OnPaper() Glossary {
	return Glossary{slices.DeleteFunc(slices.Clone(g.terms), func(t term) bool { return !draw.Writes(t.other) })}
}

// Has reports whether a label as a whole is in the glossary.
func (g Glossary) Has(label string) bool {
	return slices.ContainsFunc(g.terms, func(t term) bool { return t.word == folded(label) })
}

// Other returns a label in the second language: the whole of it, or else what
// of its words the glossary has, in their order; "" if none. A sentence is no
// label: nothing is translated here but words that the owner entered.
func (g Glossary) Other(label string) string {
	text := folded(label)
	type found struct {
		at    int
		other string
	}
	var all []found
	for _, t := range g.terms {
		if t.word == text {
			return t.other
		}
		for at := 0; ; {
			i := strings.Index(text[at:], t.word)
			if i < 0 {
				break
			}
			from, to := at+i, at+i+len(t.word)
			at = to
			if whole(text, from, to) {
				all = append(all, found{from, t.other})
				text = text[:from] + strings.Repeat("\x00", len(t.word)) + text[to:]
			}
		}
	}
	slices.SortFunc(all, func(a, b found) int { return cmp.Compare(a.at, b.at) })
	var out []string
	for _, f := range all {
		if !slices.Contains(out, f.other) {
			out = append(out, f.other)
		}
	}
	return strings.Join(out, " · ")
}

// Both returns a label with the second language behind the first.
func (g Glossary) Both(label string) string {
	other := g.Other(label)
	if other == "" || folded(other) == folded(label) {
		return label
	}
	return label + " / " + other
}

// Names is how sheets for paper call a subject: its name, and behind it the
// name in the yard's language as far as the glossary has it. People keep
// theirs.
func (g Glossary) Names(r *journal.Record) func(record.Ref) string {
	paper := g.OnPaper()
	return func(ref record.Ref) string {
		if ref.Kind() == "person" {
			return r.Name(ref)
		}
		return paper.Both(r.Name(ref))
	}
}

func folded(s string) string { return strings.Join(strings.Fields(strings.ToLower(s)), " ") }

// whole reports whether text[from:to] is no piece of a longer word.
func whole(text string, from, to int) bool {
	before, _ := utf8.DecodeLastRuneInString(text[:from])
	after, _ := utf8.DecodeRuneInString(text[to:])
	inWord := func(r rune) bool { return r != utf8.RuneError && (unicode.IsLetter(r) || unicode.IsDigit(r)) }
	return !inWord(before) && !inWord(after)
}
