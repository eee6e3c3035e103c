package workbook

import (
	"bytes"
	"fmt"
	"io"
	"path/filepath"
	"strings"
)

// Read reads a workbook (XLSX) or a CSV file. What it is shows in its first
// bytes; name only helps to say so. A file that is neither, is too large or
// is broken is an error that says what would be right; one that is longer
// than the bounds is read in part, and the notes say where reading ended.
func Read(name string, r io.ReaderAt, size int64) (*Book, error) {
	if size > MaxFile {
		return nil, fmt.Errorf("%w: it has %d MB, and at most %d MB are read: split it, or leave the pictures out", ErrKind, size>>20, MaxFile>>20)
	}
	if size == 0 {
		return nil, fmt.Errorf("%w: there is nothing in it", ErrKind)
	}
	head := make([]byte, 8)
	n, err := r.ReadAt(head, 0)
	if err != nil && err != io.EOF {
		return nil, fmt.Errorf("read %s: %w", name, err)
	}
	head = head[:n]
	switch ext := strings.ToLower(filepath.Ext(name)); {
	case bytes.HasPrefix(head, []byte("PK\x03\x04")):
		return readXLSX(r, size)
	case bytes.HasPrefix(head, []byte("\xd0\xcf\x11\xe0")):
		return nil, fmt.Errorf("%w: it is locked with a password or in the format before 2007: save it as XLSX without a password", ErrKind)
	case bytes.HasPrefix(head, []byte("%PDF")):
		return nil, fmt.Errorf("%w: it is a PDF: save the sheet itself as XLSX or CSV", ErrKind)
	case ext == ".xlsx" || ext == ".xlsm" || ext == ".ods" || ext == ".xls":
		return nil, fmt.Errorf("%w: its name ends in %s, and what is in it is something else; save it as XLSX or CSV", ErrKind, ext)
	}
	return readCSV(io.NewSectionReader(r, 0, size))
}
