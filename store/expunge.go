package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"dogshore/calendar"
	"dogshore/record"
)

// ExpungeText takes one text out of an entry for good, on a person's demand.
// Its SHA-256 stays, with the day, who took it out and why; in its place the
// record shows that something was taken out, and why. Only texts can be taken
// out.
//
// Copies of the folder made before, and texts short enough to be guessed from
// their hash, are beyond its reach.
func (f *Folder) ExpungeText(ctx context.Context, entry string, self record.Ref, field, by, reason string) error {
	k := record.KindOf(self.Kind())
	if k == nil || k.Field(field) == nil || k.Field(field).Type != record.TextType {
		return fmt.Errorf("%s of %s is no text: only texts and files can be taken out", field, self)
	}
	if strings.TrimSpace(by) == "" || strings.TrimSpace(reason) == "" {
		return errors.New("taking something out needs a name and a reason")
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	tx, err := f.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("take a text out: %w", err)
	}
	defer func() { _ = tx.Rollback() }() // after a commit it does nothing
	if err := f.takeOut(ctx, tx, entry, self, field, by, reason); err != nil {
		return err
	}
	f.forget() // the journal in memory still has it
	if err = f.refresh(ctx, tx); err == nil {
		err = f.derive(ctx, tx)
	}
	if err == nil {
		err = tx.Commit()
	}
	if err != nil {
		f.forget()
		return fmt.Errorf("take a text out: %w", err)
	}
	return f.emptyLog(ctx)
}

func (f *Folder) takeOut(ctx context.Context, tx *sql.Tx, entry string, self record.Ref, field, by, reason string) error {
	var p place
	var value string
	err := tx.QueryRowContext(ctx, `SELECT f.entry, f.n, f.value FROM fact f JOIN entry e ON e.arrival = f.entry
		WHERE e.id = ? AND f.kind = ? AND f.key = ? AND f.field = ?`, entry, self.Kind(), self.Key(), field).Scan(&p.entry, &p.n, &value)
	if errors.Is(err, sql.ErrNoRows) {
		return fmt.Errorf("entry %s says no %s of %s", entry, field, self)
	}
	if err != nil {
		return fmt.Errorf("take a text out: %w", err)
	}
	var before int
	err = tx.QueryRowContext(ctx, `SELECT count(*) FROM expunged WHERE entry = ? AND n = ?`, p.entry, p.n).Scan(&before)
	if err != nil {
		return fmt.Errorf("take a text out: %w", err)
	}
	if before > 0 {
		return fmt.Errorf("%s of %s in entry %s was taken out before", field, self, entry)
	}
	sum := sha256.Sum256([]byte(value))
	day := calendar.Of(f.now())
	if err := noteExpunged(ctx, tx, hex.EncodeToString(sum[:]), &p, day, by, reason); err != nil {
		return err
	}
	left := record.Encode(fmt.Sprintf("(taken out on %s by %s: %s)", day, by, reason))
	if _, err := tx.ExecContext(ctx, `UPDATE fact SET value = ? WHERE entry = ? AND n = ?`, string(left), p.entry, p.n); err != nil {
		return fmt.Errorf("take a text out: %w", err)
	}
	return nil
}

func noteExpunged(ctx context.Context, tx *sql.Tx, sha string, p *place, day calendar.Day, by, reason string) error {
	var entry, n any
	if p != nil {
		entry, n = p.entry, p.n
	}
	_, err := tx.ExecContext(ctx, `INSERT INTO expunged (sha256, entry, n, day, by, reason) VALUES (?, ?, ?, ?, ?, ?)`,
		sha, entry, n, day.String(), by, reason)
	if err != nil {
		return fmt.Errorf("note what was taken out: %w", err)
	}
	return nil
}

// emptyLog moves everything into build.db and cuts the log beside it to
// nothing, so that nothing taken out stays readable there.
func (f *Folder) emptyLog(ctx context.Context) error {
	var busy, pages, moved int
	if err := f.write.QueryRowContext(ctx, `PRAGMA wal_checkpoint(TRUNCATE)`).Scan(&busy, &pages, &moved); err != nil {
		return fmt.Errorf("empty the log of what was taken out: %w", err)
	}
	if busy != 0 {
		return fmt.Errorf("it is taken out; %s-wal may show it until other programs that have the build open are closed", databaseName)
	}
	return nil
}

// ExpungeFile takes a file out for good, on a person's demand. Its SHA-256
// stays, with the day, who took it out and why, and the same file is not taken
// in again.
func (f *Folder) ExpungeFile(ctx context.Context, file record.File, by, reason string) error {
	if strings.TrimSpace(by) == "" || strings.TrimSpace(reason) == "" {
		return errors.New("taking something out needs a name and a reason")
	}
	if !isSHA256(file.SHA256) {
		return notAFile(file)
	}
	path := filepath.Join(f.dir, filesName, file.SHA256)
	if _, err := os.Stat(path); err != nil {
		return fmt.Errorf("take %s out: %w", file.Name, err)
	}
	f.mu.Lock()
	defer f.mu.Unlock()
	tx, err := f.write.BeginTx(ctx, nil)
	if err != nil {
		return fmt.Errorf("take %s out: %w", file.Name, err)
	}
	defer func() { _ = tx.Rollback() }() // after a commit it does nothing
	if err := noteExpunged(ctx, tx, file.SHA256, nil, calendar.Of(f.now()), by, reason); err != nil {
		return err
	}
	if err := tx.Commit(); err != nil {
		return fmt.Errorf("take %s out: %w", file.Name, err)
	}
	if err := errors.Join(os.Remove(path), f.forgetSmall(file)); err != nil {
		return fmt.Errorf("it is noted that %s was taken out, but the file is still there; try again: %w", file.Name, err)
	}
	return nil
}

// whyGone says why a file was taken out, or nil if it was not.
func (f *Folder) whyGone(ctx context.Context, file record.File) error {
	var day, by, reason string
	err := f.read.QueryRowContext(ctx, `SELECT day, by, reason FROM expunged WHERE sha256 = ? AND entry IS NULL
		ORDER BY rowid DESC LIMIT 1`, file.SHA256).Scan(&day, &by, &reason)
	if errors.Is(err, sql.ErrNoRows) {
		return nil
	}
	if err != nil {
		return err
	}
	return fmt.Errorf("%s was taken out on %s by %s: %s: %w", file.Name, day, by, reason, os.ErrNotExist)
}
