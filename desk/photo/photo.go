// Package photo is the desk of the pictures: which are still to be sorted,
// what a person would most likely sort them to, which repeat one view, and
// what lies behind a surface that was closed: the pictures taken before. It
// runs no engine.
package photo

import (
	"cmp"
	"slices"
	"strings"

	"dogshore/calendar"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
)

// Answer is what the photo desk says of a record.
type Answer struct {
	Photos []Photo // oldest first; within a day by time, then name
	Views  []View  // views that several pictures repeat
}

// Photo is a picture with what is known of it.
type Photo struct {
	record.Photo
	Taken  calendar.Day      // its own day, else its visit's; 0 if neither is known
	Shows  []record.Evidence // what somebody said that it shows
	How    record.Grounds    // seen, or shown where it is somebody else's picture
	Sorted bool              // it has a part or a place
}

// View is the same view over the visits.
type View struct {
	Name   string
	Photos []Photo // oldest first
}

// Read reads the pictures of a record. What somebody else took is shown, never
// seen.
func Read(r *journal.Record) Answer {
	shows := map[record.Ref][]record.Evidence{}
	for _, e := range journal.All[record.Evidence](r) {
		if e.Photo != "" {
			shows[e.Photo] = append(shows[e.Photo], e)
		}
	}
	var a Answer
	for _, p := range journal.All[record.Photo](r) {
		x := Photo{Photo: p, Taken: p.Day, Shows: shows[p.Self], How: record.Seen, Sorted: p.Part != "" || p.Place != ""}
		v, visited := journal.Get[record.Visit](r, p.Visit)
		if !x.Taken.Known() && visited {
			x.Taken = v.Day
		}
		if p.By != "" || visited && (v.By == "pictures" || v.By == "call") {
			x.How = record.Shown
		}
		a.Photos = append(a.Photos, x)
	}
	slices.SortStableFunc(a.Photos, func(a, b Photo) int {
		return cmp.Or(cmp.Compare(a.Taken, b.Taken), strings.Compare(a.Time, b.Time), strings.Compare(a.Name, b.Name))
	})
	a.Views = views(a.Photos)
	return a
}

// views groups what repeats one view, those with most pictures first.
func views(photos []Photo) []View {
	at := map[string]int{}
	var out []View
	for _, p := range photos {
		name := strings.TrimSpace(p.View)
		if name == "" {
			continue
		}
		i, ok := at[strings.ToLower(name)]
		if !ok {
			i = len(out)
			at[strings.ToLower(name)] = i
			out = append(out, View{Name: name})
		}
		out[i].Photos = append(out[i].Photos, p)
	}
	slices.SortStableFunc(out, func(a, b View) int {
		return cmp.Or(cmp.Compare(len(b.Photos), len(a.Photos)), strings.Compare(a.Name, b.Name))
	})
	return out
}

// Of returns the pictures that fit reports true for.
func (a Answer) Of(fit func(Photo) bool) []Photo {
	var out []Photo
	for _, p := range a.Photos {
		if fit(p) {
			out = append(out, p)
		}
	}
	return out
}

// Photo returns one picture.
func (a Answer) Photo(self record.Ref) (Photo, bool) {
	i := slices.IndexFunc(a.Photos, func(p Photo) bool { return p.Self == self })
	if i < 0 {
		return Photo{}, false
	}
	return a.Photos[i], true
}

// Suggest returns parts that a picture is likely of, the likeliest first, at
// most n: what the pictures just before and after it at the same visit were
// sorted to, then the parts with a sighting at that visit in the order of the
// walk, then those whose step can come next.
func (a Answer) Suggest(r *journal.Record, p plan.Answer, of Photo, n int) []record.Ref {
	var out []record.Ref
	add := func(ref record.Ref) {
		if ref != "" && len(out) < n && !slices.Contains(out, ref) {
			out = append(out, ref)
		}
	}
	same := a.Of(func(x Photo) bool { return x.Visit == of.Visit && x.Taken == of.Taken })
	i := slices.IndexFunc(same, func(x Photo) bool { return x.Self == of.Self })
	for far := 1; far <= 3 && i >= 0; far++ {
		for _, k := range []int{i - far, i + far} {
			if k >= 0 && k < len(same) {
				add(same[k].Part)
			}
		}
	}
	parts := map[record.Ref]record.Ref{}
	for _, s := range p.Steps {
		parts[s.Self] = s.Part
	}
	for _, s := range journal.All[record.Sighting](r) {
		if of.Visit != "" && s.Visit == of.Visit && s.State != "could not see" {
			add(parts[s.Step])
		}
	}
	for _, s := range p.Next {
		add(parts[s])
	}
	return out
}
