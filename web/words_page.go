package web

import (
	"fmt"
	"net/http"
	"slices"
	"strings"

	"dogshore/internal/draw"
	"dogshore/journal"
	"dogshore/letter"
	"dogshore/record"
)

// wordsPage is the glossary: the words that the sheets use.
// and the owner's own list of words in the yard's language.
type wordsPage struct {
	Sheet
	Words   []Word
	Terms   []Term
	Missing []string // labels of letters and sheets without a second word
	Typed   string   // lines that were refused, as they were typed
	Wrong   string
}

// Term is a word in both languages.
type Term struct {
	record.Term
	Link    Named
	NoPaper bool // the type for paper can't write it
}

// Word is a word and what it means, in two lines at most.
type Word struct{ Name, Means string }

// glossary holds the trade's words, or ours where the trade has none, in the
// order of the alphabet.
var glossary = []Word{
	{"Act", "What the review says to do: where, before what, by when, and because of what."},
	{"Agreement", "What was agreed, and with whom. It is firm once somebody who may instruct has confirmed it in writing."},
	{"Covers up", "A step covers something up when it can't be seen or reached afterwards without cutting."},
	{"Cut-off", "A day that the contract or the yard has named, after which something can't be changed or chosen."},
	{"Decide by", "The day on which a decision must be there, so that what it takes fits in before the step that covers it up."},
	{"Doubt", "Something the record can't make sense of. Both sides are shown, and nothing is settled silently."},
	{"Entry", "One act of writing, by whom and when. Entries are never changed; a mistaken one is struck and stays readable."},
	{"Hold", "A step that may not start before somebody has released it; it binds only with the contract's clause. A witness point is only announced."},
	{"How we know", "From weak to strong: inferred, told, shown (in another's picture), written, seen, measured, weighed, certified."},
	{"Inferred", "It follows from something else, as an early stage from a later one. Inferred is not seen."},
	{"Lead", "Time that something takes before it can be built in: deciding, the designer's check, making, delivery."},
	{"Level", "How much the data allow to be said. Order: what comes next. Told dates: dates on somebody's word. Forecast: spreads of dates, learned from what was seen."},
	{"Look before", "The last chance to see something before a step covers it up."},
	{"Open point", "A question with options that must be settled before a step. If nobody says anything, something gets built all the same."},
	{"Part", "Something that is built and can be looked at: a hull shell, the deck, a tank. Parts nest."},
	{"Place", "A region of the boat, such as the foredeck. What lies in it can be covered up."},
	{"Sighting", "What was seen of one stage at one visit: not started, under way, done, could not see, not sure."},
	{"Sister hull", "A hull ahead of ours in the series. What was seen there feeds expectations, and is never evidence."},
	{"Snag", "A defect of finish only."},
	{"Stage", "What one sees: gelcoat, skin coat, core, under vacuum. The picture key shows each."},
	{"Step", "A stage's line in the programme, with what it waits for."},
	{"Strike", "To mark an entry as a mistake. It counts no more; the strike can be taken back."},
	{"Waive", "To say that something need not be done, with a name and a reason."},
	{"Walk", "The visit sheet's order of stops through the yard."},
}

func (s *Site) wordsPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "Words")
	if err != nil {
		return err
	}
	return s.showWords(w, v, http.StatusOK, "", "")
}

func (s *Site) showWords(w http.ResponseWriter, v *view, status int, typed, wrong string) error {
	page := &wordsPage{Sheet: v.Sheet, Words: glossary, Missing: v.untold(), Typed: typed, Wrong: wrong}
	for _, t := range journal.All[record.Term](v.rec) {
		page.Terms = append(page.Terms, Term{t, v.Ref(t.Self), !draw.Writes(t.Other)})
	}
	slices.SortStableFunc(page.Terms, func(a, b Term) int { return strings.Compare(fold(a.Word), fold(b.Word)) })
	return s.render(w, status, "words", page)
}

// mostUntold bounds the list of words that could be told.
const mostUntold = 60

// untold lists the labels that have no second word yet: those that every
// letter has, the stages of this build, its parts and places.
func (v *view) untold() []string {
	g := letter.Words(v.rec)
	var out []string
	add := func(label string) {
		if label != "" && len(label) <= longestOption && g.Other(label) == "" && !slices.Contains(out, label) && len(out) < mostUntold {
			out = append(out, label)
		}
	}
	for _, l := range letter.Labels {
		add(l)
	}
	used := map[string]bool{}
	for _, st := range v.rev.Plan.Steps {
		used[st.Stage] = true
	}
	for _, st := range record.Stages {
		if used[st.Slug] {
			add(st.Name)
		}
	}
	for _, kind := range []string{"part", "place"} {
		for _, ref := range v.rec.Refs(kind) {
			add(v.rec.Name(ref))
		}
	}
	return out
}

// tell writes words in the yard's language, one to a line: "word = word". A
// line that can't be read is refused, and nothing is written.
func (s *Site) tell(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Words")
	if err != nil {
		return err
	}
	typed := r.PostFormValue("terms")
	terms, wrong := readTerms(typed)
	if wrong != "" {
		return s.showWords(w, v, http.StatusUnprocessableEntity, typed, wrong)
	}
	e := s.draft(w, r, f, journal.Always, record.Written)
	e.Origin = "words"
	for _, t := range terms {
		self := v.termOf(t.Word)
		for _, x := range journal.Facts(self, record.Values(t)) {
			x.Over = v.rec.Over(self, x.Field)
			e.Facts = append(e.Facts, x)
		}
	}
	if _, err := f.Accept(r.Context(), e); err != nil {
		return s.showWords(w, v, http.StatusUnprocessableEntity, typed, whyRefused(err))
	}
	return wrote(w, r, "/words#terms", record.R("term", ""), e.ID)
}

// termOf is the subject of a word: the one that has it, else a new one.
func (v *view) termOf(word string) record.Ref {
	for _, t := range journal.All[record.Term](v.rec) {
		if fold(t.Word) == fold(word) {
			return t.Self
		}
	}
	return record.R("term", record.Slug(word))
}

// readTerms reads lines of "word = word in the yard's language". A line
// without a second word says nothing yet and is passed over.
func readTerms(text string) (terms []record.Term, wrong string) {
	seen := map[string]bool{}
	for i, line := range strings.Split(text, "\n") {
		line = strings.TrimSpace(line)
		word, other, ok := strings.Cut(line, "=")
		word, other = strings.TrimSpace(word), strings.TrimSpace(other)
		switch {
		case line == "" || ok && word != "" && other == "":
			continue
		case !ok || word == "":
			return nil, fmt.Sprintf("Line %d, “%s”: write the word, =, and the word in the yard's language, as “deck = dek”.", i+1, line)
		case seen[record.Slug(word)]:
			return nil, fmt.Sprintf("Line %d: “%s” stands there twice. Keep the line that is right.", i+1, word)
		}
		seen[record.Slug(word)] = true
		terms = append(terms, record.Term{Word: word, Other: other})
	}
	if terms == nil {
		return nil, "Nothing is written yet: no line has a word in both languages."
	}
	return terms, ""
}
