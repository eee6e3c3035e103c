package web

import (
	"net/http"
	"net/url"
	"strings"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/people"
	"dogshore/record"
)

// Sheet is what every page carries: the title block along its foot, the list
// of sheets, and the means to make links.
type Sheet struct {
	Name   string // of the sheet: "Review"
	Build  string
	Notice string // stands on every sheet of an invented build
	Level  desk.Level

	Today    calendar.Day
	Day      calendar.Day // as of which day
	Past     bool         // another day than today is looked at, or what was known then
	KnewThen bool
	Visit    *VisitDay  // the last one by Day
	Visits   []VisitDay // latest first

	Index []Listed // the list of sheets
	Here  string   // this page's path
	Last  int64    // the arrival this page was made from
	Wrote string   // the entry that was just written
	Ready bool     // there is a build

	Visitor *visitor // who is signed in, from outside; nil on this computer
	AtDoor  bool     // the page stands before the door, and tells nothing of the build
	Forget  bool     // the phone is to forget the pages that it keeps

	record *journal.Record
}

// VisitDay is a visit as the title block names it.
type VisitDay struct {
	Ref record.Ref
	Day calendar.Day
	By  string
}

// Listed is one line of the list of sheets.
type Listed struct {
	Path, Name string
	Here       bool
	Thumb      bool // also in the short list at the thumb
}

// sheets lists the sheets in the order of the owner's week.
var sheets = []Listed{
	{Path: "/", Name: "Review", Thumb: true},
	{Path: "/visits", Name: "Visits", Thumb: true},
	{Path: "/diary", Name: "Diary"},
	{Path: "/points", Name: "Points", Thumb: true},
	{Path: "/boat", Name: "Boat", Thumb: true},
	{Path: "/photos", Name: "Sort pictures"},
	{Path: "/behind", Name: "What is behind this?"},
	{Path: "/deck", Name: "Deck"},
	{Path: "/programme", Name: "Programme"},
	{Path: "/launch", Name: "Launch"},
	{Path: "/promises", Name: "Promises"},
	{Path: "/items", Name: "Bought in"},
	{Path: "/requirements", Name: "Requirements"},
	{Path: "/people", Name: "People"},
	{Path: "/sisters", Name: "Sister hulls"},
	{Path: "/calendar", Name: "Calendar"},
	{Path: "/intake", Name: "Intake"},
	{Path: "/pictures", Name: "Pictures"},
	{Path: "/start", Name: "Start sheet"},
	{Path: "/key", Name: "Picture key"},
	{Path: "/phones", Name: "Phones"},
	{Path: "/kinds", Name: "What can be written"},
	{Path: "/words", Name: "Words"},
}

// bareSheet is the sheet of a page that asks the folder for nothing.
func (s *Site) bareSheet(r *http.Request, name string) Sheet {
	sh := Sheet{Name: name, Here: r.URL.Path, Today: s.today(), Day: s.today(), Ready: s.folder.Load() != nil}
	if v := visitorOf(r); v != nil {
		sh.AtDoor, sh.Ready = !v.in, sh.Ready && v.in
		if v.in {
			sh.Visitor = v
		}
	}
	if sh.Ready {
		sh.Index = index(r)
	}
	return sh
}

// index lists the sheets that whoever asks may open, and marks the one that
// the path belongs to.
func index(r *http.Request) []Listed {
	var out []Listed
	for _, l := range sheets {
		l.Here = r.URL.Path == l.Path
		if mayUse(r, "GET "+l.Path) || l.Path == "/" {
			out = append(out, l)
		}
	}
	return out
}

// Link returns path with the day that is looked at, which stays while one
// follows links.
func (sh *Sheet) Link(path string) string {
	if !sh.Past {
		return path
	}
	q := url.Values{"as-of": {sh.Day.String()}}
	if sh.KnewThen {
		q.Set("knew", "then")
	}
	join := "?"
	if strings.Contains(path, "?") {
		join = "&"
	}
	path, place, ok := strings.Cut(path, "#")
	path += join + q.Encode()
	if ok {
		path += "#" + place
	}
	return path
}

// Named is a subject as a link: where it leads and how a person calls it.
type Named struct {
	Ref  record.Ref
	Href string
	Name string
	Here bool // the record has it
}

// Ref returns the link to a subject.
func (sh *Sheet) Ref(ref record.Ref) Named {
	n := Named{Ref: ref, Name: ref.Key()}
	if ref == "" {
		return n
	}
	n.Href = sh.Link(pathOf(ref))
	if sh.record != nil {
		n.Name, n.Here = sh.record.Name(ref), sh.record.Has(ref)
		if v, ok := journal.Get[record.Visit](sh.record, ref); ok && v.Day.Known() {
			n.Name = "visit of " + v.Day.Said()
		}
	}
	return n
}

// pathOf returns the page of a subject: a page of its own kind where there is
// one, else the plain one.
func pathOf(ref record.Ref) string {
	key := url.PathEscape(ref.Key())
	switch ref.Kind() {
	case "part", "point", "visit", "letter", "step", "photo":
		return "/" + ref.Kind() + "/" + key
	case journal.EntryKind:
		return "/entry/" + key
	}
	return "/of/" + url.PathEscape(ref.Kind()) + "/" + key
}

// Owns reports whether whoever looks may write as an owner here: what such a
// form or button would be refused is not shown.
func (sh *Sheet) Owns() bool {
	return !sh.Past && (sh.Visitor == nil || sh.Visitor.Role == people.Owner)
}

// With hands a piece of a page the sheet, for its links, and what the piece is
// about.
func (sh *Sheet) With(of any) Piece { return Piece{sh, of} }

// Piece is the data of a piece of a page.
type Piece struct {
	Sheet *Sheet
	Of    any
}
