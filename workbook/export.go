package workbook

import (
	"dogshore/record"
)

// exportName is the hidden sheet of values as they were exported, and
// exportMark the text in its first cell.
const (
	exportName = "as exported"
	exportMark = "values as exported, not to be changed"
)

// Exported is one value as it was exported.
type Exported struct {
	Text  string       // as it stood in its cell
	Value record.Value // "" if it was too long for the hidden sheet
	Entry string       // the entry that it came from
}

// Export is what a written workbook remembers of the record.
type Export struct {
	fields map[record.Ref]map[string]Exported
	refs   []record.Ref
}

// Exported returns the values as they were exported, and takes their sheet
// out of the book; nil if the book was not written from a record.
func (b *Book) Exported() *Export {
	for i, s := range b.Sheets {
		if !s.Hidden || len(s.Rows) == 0 || s.Rows[0].At(1).Text != exportMark {
			continue
		}
		b.Sheets = append(b.Sheets[:i:i], b.Sheets[i+1:]...)
		e := &Export{fields: map[record.Ref]map[string]Exported{}}
		for _, r := range s.Rows[1:] {
			var at [6]string
			for _, c := range r.Cells {
				if c.Column <= len(at) {
					at[c.Column-1] = c.Text
				}
			}
			self := record.R(at[0], at[1])
			if e.fields[self] == nil {
				e.fields[self] = map[string]Exported{}
				e.refs = append(e.refs, self)
			}
			e.fields[self][at[2]] = Exported{Text: at[4], Value: record.Value(at[5]), Entry: at[3]}
		}
		return e
	}
	return nil
}

// Field returns a field's value as exported.
func (e *Export) Field(self record.Ref, field string) (Exported, bool) {
	if e == nil {
		return Exported{}, false
	}
	x, ok := e.fields[self][field]
	return x, ok
}

// Refs returns the subjects that were exported, in the order of their rows.
func (e *Export) Refs() []record.Ref {
	if e == nil {
		return nil
	}
	return e.refs
}
