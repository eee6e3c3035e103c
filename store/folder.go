// Package store keeps a build folder: build.db (SQLite) with the journal, and
// files/ with pictures, drawings and meshes, named by their SHA-256.
package store

import (
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"sync"
	"time"

	"dogshore/journal"
)

// Folder is an open build folder. Its methods may be called from any
// goroutine; several processes may have the same folder open.
type Folder struct {
	dir   string
	now   func() time.Time
	write *sql.DB // one connection
	read  *sql.DB // several

	mu      sync.Mutex // guards what follows
	journal *journal.Journal
	last    arrived
	stamp   journal.Stamp // the last one given out or seen
	records map[axes]*journal.Record
	derived derived

	pieces sync.Mutex // one piece of a file is kept at a time
}

// readers is the number of connections for reading.
const readers = 4

// Create makes a build folder in dir, which must not hold one yet.
func Create(ctx context.Context, dir string, now func() time.Time) (*Folder, error) {
	if _, err := os.Stat(filepath.Join(dir, databaseName)); err == nil {
		return nil, fmt.Errorf("%s holds a build already: open it, or choose another folder", dir)
	} else if !errors.Is(err, os.ErrNotExist) {
		return nil, err
	}
	if err := os.MkdirAll(filepath.Join(dir, filesName), 0o755); err != nil {
		return nil, fmt.Errorf("make the build folder: %w", err)
	}
	return open(ctx, dir, now)
}

// Open opens the build folder in dir. now is the clock; it orders and dates
// entries, and stands in for time.Now in tests and in the demo.
func Open(ctx context.Context, dir string, now func() time.Time) (*Folder, error) {
	if _, err := os.Stat(filepath.Join(dir, databaseName)); errors.Is(err, os.ErrNotExist) {
		return nil, fmt.Errorf("%s holds no build (there is no %s in it): %w", dir, databaseName, os.ErrNotExist)
	} else if err != nil {
		return nil, err
	}
	return open(ctx, dir, now)
}

func open(ctx context.Context, dir string, now func() time.Time) (*Folder, error) {
	path := filepath.Join(dir, databaseName)
	f := &Folder{dir: dir, now: now, journal: &journal.Journal{}, records: map[axes]*journal.Record{}}
	var err error
	if f.write, err = connect(path, true, 1); err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	if f.read, err = connect(path, false, readers); err != nil {
		return nil, errors.Join(fmt.Errorf("open %s: %w", path, err), f.write.Close())
	}
	err = migrate(ctx, f.write, path, migrations)
	if err == nil {
		err = makeViews(ctx, f.write)
	}
	if err == nil {
		err = f.refresh(ctx, f.read)
	}
	if err != nil {
		return nil, errors.Join(explained(err, dir), f.Close())
	}
	f.sweep()
	return f, nil
}

// Close closes the folder. Everything that Accept returned for is on disk.
func (f *Folder) Close() error {
	return errors.Join(f.read.Close(), f.write.Close())
}

// Dir returns the folder's path.
func (f *Folder) Dir() string { return f.dir }
