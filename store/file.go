package store

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"runtime"
	"time"

	"dogshore/record"
)

const filesName = "files"

// ErrTooLong is returned for a file that is longer than its limit.
var ErrTooLong = errors.New("the file is too long")

// Put copies a file into files/ and returns its name there. It reads at most
// limit bytes and refuses longer files.
func (f *Folder) Put(ctx context.Context, name string, r io.Reader, limit int64) (record.File, error) {
	dir := filepath.Join(f.dir, filesName)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return record.File{}, fmt.Errorf("keep %s: %w", name, err)
	}
	part, err := os.CreateTemp(dir, "part-*")
	if err != nil {
		return record.File{}, fmt.Errorf("keep %s: %w", name, err)
	}
	defer func() { _ = os.Remove(part.Name()) }() // gone after the rename
	h := sha256.New()
	n, err := io.Copy(io.MultiWriter(part, h), io.LimitReader(interruptible{ctx, r}, limit+1))
	if err == nil && n > limit {
		err = fmt.Errorf("%w: more than %d bytes", ErrTooLong, limit)
	}
	if err == nil {
		err = part.Sync()
	}
	if err = errors.Join(err, part.Close()); err != nil {
		return record.File{}, fmt.Errorf("keep %s: %w", name, err)
	}
	file := record.File{SHA256: hex.EncodeToString(h.Sum(nil)), Name: filepath.Base(name)}
	if err := f.whyGone(ctx, file); err != nil {
		return record.File{}, err
	}
	if err := os.Rename(part.Name(), filepath.Join(dir, file.SHA256)); err != nil {
		return record.File{}, fmt.Errorf("keep %s: %w", name, err)
	}
	return file, syncFolder(dir)
}

// syncFolder makes a rename last through a power cut, where the system can.
func syncFolder(dir string) error {
	if runtime.GOOS == "windows" {
		return nil // folders can't be opened there
	}
	d, err := os.Open(dir)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}

type interruptible struct {
	ctx context.Context
	r   io.Reader
}

func (i interruptible) Read(p []byte) (int, error) {
	if err := i.ctx.Err(); err != nil {
		return 0, err
	}
	return i.r.Read(p)
}

// File opens a file of files/.
func (f *Folder) File(file record.File) (io.ReadSeekCloser, error) {
	if !isSHA256(file.SHA256) {
		return nil, notAFile(file)
	}
	r, err := os.Open(filepath.Join(f.dir, filesName, file.SHA256))
	if errors.Is(err, os.ErrNotExist) {
		if why := f.whyGone(context.Background(), file); why != nil {
			return nil, why
		}
	}
	if err != nil {
		return nil, fmt.Errorf("open %s: %w", file.Name, err)
	}
	return r, nil
}

// isSHA256 keeps names that could lead out of files/ away from the disk.
func isSHA256(name string) bool {
	b, err := hex.DecodeString(name)
	return err == nil && len(b) == sha256.Size && hex.EncodeToString(b) == name
}

func notAFile(file record.File) error {
	return fmt.Errorf("%q is no name of a file here: %w", file.SHA256, os.ErrNotExist)
}

// leftAfter is how long nothing was written to a half copied file for it to
// be left behind by a program that was ended.
const leftAfter = time.Hour

// sweep throws away half copied files that nobody goes on with. What can't be
// removed is in nobody's way.
func (f *Folder) sweep() {
	left, err := filepath.Glob(filepath.Join(f.dir, filesName, "part-*"))
	if err != nil {
		return
	}
	for _, path := range left {
		if info, err := os.Stat(path); err == nil && info.Mode().IsRegular() && time.Since(info.ModTime()) > leftAfter {
			_ = os.Remove(path) // the next start tries again
		}
	}
}
