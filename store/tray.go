package store

import (
	"bufio"
	"context"
	"crypto/rand"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"regexp"
	"sort"
	"strings"
	"time"

	"dogshore/record"
)

// A tray holds files that were handed in and are not taken in yet. It lies in
// the build folder and outlasts the program, so that handing in many files can
// be stopped and gone on with. Nothing in it is on record.
type Tray struct {
	ID  string
	f   *Folder
	dir string
}

// TrayFile is a file that lies in a tray.
type TrayFile struct {
	Name   string `json:"name"` // as it was handed in, with its folders
	Size   int64  `json:"size"`
	SHA256 string `json:"sha256"`
}

const (
	traysName = "incoming"
	trayList  = "list.jsonl"
)

// longestList bounds the list of a tray, in bytes: some 20,000 files.
const longestList = 4 << 20

var trayID = regexp.MustCompile(`^[A-Z2-7]{10,40}$`)

// NewTray makes an empty tray.
func (f *Folder) NewTray() (*Tray, error) {
	t := &Tray{ID: rand.Text(), f: f}
	t.dir = filepath.Join(f.dir, traysName, t.ID)
	if err := os.MkdirAll(t.dir, 0o755); err != nil {
		return nil, fmt.Errorf("make a tray: %w", err)
	}
	return t, os.WriteFile(filepath.Join(t.dir, trayList), nil, 0o644)
}

// Tray returns the tray of that ID. It is os.ErrNotExist if there is none.
func (f *Folder) Tray(id string) (*Tray, error) {
	if !trayID.MatchString(id) {
		return nil, fmt.Errorf("%q names no tray: %w", id, os.ErrNotExist)
	}
	t := &Tray{ID: id, f: f, dir: filepath.Join(f.dir, traysName, id)}
	_, err := os.Stat(filepath.Join(t.dir, trayList))
	return t, err
}

// TrayInfo says what lies in one tray.
type TrayInfo struct {
	ID    string
	Files int
	Since time.Time
}

// Trays lists the trays that hold something, the latest first.
func (f *Folder) Trays() ([]TrayInfo, error) {
	dirs, err := os.ReadDir(filepath.Join(f.dir, traysName))
	if errors.Is(err, os.ErrNotExist) {
		return nil, nil
	}
	if err != nil {
		return nil, err
	}
	var out []TrayInfo
	for _, d := range dirs {
		t, err := f.Tray(d.Name())
		if err != nil {
			continue // no tray of ours
		}
		files, err := t.Files()
		if err != nil {
			return nil, err
		}
		if len(files) == 0 {
			continue
		}
		x := TrayInfo{ID: t.ID, Files: len(files)}
		if info, err := d.Info(); err == nil {
			x.Since = info.ModTime()
		}
		out = append(out, x)
	}
	sort.Slice(out, func(i, k int) bool { return out[i].Since.After(out[k].Since) })
	return out, nil
}

// Put lays a file into the tray. It reads at most limit bytes and refuses
// longer files.
func (t *Tray) Put(ctx context.Context, name string, r io.Reader, limit int64) error {
	if info, err := os.Stat(filepath.Join(t.dir, trayList)); err != nil || info.Size() > longestList {
		return errors.Join(err, fmt.Errorf("%w: many files lie here already; take these in first", ErrTooLong))
	}
	part, err := os.CreateTemp(t.dir, "part-*")
	if err != nil {
		return fmt.Errorf("lay down %s: %w", name, err)
	}
	defer func() { _ = os.Remove(part.Name()) }() // gone after the rename
	h := sha256.New()
	n, err := io.Copy(io.MultiWriter(part, h), io.LimitReader(interruptible{ctx, r}, limit+1))
	if err == nil && n > limit {
		err = fmt.Errorf("%w: more than %d bytes", ErrTooLong, limit)
	}
	if err = errors.Join(err, part.Close()); err != nil {
		return fmt.Errorf("lay down %s: %w", name, err)
	}
	x := TrayFile{Name: cleanName(name), Size: n, SHA256: hex.EncodeToString(h.Sum(nil))}
	if err := os.Rename(part.Name(), filepath.Join(t.dir, x.SHA256)); err != nil {
		return fmt.Errorf("lay down %s: %w", name, err)
	}
	return t.note(x)
}

