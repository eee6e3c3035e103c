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
	"strings"
	"time"

	"dogshore/record"
)

// Bounds of files that come in pieces: how many may be on their way at once.
const mostComing = 64

// ErrGap is returned for a piece that does not follow what is here already.
var ErrGap = errors.New("a piece is missing before this one")

// Came says how much of a file is here: its first n bytes, or the whole of it.
func (f *Folder) Came(ctx context.Context, file record.File) (n int64, whole bool, err error) {
	if !isSHA256(file.SHA256) {
		return 0, false, notAFile(file)
	}
	if err := f.whyGone(ctx, file); err != nil {
		return 0, false, err
	}
	if s, err := os.Stat(filepath.Join(f.dir, filesName, file.SHA256)); err == nil {
		return s.Size(), true, nil
	}
	s, err := os.Stat(f.coming(file))
	switch {
	case errors.Is(err, os.ErrNotExist):
		return 0, false, nil
	case err != nil:
		return 0, false, fmt.Errorf("look how much of %s is here: %w", file.Name, err)
	}
	return s.Size(), false, nil
}

// coming is where a file lies while its pieces come in.
func (f *Folder) coming(file record.File) string {
	return filepath.Join(f.dir, filesName, comingPrefix+file.SHA256)
}

const comingPrefix = "coming-"

// Append keeps a piece of a file of size bytes, which begins at byte from, and
// says how much is here then. A piece that is here already is passed over, so
// that it may be sent twice; one that leaves a gap is ErrGap. The last piece
// makes the file whole: it then is what its hash says, or it is thrown away
// and has to come again from its start.
func (f *Folder) Append(ctx context.Context, file record.File, from, size int64, piece io.Reader) (n int64, whole bool, err error) {
	f.pieces.Lock()
	defer f.pieces.Unlock()
	n, whole, err = f.Came(ctx, file)
	if err != nil || whole {
		return n, whole, err
	}
	if from > n {
		return n, false, fmt.Errorf("%s: %w: %d bytes are here, and it begins at %d", file.Name, ErrGap, n, from)
	}
	if n == 0 {
		if err := f.room(); err != nil {
			return 0, false, err
		}
	}
	if n, err = f.extend(ctx, file, n, from, size, piece); err != nil || n < size {
		return n, false, err
	}
	return f.close(file, size)
}

// room refuses the next file while too many are on their way. What nobody has
// sent on for a month is given up: it can still come again from its start.
func (f *Folder) room() error {
	dir := filepath.Join(f.dir, filesName)
	if err := os.MkdirAll(dir, 0o755); err != nil {
		return err
	}
	others, err := filepath.Glob(filepath.Join(dir, comingPrefix+"*"))
	for _, old := range others {
		if s, err := os.Stat(old); err == nil && f.now().Sub(s.ModTime()) > 30*24*time.Hour && os.Remove(old) == nil {
			others = others[1:]
		}
	}
	if err == nil && len(others) >= mostComing {
		err = fmt.Errorf("%d files are half here already; send those to their end first", len(others))
	}
	return err
}

// extend writes what of a piece is new, and returns how much is here then.
func (f *Folder) extend(ctx context.Context, file record.File, n, from, size int64, piece io.Reader) (int64, error) {
	if _, err := io.CopyN(io.Discard, interruptible{ctx, piece}, n-from); err != nil && !errors.Is(err, io.EOF) {
		return n, fmt.Errorf("keep a piece of %s: %w", file.Name, err)
	}
	part, err := os.OpenFile(f.coming(file), os.O_CREATE|os.O_WRONLY|os.O_APPEND, 0o644)
	if err != nil {
		return n, fmt.Errorf("keep a piece of %s: %w", file.Name, err)
	}
	more, err := io.Copy(part, io.LimitReader(interruptible{ctx, piece}, size-n))
	if err = errors.Join(err, part.Close()); err != nil {
		return n + more, fmt.Errorf("keep a piece of %s: %w", file.Name, err)
	}
	return n + more, nil
}

// close gives a file whose pieces are all here its name.
func (f *Folder) close(file record.File, size int64) (int64, bool, error) {
	part, err := os.OpenFile(f.coming(file), os.O_RDWR, 0)
	if err != nil {
		return 0, false, fmt.Errorf("keep %s: %w", file.Name, err)
	}
	h := sha256.New()
	_, err = io.Copy(h, part)
	if err = errors.Join(err, part.Sync(), part.Close()); err != nil {
		return 0, false, fmt.Errorf("keep %s: %w", file.Name, err)
	}
	if got := hex.EncodeToString(h.Sum(nil)); got != strings.ToLower(file.SHA256) {
		return 0, false, errors.Join(fmt.Errorf("%s came otherwise than it was sent; send it again from its start", file.Name), os.Remove(f.coming(file)))
	}
	dir := filepath.Join(f.dir, filesName)
	if err := os.Rename(f.coming(file), filepath.Join(dir, file.SHA256)); err != nil {
		return 0, false, fmt.Errorf("keep %s: %w", file.Name, err)
	}
	return size, true, syncFolder(dir)
}
