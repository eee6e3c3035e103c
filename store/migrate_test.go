package store

import (
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"testing/fstest"
)

func script(text string) *fstest.MapFile { return &fstest.MapFile{Data: []byte(text)} }

// A later schema is reached step by step, each whole or not at all, and the
// file as it was is kept beside it.
func TestMigrateStepByStep(t *testing.T) {
	ctx := context.Background()
	path := filepath.Join(t.TempDir(), databaseName)
	db, err := connect(path, true, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	version := func() (v int) {
		if err := db.QueryRow(`PRAGMA user_version`).Scan(&v); err != nil {
			t.Fatal(err)
		}
		return v
	}
	steps := fstest.MapFS{"migration/0001_a.sql": script(`CREATE TABLE a (x); INSERT INTO a VALUES (7)`)}
	if err := migrate(ctx, db, path, steps); err != nil || version() != 1 {
		t.Fatalf("first: %v, version %d", err, version())
	}
	steps["migration/0002_b.sql"] = script(`ALTER TABLE a ADD COLUMN y; UPDATE a SET y = x + 1`)
	steps["migration/0003_c.sql"] = script(`CREATE TABLE c (z); SELECT nonsense`)
	err = migrate(ctx, db, path, steps)
	if err == nil || !strings.Contains(err.Error(), "bring to schema 3") || version() != 2 {
		t.Fatalf("broken third step: %v, version %d", err, version())
	}
	var y, tables int
	if err := db.QueryRow(`SELECT y, (SELECT count(*) FROM sqlite_schema) FROM a`).Scan(&y, &tables); err != nil || y != 8 || tables != 1 {
		t.Errorf("y = %d, %d tables, %v: a step was done by half", y, tables, err)
	}
	kept, err := connect(path+".schema-1", false, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = kept.Close() }()
	var x int
	if err := kept.QueryRow(`SELECT x FROM a`).Scan(&x); err != nil || x != 7 {
		t.Errorf("the copy holds %d, %v", x, err)
	}
	// The third step is mended; a copy of schema 2 is made as well.
	steps["migration/0003_c.sql"] = script(`CREATE TABLE c (z)`)
	if err := migrate(ctx, db, path, steps); err != nil || version() != 3 {
		t.Fatalf("mended: %v, version %d", err, version())
	}
	if _, err := os.Stat(path + ".schema-2"); err != nil {
		t.Error(err)
	}
}

func TestMigrationsAreNumbered(t *testing.T) {
	db, err := connect(filepath.Join(t.TempDir(), databaseName), true, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	steps := fstest.MapFS{"migration/0001_a.sql": script(``), "migration/0003_c.sql": script(``)}
	if err := migrate(context.Background(), db, "x", steps); err == nil || !strings.Contains(err.Error(), "0003_c.sql is not migration 2") {
		t.Errorf("a gap: %v", err)
	}
}

// A folder in which nothing can be written says so, and what to do.
func TestReadOnlyIsExplained(t *testing.T) {
	path := filepath.Join(t.TempDir(), databaseName)
	db, err := connect(path, true, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	if err := migrate(context.Background(), db, path, migrations); err != nil {
		t.Fatal(err)
	}
	reads, err := connect(path, false, 1)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = reads.Close() }()
	err = explained(makeViews(context.Background(), reads), "boat")
	if err == nil || !strings.Contains(err.Error(), "boat: nothing can be written there: give yourself the right") {
		t.Errorf("%v", err)
	}
}
