package web

import "net/http"

// wordsPage is the glossary: the words that the sheets use.
type wordsPage struct {
	Sheet
	Words []Word
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
	page := &wordsPage{Sheet: v.Sheet, Words: glossary}
	return s.render(w, http.StatusOK, "words", page)
}
