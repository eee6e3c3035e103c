package store

import (
	"context"
	"database/sql"
	"database/sql/driver"
	"fmt"
	"sync/atomic"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// What a page asks SQLite for does not grow with the build: each look is one
// question, for what was written here is known already.
func TestQuestionsToTheDatabase(t *testing.T) {
	n := counting(t)
	ctx := context.Background()
	noon := func() time.Time { return time.Date(2027, 3, 16, 12, 0, 0, 0, time.UTC) }
	f, err := Create(ctx, t.TempDir(), noon)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	day := calendar.Of(noon())
	put := func(times int) {
		var all []journal.Entry
		for i := range times {
			e := f.Draft("owner", journal.Always, record.Written)
			e.Facts = journal.Facts("part/deck", record.Values(record.Part{Name: fmt.Sprint("Deck ", i)}))
			all = append(all, e)
		}
		if _, err := f.Accept(ctx, all...); err != nil {
			t.Fatal(err)
		}
	}
	asks := func(what string, do func() error) {
		t.Helper()
		before := n.Load()
		if err := do(); err != nil {
			t.Fatal(err)
		}
		if got := n.Load() - before; got != 1 {
			t.Errorf("%s: %d questions, want one", what, got)
		}
	}
	as := func(d calendar.Day) func() error {
		return func() error { _, err := f.As(ctx, d, journal.Now); return err }
	}
	for _, entries := range []int{1, 900} {
		put(entries)
		asks("is there anything new", func() error { _, err := f.Last(ctx); return err })
		asks("the record after writing", as(day))
		asks("the same record", as(day))
		asks("the record of another day", as(day-30))
		asks("what had arrived by a day", func() error { _, err := f.Arrived(ctx, day); return err })
		asks("all that was said of a part", func() error { _, err := f.History(ctx, "part/deck"); return err })
	}
}

// counting puts a driver before SQLite's that counts the questions it is asked.
func counting(t *testing.T) *atomic.Int64 {
	t.Helper()
	db, err := sql.Open("sqlite", ":memory:")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = db.Close() }()
	n := new(atomic.Int64)
	name := fmt.Sprint("counted ", len(sql.Drivers()))
	sql.Register(name, countedDriver{db.Driver(), n})
	driverName = name
	t.Cleanup(func() { driverName = "sqlite" })
	return n
}

type countedDriver struct {
	driver.Driver
	n *atomic.Int64
}

func (d countedDriver) Open(name string) (driver.Conn, error) {
	c, err := d.Driver.Open(name)
	if err != nil {
		return nil, err
	}
	return countedConn{c.(conn), d.n}, nil
}

type conn interface {
	driver.Conn
	driver.ConnBeginTx
	driver.ConnPrepareContext
	driver.ExecerContext
	driver.QueryerContext
}

type countedConn struct {
	conn
	n *atomic.Int64
}

func (c countedConn) QueryContext(ctx context.Context, query string, args []driver.NamedValue) (driver.Rows, error) {
	c.n.Add(1)
	return c.conn.QueryContext(ctx, query, args)
}

func (c countedConn) PrepareContext(ctx context.Context, query string) (driver.Stmt, error) {
	c.n.Add(1)
	return c.conn.PrepareContext(ctx, query)
}
