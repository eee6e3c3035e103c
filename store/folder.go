// Package store keeps a build folder: build.db (SQLite) with the journal, and
// files/ with pictures, drawings and meshes, named by their SHA-256.
package store

import (
	"context"
	"errors"
	"io"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// Folder is an open build folder. Its methods may be called from any
// goroutine; several processes may have the same folder open.
type Folder struct {
	dir string
	now func() time.Time
}

var errNotYet = errors.New("store: not written yet")

// Create makes a build folder in dir, which must not hold one yet.
func Create(ctx context.Context, dir string, now func() time.Time) (*Folder, error) {
	return nil, errNotYet
}

// Open opens the build folder in dir. now is the clock; it orders and dates
// entries, and stands in for time.Now in tests and in the demo.
func Open(ctx context.Context, dir string, now func() time.Time) (*Folder, error) {
	return nil, errNotYet
}

// Close closes the folder. Everything that Accept returned for is on disk.
func (f *Folder) Close() error { return errNotYet }

// Dir returns the folder's path.
func (f *Folder) Dir() string { return f.dir }

// Draft returns an entry by author that holds from since, with its id and
// stamp, ready for Accept. Its facts are to be filled in.
func (f *Folder) Draft(author string, since calendar.Day, grounds record.Grounds) journal.Entry {
	return journal.Entry{}
}

// Accept lets entries through the door, all of them or none, and returns how
// many are new. When it returns without an error they are on disk for good.
// Entries that are there already count as accepted and are not new.
func (f *Folder) Accept(ctx context.Context, entries ...journal.Entry) (fresh int, err error) {
	return 0, errNotYet
}

// As returns the record as of a day, known by an arrival (journal.Now for
// all). It takes in what other processes have written since. Records are
// remembered until something new arrives.
func (f *Folder) As(ctx context.Context, day calendar.Day, known int64) (*journal.Record, error) {
	return nil, errNotYet
}

// History returns every fact that was ever said of a subject, struck ones
// too, oldest first.
func (f *Folder) History(ctx context.Context, self record.Ref) ([]Said, error) { return nil, errNotYet }

// Said is one fact in a subject's history.
type Said struct {
	Entry  *journal.Entry
	Fact   journal.Fact
	Struck bool // the fold skips it
}

// Entry returns the entry of that id, or nil.
func (f *Folder) Entry(ctx context.Context, id string) (*journal.Entry, error) { return nil, errNotYet }

// Batch returns the entries accepted together under that name, in the order of
// arrival: what undoing an import strikes.
func (f *Folder) Batch(ctx context.Context, batch string) ([]*journal.Entry, error) {
	return nil, errNotYet
}

// Last returns the highest arrival number: it grows with every accepted
// entry, so a page can ask whether anything is new.
func (f *Folder) Last(ctx context.Context) (int64, error) { return 0, errNotYet }

// Arrived returns the highest arrival number among entries received before
// the end of day: what was known then.
func (f *Folder) Arrived(ctx context.Context, day calendar.Day) (int64, error) { return 0, errNotYet }

// Put copies a file into files/ and returns its name there. It reads at most
// limit bytes and refuses longer files.
func (f *Folder) Put(ctx context.Context, name string, r io.Reader, limit int64) (record.File, error) {
	return record.File{}, errNotYet
}

// File opens a file of files/.
func (f *Folder) File(file record.File) (io.ReadSeekCloser, error) { return nil, errNotYet }
