package intake

import (
	"fmt"
	"path"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/picture"
	"dogshore/record"
)

// noVisit is the answer that pictures belong to no visit.
const noVisit = "to none of the visits"

// mostVisits is how many visits a question offers when nothing speaks for one.
const mostVisits = 8

// answered asks about pictures that do not say when they were taken, those of
// one guess together, and settles those that were answered.
func (s *photoSorter) answered(kept []*looked, sorted []picture.Sorted) {
	groups := map[string][]int{}
	var order []string
	for i, at := range sorted {
		if !at.Asks {
			continue
		}
		id := askID(at)
		if groups[id] == nil {
			order = append(order, id)
		}
		groups[id] = append(groups[id], i)
	}
	for _, id := range order {
		in := groups[id]
		readings, keys := s.readings(sorted[in[0]])
		if at := slices.Index(readings, strings.TrimSpace(s.opt.Answers[id])); at >= 0 {
			for _, i := range in {
				sorted[i] = settled(sorted[i], keys[at])
			}
			continue
		}
		var names []string
		for _, i := range in[:min(5, len(in))] {
			names = append(names, path.Base(kept[i].Name))
			s.out.Asked[id] = append(s.out.Asked[id], PhotoLine{Name: kept[i].Name, SHA256: kept[i].sha})
		}
		if n := len(in) - len(names); n > 0 {
			names = append(names, fmt.Sprintf("and %d more", n))
		}
		question := "nothing in the file says when it was taken"
		if len(in) > 1 {
			question = fmt.Sprintf("nothing in these %d files says when they were taken", len(in))
		}
		if why := sorted[in[0]].Why; why != "" && len(in) == 1 {
			question += "; " + why
		} else if sorted[in[0]].Guess != "" || sorted[in[0]].Day.Known() {
			question += "; their names speak for " + s.guessed(sorted[in[0]])
		}
		s.out.Asks = append(s.out.Asks, Ask{ID: id, At: Cell{File: id}, Text: strings.Join(names, ", "), Question: question + ". To which visit do they belong?", Readings: readings})
	}
}

// askID names a question by what is guessed, so that an answer holds for all
// pictures of that guess.
func askID(at picture.Sorted) string {
	switch {
	case at.Day.Known():
		return "pictures without a time, " + at.Day.String() + " by name"
	case at.Guess != "":
		return "pictures without a time, beside " + at.Guess
	}
	return "pictures without a time"
}

func (s *photoSorter) guessed(at picture.Sorted) string {
	if at.Day.Known() {
		return at.Day.Said()
	}
	return "the visit of " + s.visits[at.Guess].Day.Said()
}

// readings are the visits that a question offers, the guess first, else the
// last ones.
func (s *photoSorter) readings(at picture.Sorted) (readings, keys []string) {
	var all []record.Visit
	for _, v := range s.visits {
		if v.Planned != record.Yes && v.By != "call" {
			all = append(all, v)
		}
	}
	slices.SortFunc(all, func(a, b record.Visit) int {
		if n := s.far(at, a) - s.far(at, b); n != 0 {
			return n
		}
		return strings.Compare(string(a.Self), string(b.Self))
	})
	same := map[calendar.Day]int{}
	for _, v := range all {
		same[v.Day]++
	}
	for _, v := range all[:min(len(all), mostVisits)] {
		says := "the visit of " + v.Day.Said()
		if same[v.Day] > 1 {
			says += " (" + v.Self.Key() + ")"
		}
		readings, keys = append(readings, says), append(keys, v.Self.Key())
	}
	return append(readings, noVisit), append(keys, "")
}

// far orders visits: by how far they are from the guessed day, else the latest
// first.
func (s *photoSorter) far(at picture.Sorted, v record.Visit) int {
	day := at.Day
	if at.Guess != "" {
		if at.Guess == v.Self.Key() {
			return -1
		}
		day = s.visits[at.Guess].Day
	}
	if !day.Known() {
		return max(0, int(s.opt.Today-v.Day))
	}
	return max(int(day-v.Day), int(v.Day-day))
}

// settled is a picture of which somebody said to which visit it belongs.
func settled(at picture.Sorted, visit string) picture.Sorted {
	out := picture.Sorted{Visit: visit, Day: at.Day, Doubt: "nothing in the file says when it was taken"}
	if at.Day.Known() {
		out.Doubt += "; the day is that of its name"
	}
	return out
}
