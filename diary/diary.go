// Package diary reads the visits of a build as illustrated pages, and writes
// all of them as one archive that opens without the program.
//
// What is shared can be shared without prices, without people's names, and
// without faults. What is left out stands nowhere in the archive: not in a
// text, not in a file name, not in what a picture carries. Where on earth a
// picture was taken is never in it.
package diary

import (
	"fmt"
	"slices"

	"dogshore/calendar"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
)

// Leave says what a diary leaves out.
type Leave struct{ Prices, Names, Faults bool }

// Any reports whether anything is left out.
func (l Leave) Any() bool { return l.Prices || l.Names || l.Faults }

// Words lists what is left out.
func (l Leave) Words() []string {
	var out []string
	for _, x := range []struct {
		left bool
		word string
	}{{l.Prices, "prices"}, {l.Names, "names"}, {l.Faults, "faults"}} {
		if x.left {
			out = append(out, x.word)
		}
	}
	return out
}

// ParseLeave reads words as Leave.Words gives them.
func ParseLeave(words []string) (Leave, error) {
	var l Leave
	for _, w := range words {
		switch w {
		case "prices":
			l.Prices = true
		case "names":
			l.Names = true
		case "faults":
			l.Faults = true
		case "":
		default:
			return l, fmt.Errorf("%q can't be left out: prices, names and faults can", w)
		}
	}
	return l, nil
}

// Diary is the visits of a build as pages, the first visit first.
type Diary struct {
	Build  string
	Notice string
	Day    calendar.Day
	Leave  Leave
	Visits []Page
	Loose  int // pictures that belong to no visit
}

// Page is one visit.
type Page struct {
	Self     record.Ref // "" in an archive
	Name     string     // of its file and anchors: "visit-2027-03-02"; nothing of what somebody wrote
	Day      calendar.Day
	How      string // "by the owner", "by a surveyor, Ada Quill"
	Note     string
	Sections []Section
	Pictures []Picture
	Letters  []Letter
}

// Section is what was found of one sort.
type Section struct {
	Title string
	Items []Item
}

// Item is one thing of a visit.
type Item struct {
	Anchor  string // unique in the diary
	Text    string
	More    string
	Place   string // the part or place
	Stage   string // of the picture key
	Grounds string // how we know
	Href    string // to its page in the program; "" in an archive
	self    record.Ref
}

// Subject is the observation that an item says.
func (i Item) Subject() record.Ref { return i.self }

// Picture is a picture of a visit with its caption.
type Picture struct {
	Item
	File record.File
	Src  string // where the page finds it; "" if it can't be shown
	Why  string // why it can't
}

// Letter is a letter that went out after a visit.
type Letter struct {
	Self record.Ref // "" in an archive
	Name string
	Href string
	Text string
	File record.File
}

// First returns the first picture that can be shown, or nil.
func (p Page) First() *Picture {
	for i := range p.Pictures {
		if p.Pictures[i].Src != "" {
			return &p.Pictures[i]
		}
	}
	return nil
}

// Shown lists the pictures that can be shown, Missing the others.
func (p Page) Shown() []Picture { return p.pictures(true) }

// Missing lists the pictures that can't be shown, each with its reason.
func (p Page) Missing() []Picture { return p.pictures(false) }

func (p Page) pictures(shown bool) []Picture {
	return slices.DeleteFunc(slices.Clone(p.Pictures), func(x Picture) bool { return (x.Src != "") != shown })
}

// Gist is what the visit was about, in at most three things.
func (p Page) Gist() []string {
	var out []string
	for _, s := range p.Sections {
		for _, i := range s.Items {
			if len(out) < 3 {
				out = append(out, i.Text)
			}
		}
	}
	return out
}

// Count is how many things were found, pictures apart.
func (p Page) Count() int {
	n := 0
	for _, s := range p.Sections {
		n += len(s.Items)
	}
	return n
}

// Read reads the diary of a record: each visit that has been, by its day.
func Read(r *journal.Record, leave Leave) Diary {
	b, _ := journal.Get[record.Build](r, record.R("build", "build"))
	d := &reading{r: r, leave: leave, clean: newCleaner(r, leave), states: map[record.Ref]string{}, days: map[calendar.Day]record.Ref{}}
	held := visit.Held(r)
	for _, v := range held {
		if d.days[v.Day] == "" {
			d.days[v.Day] = v.Self
		}
	}
	d.collect()
	out := Diary{Build: d.clean.text(b.Name), Notice: d.clean.text(b.Notice), Day: r.Day, Leave: leave}
	names := map[string]int{}
	for _, v := range held {
		name := "visit-" + v.Day.String()
		if names[name]++; names[name] > 1 {
			name += fmt.Sprintf("-%d", names[name])
		}
		out.Visits = append(out.Visits, d.page(v, name))
	}
	at := map[record.Ref]bool{}
	for _, v := range held {
		at[v.Self] = true
	}
	for _, p := range journal.All[record.Photo](r) {
		if !at[p.Visit] && !d.clean.faulty[p.Self] {
			out.Loose++
		}
	}
	return out
}

// Places lists the parts and places of all items, by name.
func (d Diary) Places() []string { return d.distinct(func(i Item) string { return i.Place }) }

// Stages lists the stages of all items, in the order of the picture key.
func (d Diary) Stages() []string {
	out := d.distinct(func(i Item) string { return i.Stage })
	rank := func(name string) int {
		return slices.IndexFunc(record.Stages, func(s record.Stage) bool { return s.Name == name })
	}
	slices.SortStableFunc(out, func(a, b string) int { return rank(a) - rank(b) })
	return out
}

func (d Diary) distinct(of func(Item) string) []string {
	seen := map[string]bool{}
	var out []string
	for _, p := range d.Visits {
		for _, i := range p.Items() {
			if x := of(i); x != "" && !seen[x] {
				seen[x] = true
				out = append(out, x)
			}
		}
	}
	slices.Sort(out)
	return out
}

// Items lists everything of a visit, pictures last.
func (p Page) Items() []Item {
	var out []Item
	for _, s := range p.Sections {
		out = append(out, s.Items...)
	}
	for _, x := range p.Pictures {
		out = append(out, x.Item)
	}
	return out
}
