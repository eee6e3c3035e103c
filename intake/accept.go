package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"sort"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
)

// Folder is what Accept and Undo need of a build folder.
type Folder interface {
	Draft(author string, since calendar.Day, grounds record.Grounds) journal.Entry
	Accept(ctx context.Context, entries ...journal.Entry) (fresh int, err error)
	Entry(ctx context.Context, id string) (*journal.Entry, error)
	Strikes(ctx context.Context) (map[string][]string, error)
	Batch(ctx context.Context, batch string) ([]*journal.Entry, error)
}

// Accepted is what one Accept or Undo wrote.
type Accepted struct {
	Batch    string // under which name Undo finds it; "" if nothing was new
	Entries  int    // entries that are new
	Restored int    // entries of an earlier intake that count again
}

// Accept writes what r read, as one batch. What was asked and not answered,
// and what was refused, is left out. What is there already is passed over;
// what was undone counts again.
func (r *Reading) Accept(ctx context.Context, f Folder, today calendar.Day) (Accepted, error) {
	w, err := r.begin(ctx, f, today)
	if err != nil {
		return Accepted{}, err
	}
	err = w.write(ctx, r.Entries(f.Draft))
	return w.done, err
}

// batch is one batch being written, in one go or in several.
type batch struct {
	f        Folder
	name     string
	author   string
	today    calendar.Day
	standing map[string][]string // the strikes that stand
	done     Accepted
}

func (r *Reading) begin(ctx context.Context, f Folder, today calendar.Day) (*batch, error) {
	name, err := freeBatch(ctx, f, today)
	if err != nil {
		return nil, err
	}
	standing, err := f.Strikes(ctx)
	if err != nil {
		return nil, err
	}
	return &batch{f: f, name: name, author: r.author, today: today, standing: standing}, nil
}

// write writes entries, all or none of them.
func (w *batch) write(ctx context.Context, entries []journal.Entry) error {
	var fresh []journal.Entry
	var strikes []string
	restored := 0
	for _, e := range entries {
		there, err := w.f.Entry(ctx, e.ID)
		if err != nil {
			return err
		}
		if there == nil {
			e.Batch = w.name
			fresh = append(fresh, e)
			continue
		}
		if again := w.standing[e.ID]; len(again) > 0 {
			restored++
			strikes = append(strikes, again...)
		}
	}
	fresh = append(fresh, striking(w.f, strikes, w.author, w.today, w.name)...)
	if len(fresh) == 0 {
		return nil
	}
	n, err := w.f.Accept(ctx, fresh...)
	if err != nil {
		return err
	}
	w.done.Batch = w.name
	w.done.Entries += n
	w.done.Restored += restored
	return nil
}

// Entries returns the entries that r amounts to, with ids that are hashes of
// what they say. draft makes an entry with its stamp, as a folder does.
func (r *Reading) Entries(draft func(author string, since calendar.Day, grounds record.Grounds) journal.Entry) []journal.Entry {
	return entriesOf(r.Reads, draft)
}

func entriesOf(reads []News, draft func(author string, since calendar.Day, grounds record.Grounds) journal.Entry) []journal.Entry {
	var out []journal.Entry
	for _, read := range reads {
		e := draft(read.By, read.Since, read.Grounds)
		e.Origin = read.At.String()
		for _, f := range read.Facts {
			e.Facts = append(e.Facts, journal.Fact{Kind: read.Self.Kind(), Key: read.Self.Key(), Field: f.Field.Name, Value: f.Value, Over: f.Over})
			if f.Field.Name == "visit" && f.Field.Type == record.RefType {
				e.Visit = record.Ref(f.Field.Plain(f.Value))
			}
		}
		e.ID = importID(e)
		out = append(out, e)
	}
	return out
}

// importID is a hash of what an entry says, wherever it came from and whoever
// brought it in. A value over another one counts with it, so that a value can
// be changed to and fro.
func importID(e journal.Entry) string {
	h := sha256.New()
	fmt.Fprintf(h, "%s\x00%s\x00", e.Since, e.Grounds)
	for _, f := range e.Facts {
		fmt.Fprintf(h, "%s\x00%s\x00%s\x00%s\x00%s\x00", f.Kind, f.Key, f.Field, f.Value, f.Over)
	}
	return "import-" + hex.EncodeToString(h.Sum(nil)[:20])
}

// freeBatch returns a name for a batch of today's that nothing bears yet.
func freeBatch(ctx context.Context, f Folder, today calendar.Day) (string, error) {
	for n := 1; ; n++ {
		name := fmt.Sprintf("%s-%d", today, n)
		there, err := f.Batch(ctx, name)
		if err != nil {
			return "", err
		}
		if len(there) == 0 {
			return name, nil
		}
	}
}

// striking makes an entry for each strike, so that each can itself be struck
// alone.
func striking(f Folder, ids []string, author string, today calendar.Day, batch string) []journal.Entry {
	sort.Strings(ids)
	var out []journal.Entry
	for _, id := range slices.Compact(ids) {
		e := f.Draft(author, today, record.Told)
		e.Batch, e.Facts = batch, []journal.Fact{journal.Strike(id)}
		out = append(out, e)
	}
	return out
}

// ErrNoBatch is returned for a batch that nothing bears.
var ErrNoBatch = errors.New("there is no such batch")

// Undo strikes every entry of a batch that still counts, as a batch of its
// own: undoing that one brings them back. Nothing is deleted.
func Undo(ctx context.Context, f Folder, batch, author string, today calendar.Day) (Accepted, error) {
	entries, err := f.Batch(ctx, batch)
	if err != nil {
		return Accepted{}, err
	}
	if len(entries) == 0 {
		return Accepted{}, fmt.Errorf("%s: %w", batch, ErrNoBatch)
	}
	standing, err := f.Strikes(ctx)
	if err != nil {
		return Accepted{}, err
	}
	var strikes []string
	for _, e := range entries {
		if standing[e.ID] == nil {
			strikes = append(strikes, e.ID)
		}
	}
	if len(strikes) == 0 {
		return Accepted{}, nil
	}
	name, err := freeBatch(ctx, f, today)
	if err != nil {
		return Accepted{}, err
	}
	if _, err := f.Accept(ctx, striking(f, strikes, author, today, name)...); err != nil {
		return Accepted{}, err
	}
	return Accepted{Batch: name, Entries: len(strikes)}, nil
}