// note adds a line to the tray's list, in one write.
func (t *Tray) note(x TrayFile) error {
	line, err := json.Marshal(x)
	if err != nil {
		return err
	}
	t.f.mu.Lock()
	defer t.f.mu.Unlock()
	list, err := os.OpenFile(filepath.Join(t.dir, trayList), os.O_APPEND|os.O_WRONLY, 0o644)
	if err != nil {
		return err
	}
	_, err = list.Write(append(line, '\n'))
	return errors.Join(err, list.Close())
}

// cleanName keeps a name readable and short: its last folders and the name.
func cleanName(name string) string {
	var parts []string
	for _, p := range strings.FieldsFunc(strings.ToValidUTF8(name, "_"), func(r rune) bool { return r == '/' || r == '\\' }) {
		p = strings.Map(func(r rune) rune {
			if r < ' ' || r == 0x7f {
				return -1
			}
			return r
		}, p)
		if p == "." || p == ".." || p == "" {
			continue
		}
		if len(p) > 120 {
			p = strings.ToValidUTF8(p[:60], "") + "~" + strings.ToValidUTF8(p[len(p)-50:], "")
		}
		parts = append(parts, p)
	}
	if len(parts) == 0 {
		return "without a name"
	}
	return strings.Join(parts[max(0, len(parts)-4):], "/")
}

// Files lists what lies in the tray, in the order in which it was handed in. A
// file handed in twice under one name is listed once.
func (t *Tray) Files() ([]TrayFile, error) {
	in, err := os.Open(filepath.Join(t.dir, trayList))
	if err != nil {
		return nil, err
	}
	defer func() { _ = in.Close() }() // only read
	var out []TrayFile
	seen := map[TrayFile]bool{}
	for lines := bufio.NewScanner(in); lines.Scan(); {
		var x TrayFile
		if json.Unmarshal(lines.Bytes(), &x) == nil && isSHA256(x.SHA256) && !seen[x] { // a line cut off by a power cut says nothing
			seen[x] = true
			out = append(out, x)
		}
	}
	return out, nil
}

// Open opens a file of the tray, also after it was kept.
func (t *Tray) Open(x TrayFile) (*os.File, error) {
	if !isSHA256(x.SHA256) {
		return nil, notAFile(record.File{SHA256: x.SHA256})
	}
	in, err := os.Open(filepath.Join(t.dir, x.SHA256))
	if errors.Is(err, os.ErrNotExist) {
		return os.Open(filepath.Join(t.f.dir, filesName, x.SHA256))
	}
	return in, err
}

// Keep moves a file from the tray into the build's files.
func (t *Tray) Keep(ctx context.Context, x TrayFile) (record.File, error) {
	file := record.File{SHA256: x.SHA256, Name: filepath.Base(x.Name)}
	if !isSHA256(x.SHA256) {
		return record.File{}, notAFile(file)
	}
	if err := errors.Join(ctx.Err(), t.f.whyGone(ctx, file)); err != nil {
		return record.File{}, err
	}
	to := filepath.Join(t.f.dir, filesName, x.SHA256)
	from, err := os.OpenFile(filepath.Join(t.dir, x.SHA256), os.O_RDWR, 0)
	if errors.Is(err, os.ErrNotExist) {
		_, err = os.Stat(to) // kept before
		return file, err
	}
	if err != nil {
		return record.File{}, fmt.Errorf("keep %s: %w", x.Name, err)
	}
	if err := errors.Join(from.Sync(), from.Close(), os.MkdirAll(filepath.Dir(to), 0o755)); err != nil {
		return record.File{}, fmt.Errorf("keep %s: %w", x.Name, err)
	}
	if err := os.Rename(filepath.Join(t.dir, x.SHA256), to); err != nil {
		return record.File{}, fmt.Errorf("keep %s: %w", x.Name, err)
	}
	return file, syncFolder(filepath.Dir(to))
}

// Drop throws the tray away, with what still lies in it.
func (t *Tray) Drop() error { return os.RemoveAll(t.dir) }
