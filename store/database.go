package store

import (
	"context"
	"database/sql"
	"embed"
	"errors"
	"fmt"
	"io/fs"
	"net/url"
	"path/filepath"
	"strconv"
	"strings"

	"modernc.org/sqlite" // registers the driver "sqlite"
	sqlite3 "modernc.org/sqlite/lib"
)

const databaseName = "build.db"

// driverName is SQLite's; tests put one before it that counts.
var driverName = "sqlite"

//go:embed migration/*.sql
var migrations embed.FS

// ErrNewer is returned for a folder that a newer program has changed.
var ErrNewer = errors.New("this build folder was written by a newer Dogshore")

// connect opens a pool of connections. Writers begin their transactions with
// the write lock, so that two processes take turns.
func connect(path string, writes bool, conns int) (*sql.DB, error) {
	abs, err := filepath.Abs(path)
	if err != nil {
		return nil, err
	}
	q := url.Values{}
	for _, p := range []string{"busy_timeout(5000)", "journal_mode(WAL)", "foreign_keys(1)", "synchronous(FULL)", "secure_delete(1)"} {
		q.Add("_pragma", p)
	}
	if writes {
		q.Set("_txlock", "immediate")
	} else {
		q.Add("_pragma", "query_only(1)")
	}
	slash := filepath.ToSlash(abs)
	if !strings.HasPrefix(slash, "/") {
		slash = "/" + slash // a drive letter
	}
	u := url.URL{Scheme: "file", Path: slash, RawQuery: q.Encode()}
	db, err := sql.Open(driverName, u.String())
	if err != nil {
		return nil, err
	}
	db.SetMaxOpenConns(conns)
	return db, nil
}

// migrate brings the database to the newest schema, one transaction for each
// step. Its version is SQLite's user_version.
func migrate(ctx context.Context, db *sql.DB, path string, steps fs.FS) error {
	scripts, err := fs.Glob(steps, "migration/*.sql")
	if err != nil {
		return err
	}
	for i, name := range scripts {
		if n, err := strconv.Atoi(filepath.Base(name)[:4]); err != nil || n != i+1 {
			return fmt.Errorf("store: internal error: %s is not migration %d", name, i+1)
		}
	}
	var at int
	if err := db.QueryRowContext(ctx, `PRAGMA user_version`).Scan(&at); err != nil {
		return fmt.Errorf("read %s: %w", path, err)
	}
	if at > len(scripts) {
		return fmt.Errorf("%s has schema %d, this program knows up to %d: %w; use that one, nothing was changed", path, at, len(scripts), ErrNewer)
	}
	if at > 0 && at < len(scripts) {
		if err := keepCopy(ctx, db, path, at); err != nil {
			return err
		}
	}
	for ; at < len(scripts); at++ {
		script, err := fs.ReadFile(steps, scripts[at])
		if err != nil {
			return err
		}
		if err := step(ctx, db, string(script), at+1); err != nil {
			return fmt.Errorf("%s: bring to schema %d: %w", path, at+1, err)
		}
	}
	return nil
}

// keepCopy puts a copy of the database beside it before it is migrated.
func keepCopy(ctx context.Context, db *sql.DB, path string, at int) error {
	copied := fmt.Sprintf("%s.schema-%d", path, at)
	if _, err := db.ExecContext(ctx, `VACUUM INTO ?`, copied); err != nil {
		return fmt.Errorf("copy %s to %s before it is changed: %w", path, copied, err)
	}
	return nil
}

// step runs one migration, unless another process has run it meanwhile.
func step(ctx context.Context, db *sql.DB, script string, version int) error {
	tx, err := db.BeginTx(ctx, nil)
	if err != nil {
		return err
	}
	defer func() { _ = tx.Rollback() }() // after a commit it does nothing
	var at int
	if err := tx.QueryRowContext(ctx, `PRAGMA user_version`).Scan(&at); err != nil {
		return err
	}
	if at >= version {
		return nil
	}
	if _, err := tx.ExecContext(ctx, script); err != nil {
		return err
	}
	if _, err := tx.ExecContext(ctx, fmt.Sprintf(`PRAGMA user_version = %d`, version)); err != nil {
		return err
	}
	return tx.Commit()
}

// explained adds to an error of SQLite what can be done about it.
func explained(err error, dir string) error {
	var e *sqlite.Error
	if !errors.As(err, &e) {
		return err
	}
	hint, ok := map[int]string{
		sqlite3.SQLITE_READONLY: "nothing can be written there: give yourself the right to write, or copy the folder to where you may",
		sqlite3.SQLITE_CANTOPEN: "it can't be opened: give yourself the right to read and write there",
		sqlite3.SQLITE_NOTADB:   "the file " + databaseName + " is no build's: something else has its name, or it is damaged; keep it, and take one from a copy of the folder",
		sqlite3.SQLITE_CORRUPT:  "the file " + databaseName + " is damaged: keep it, and take one from a copy of the folder",
		sqlite3.SQLITE_FULL:     "the disk is full: make room",
	}[e.Code()&0xff]
	if !ok {
		return err
	}
	return fmt.Errorf("%s: %s (%w)", dir, hint, err)
}
