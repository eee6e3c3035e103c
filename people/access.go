package people

import (
	"context"
	"database/sql"
	_ "embed"
	"errors"
	"fmt"
	"net/url"
	"os"
	"path/filepath"
	"runtime"
	"strings"
	"sync"
	"time"

	_ "modernc.org/sqlite" // registers the driver "sqlite"
)

// FileName is the file of a build folder that holds who may come in.
const FileName = "access.db"

// schemas lead from each version to the next; their number is kept as SQLite's
// user_version. They are only ever added to.
var (
	//go:embed schema1.sql
	schema1 string
	//go:embed schema2.sql
	schema2 string
	schemas = []string{schema1, schema2}
)

// ErrNewer is returned for a file that a newer program has written.
var ErrNewer = errors.New("this list of phones was written by a newer Dogshore")

// Access is who may come in to one build folder. Its methods may be called
// from any goroutine, and several processes may have it open.
type Access struct {
	db      *sql.DB
	now     func() time.Time
	hashing sync.Mutex // one hash at a time: each takes 19 MiB
}

// Open opens the list of who may come in, and makes it if it is not there.
// dir is a build folder; now is the clock.
func Open(ctx context.Context, dir string, now func() time.Time) (*Access, error) {
	path, err := filepath.Abs(filepath.Join(dir, FileName))
	if err != nil {
		return nil, err
	}
	if err := private(path); err != nil {
		return nil, fmt.Errorf("open %s: %w", path, err)
	}
	q := url.Values{"_txlock": {"immediate"}}
	for _, p := range []string{"busy_timeout(5000)", "journal_mode(DELETE)", "synchronous(FULL)", "secure_delete(1)"} {
		q.Add("_pragma", p)
	}
	slash := filepath.ToSlash(path)
	if !strings.HasPrefix(slash, "/") {
		slash = "/" + slash // a drive letter
	}
	db, err := sql.Open("sqlite", (&url.URL{Scheme: "file", Path: slash, RawQuery: q.Encode()}).String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(1)
	a := &Access{db: db, now: now}
	if err := a.change(ctx, prepare); err != nil {
		return nil, errors.Join(fmt.Errorf("open %s: %w", path, err), db.Close())
	}
	return a, nil
}

// private makes the file before SQLite does, and lets nobody else read it:
// SQLite gives its journal beside it the same rights.
func private(path string) error {
	f, err := os.OpenFile(path, os.O_RDWR|os.O_CREATE, 0o600)
	if err != nil {
		return err
	}
	in, err := f.Stat()
	if err == nil && runtime.GOOS != "windows" && in.Mode().Perm()&0o077 != 0 {
		err = f.Chmod(0o600)
	}
	return errors.Join(err, f.Close())
}

func prepare(ctx context.Context, tx *sql.Tx) error {
	var at int
	if err := tx.QueryRowContext(ctx, `PRAGMA user_version`).Scan(&at); err != nil {
		return err
	}
	if at > len(schemas) {
		return fmt.Errorf("it has schema %d, this program knows up to %d: %w", at, len(schemas), ErrNewer)
	}
	for _, schema := range schemas[at:] {
		if _, err := tx.ExecContext(ctx, schema); err != nil {
			return err
		}
	}
	_, err := tx.ExecContext(ctx, fmt.Sprintf(`PRAGMA user_version = %d`, len(schemas)))
	return err
}

// Close closes the file.
func (a *Access) Close() error { return a.db.Close() }

// change runs do in one transaction: all of it is on disk afterwards, or
// nothing of it.
func (a *Access) change(ctx context.Context, do func(context.Context, *sql.Tx) error) error {
	tx, err := a.db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }() // after a commit it does nothing
	if err := do(ctx, tx); err != nil {
		return err
	}
	return tx.Commit()
}

func millis(t time.Time) int64 { return t.UnixMilli() }

func timeOf(ms int64) time.Time {
	if ms == 0 {
		return time.Time{}
	}
	return time.UnixMilli(ms).UTC()
}
