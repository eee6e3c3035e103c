package workbook

import (
	"errors"
	"fmt"
	"strings"
)

// The bounds of what is read from one file. Real workbooks of a build stay
// far below; files made to fill a computer end here.
const (
	MaxFile     = 64 << 20 // bytes of the file itself
	maxUnpacked = 96 << 20 // bytes unpacked from it, all parts together
	maxTokens   = 8 << 20  // tags and texts in it, all parts together
	maxToken    = 1 << 20  // bytes of one tag or one text in it
	maxParts    = 10_000
	maxDepth    = 64 // tags within tags
	maxSheets   = 200
	maxCells    = 400_000
	maxRows     = 200_000 // that hold something
	maxColumns  = 200
	blankRun    = 5_000 // blank rows after which a sheet is taken to have ended
	maxCellText = 100_000
	maxMerges   = 10_000
)

// ErrKind is wrapped by the error for a file that is no workbook that can be
// read.
var ErrKind = errors.New("not a file that can be read")

// Book is what was read of one file.
type Book struct {
	Sheets []Sheet
	Notes  []string // what was not read, and why
}

// Sheet is one sheet of rows, or a whole CSV file. Rows without any text are
// left out.
type Sheet struct {
	Name   string // "" for a CSV file
	Hidden bool
	Rows   []Row
	Merged []Range
	Notes  []string // what was not read of it, and why
}

// Row is one row that holds something.
type Row struct {
	Number int // counted from 1, as the spreadsheet shows it; in a CSV file its line
	Hidden bool
	Cells  []Cell // in the order of columns; empty cells are left out
}

// Cell is one cell that holds something.
type Cell struct {
	Column  int    // counted from 1
	Text    string // as a person would read it: days as 2027-04-12, numbers with a decimal point
	Form    Form
	Unit    string // the unit that the cell's number format prints: 0.0 "kg"
	Formula bool   // Text is the value that was computed last
}

// Form is how a cell keeps its value.
type Form byte

// The forms of cells.
const (
	AsText   Form = iota
	AsNumber      // a number; its mark is a point whatever the sheet's habit
	AsDay         // a number that is shown as a day
	AsFlag        // true or false
	AsError       // #REF! and the like
	NoValue       // a formula that has not been computed
)

// Range is a block of merged cells.
type Range struct{ FromRow, FromColumn, ToRow, ToColumn int }

// At returns the row's cell in a column; the zero Cell if it is empty.
func (r Row) At(column int) Cell {
	for _, c := range r.Cells {
		if c.Column == column {
			return c
		}
	}
	return Cell{}
}

// Letters returns the name of a column: A, B ... Z, AA.
func Letters(column int) string {
	out := ""
	for column > 0 {
		column--
		out = string(rune('A'+column%26)) + out
		column /= 26
	}
	return out
}

// address reads B4. A missing part is 0.
func address(s string) (row, column int) {
	for i, c := range []byte(strings.ReplaceAll(s, "$", "")) {
		switch {
		case c >= 'A' && c <= 'Z' && i < 4:
			column = 26*column + int(c-'A') + 1
		case c >= '0' && c <= '9' && i < 11:
			row = 10*row + int(c-'0')
		default:
			return 0, 0
		}
	}
	return row, column
}

// meter counts what is kept of a file over all its sheets.
type meter struct{ cells, rows int }

// full says which bound has been reached; "" if none.
func (m *meter) full() string {
	switch {
	case m.cells >= maxCells:
		return fmt.Sprintf("%d cells", maxCells)
	case m.rows >= maxRows:
		return fmt.Sprintf("%d rows", maxRows)
	}
	return ""
}
