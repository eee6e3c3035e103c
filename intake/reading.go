package intake

import (
	"fmt"
	"io"

	"dogshore/calendar"
	"dogshore/record"
	"dogshore/workbook"
)

// File is a file to be read.
type File struct {
	Name string // as the person knows it, without folders
	Data io.ReaderAt
	Size int64
}

// Options are what Read has to know beside the files and the record.
type Options struct {
	Today  calendar.Day // settles days without a year
	Author string       // who hands the files in; "owner" if empty
	// Since is the day from which values hold that differ from the record's;
	// zero asks. Correct says instead that they put right what was wrong from
	// the start.
	Since   calendar.Day
	Correct bool
	Answers map[string]string // what was answered to Asks, by Ask.ID
}

// Cell is a place in a file. Row 0 is the whole sheet, column 0 the whole row.
type Cell struct {
	File   string `json:"file"`
	Sheet  string `json:"sheet,omitempty"`
	Row    int    `json:"row,omitempty"`
	Column int    `json:"column,omitempty"`
}

// String names the place as a person would look for it.
func (c Cell) String() string {
	s := c.File
	if c.Sheet != "" {
		s += ", " + c.Sheet
	}
	switch {
	case c.Row == 0:
	case c.Column == 0:
		s += fmt.Sprintf(", row %d", c.Row)
	default:
		s += fmt.Sprintf(", %s%d", workbook.Letters(c.Column), c.Row)
	}
	return s
}

// Reading is what was made of the files. Nothing of it is written yet.
type Reading struct {
	Sources []Source  // what each sheet or message was taken for
	Reads   []News    // what would be written
	Asks    []Ask     // what is left out until it is answered
	Refuses []Refusal // what can't be
	Skips   []Skip    // what was passed over, and why
	Same    int       // cells that say what the record says already

	author string
}

// Source is one sheet or message, and what it was taken for.
type Source struct {
	At    Cell
	As    string // the kind's plural, or "message"
	Rows  int    // rows that say something
	Count string // what Rows counts, if not rows: "run"
	Notes []string
}

// Of is what Rows counts.
func (s Source) Of() string {
	if s.Count == "" {
		return "row"
	}
	return s.Count
}

// News is what one row says of one subject that the record does not say yet.
type News struct {
	At      Cell
	Self    record.Ref
	Name    string // what the subject is called
	New     bool   // the record does not know of it
	Since   calendar.Day
	Grounds record.Grounds
	By      string
	Facts   []Fact
}

// Fact is one cell's value.
type Fact struct {
	At    Cell
	Field *record.Field
	Value record.Value
	Was   string // what the record says so far
	Over  string // the entry that says so
}

// Ask is a question that only a person can answer. Options.Answers takes the
// answer under its ID: one of Readings, or where Free is set any text that
// could stand in the cell.
type Ask struct {
	ID       string
	At       Cell
	Text     string // what stands there
	Question string
	Readings []string
	Free     bool
}

// Refusal is what can't be read, and what would be right.
type Refusal struct {
	At   Cell
	Text string
	Why  string
}

// Skip is what was passed over on purpose.
type Skip struct {
	At   Cell
	Text string
	Why  string
}

func (r *Reading) skip(at Cell, text, format string, a ...any) {
	r.Skips = append(r.Skips, Skip{at, text, fmt.Sprintf(format, a...)})
}

func (r *Reading) refuse(at Cell, text, format string, a ...any) {
	r.Refuses = append(r.Refuses, Refusal{at, text, fmt.Sprintf(format, a...)})
}
