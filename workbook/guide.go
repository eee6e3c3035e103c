package workbook

// guideName is the first sheet of a written workbook, which says how to use
// it, and guideMark the text in its first cell.
const (
	guideName = "How to use"
	guideMark = "How to use this workbook"
)

// IsGuide reports whether a sheet only explains or serves the others of a
// written workbook.
func IsGuide(s *Sheet) bool {
	return s.Name == guideName && len(s.Rows) > 0 && s.Rows[0].At(1).Text == guideMark ||
		s.Hidden && s.Name == listsName
}

// listsName is the hidden sheet of names to choose from.
const listsName = "names to choose"
