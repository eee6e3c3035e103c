package store

import (
	"context"
	"database/sql"
	"fmt"
	"strconv"
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// Asking SQLite for each column of each row takes most of the time of opening
// a long journal. So it is asked for whole blocks, in which the columns are
// put together with the separators that ASCII has for it; the door lets no
// control characters in, and JSON has none.
const (
	between = "\x1f" // columns
	behind  = "\x1e" // rows

	entryBlock = `SELECT coalesce(group_concat(concat_ws(char(31),
			arrival, id, stamp, since, wall, received, author, visit, grounds, origin, batch, version), char(30)), '')
		FROM (SELECT * FROM entry WHERE arrival > ? AND arrival <= ? ORDER BY arrival)`
	factBlock = `SELECT coalesce(group_concat(concat_ws(char(31), entry, n, kind, key, field, value, over), char(30)), '')
		FROM (SELECT * FROM fact WHERE entry > ? AND entry <= ? ORDER BY entry, n)`

	// blockSize is how many entries are loaded at a time.
	blockSize = 2000
)

// block is a run of entries, up to the arrival number last.
type block struct {
	entries []journal.Entry
	last    int64
}

// load reads the entries that arrived behind after, up to last, and hands
// them to take in the order of arrival. A database reads ahead on several
// connections; a transaction has one.
func load(ctx context.Context, q querier, after, last int64, take func(block)) error {
	_, many := q.(*sql.DB)
	if !many || last-after <= blockSize {
		for ; after < last; after += blockSize {
			b, err := loadBlock(ctx, q, after, min(after+blockSize, last))
			if err != nil {
				return err
			}
			take(b)
		}
		return nil
	}
	type result struct {
		block
		err error
	}
	ctx, stop := context.WithCancel(ctx)
	defer stop()
	ahead := make(chan chan result, readers-1)
	go func() {
		defer close(ahead)
		for ; after < last; after += blockSize {
			from, to, one := after, min(after+blockSize, last), make(chan result, 1)
			ahead <- one
			go func() {
				b, err := loadBlock(ctx, q, from, to)
				one <- result{b, err}
			}()
		}
	}()
	var failed error
	for one := range ahead { // to the end, so that nothing is left running
		got := <-one
		switch {
		case failed != nil:
		case got.err != nil:
			failed = got.err
			stop()
		default:
			take(got.block)
		}
	}
	return failed
}

func loadBlock(ctx context.Context, q querier, after, last int64) (block, error) {
	var entries, facts string
	if err := q.QueryRowContext(ctx, entryBlock, after, last).Scan(&entries); err != nil {
		return block{}, err
	}
	if err := q.QueryRowContext(ctx, factBlock, after, last).Scan(&facts); err != nil {
		return block{}, err
	}
	b := block{make([]journal.Entry, 0, last-after), last}
	for row := range rowsOf(entries) {
		e, err := readEntry(row)
		if err != nil {
			return block{}, fmt.Errorf("entry behind %d: %w", after+int64(len(b.entries)), err)
		}
		b.entries = append(b.entries, e)
	}
	return b, readFacts(facts, b.entries)
}

// rowsOf cuts a block into its rows, and each into its columns. The columns
// are good until the next row.
func rowsOf(text string) func(yield func(row []string) bool) {
	return func(yield func([]string) bool) {
		var columns []string
		for text != "" {
			var row string
			row, text, _ = strings.Cut(text, behind)
			columns = columns[:0]
			for more := true; more; {
				var c string
				c, row, more = strings.Cut(row, between)
				columns = append(columns, c)
			}
			if !yield(columns) {
				return
			}
		}
	}
}

func readEntry(c []string) (e journal.Entry, err error) {
	if len(c) != 12 {
		return e, fmt.Errorf("%d columns instead of 12", len(c))
	}
	e = journal.Entry{ID: c[1], Author: c[6], Visit: record.Ref(c[7]), Grounds: record.Grounds(c[8]), Origin: c[9], Batch: c[10]}
	if e.Arrival, err = strconv.ParseInt(c[0], 10, 64); err != nil {
		return e, fmt.Errorf("arrival: %w", err)
	}
	stamp, err := strconv.ParseInt(c[2], 10, 64)
	if err != nil {
		return e, fmt.Errorf("stamp: %w", err)
	}
	e.Stamp = journal.Stamp(stamp)
	if e.Since, err = calendar.ParseISO(c[3]); err != nil {
		return e, fmt.Errorf("since: %w", err)
	}
	if e.Wall, err = time.Parse(time.RFC3339Nano, c[4]); err != nil {
		return e, fmt.Errorf("wall: %w", err)
	}
	if e.Received, err = time.Parse(time.RFC3339Nano, c[5]); err != nil {
		return e, fmt.Errorf("received: %w", err)
	}
	if e.Version, err = strconv.Atoi(c[11]); err != nil {
		return e, fmt.Errorf("version: %w", err)
	}
	return e, nil
}

// readFacts gives entries, which lie in the order of arrival, their facts.
func readFacts(text string, entries []journal.Entry) error {
	facts := make([]journal.Fact, 0, strings.Count(text, behind)+1)
	first, at := 0, 0
	for c := range rowsOf(text) {
		if len(c) != 7 {
			return fmt.Errorf("a fact of entry %s has %d columns instead of 7", c[0], len(c))
		}
		arrival, err := strconv.ParseInt(c[0], 10, 64)
		if err != nil {
			return fmt.Errorf("a fact's entry: %w", err)
		}
		for at < len(entries) && entries[at].Arrival < arrival {
			first, at = len(facts), at+1
		}
		if at == len(entries) || entries[at].Arrival != arrival || c[1] != strconv.Itoa(len(facts)-first) {
			return fmt.Errorf("fact %s of entry %d is out of its place", c[1], arrival)
		}
		facts = append(facts, journal.Fact{Kind: c[2], Key: c[3], Field: c[4], Value: record.Value(c[5]), Over: c[6]})
		entries[at].Facts = facts[first:len(facts):len(facts)]
	}
	return nil
}
