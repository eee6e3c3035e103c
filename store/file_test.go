package store_test

import (
	"bytes"
	"context"
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dogshore/record"
	"dogshore/store"
)

// inFolder returns the first file below dir that holds text, or "".
func inFolder(t *testing.T, dir, text string) (found string) {
	t.Helper()
	err := filepath.WalkDir(dir, func(path string, d os.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		b, err := os.ReadFile(path)
		if bytes.Contains(b, []byte(text)) {
			found = path
		}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	return found
}

func TestFiles(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	file, err := f.Put(ctx, `../../hello.txt`, strings.NewReader("hello"), 5)
	if err != nil {
		t.Fatal(err)
	}
	// The example of "hello" is worked out in many places; FIPS 180-4 gives the method.
	if want := (record.File{SHA256: "2cf24dba5fb0a30e26e83b2ac5b9e29e1b161e5c1fa7425e73043362938b9824", Name: "hello.txt"}); file != want {
		t.Errorf("Put = %v", file)
	}
	for range 2 {
		if again, err := f.Put(ctx, "other.txt", strings.NewReader("hello"), 100); err != nil || again.SHA256 != file.SHA256 {
			t.Errorf("again: %v, %v", again, err)
		}
	}
	r, err := f.File(file)
	if err != nil {
		t.Fatal(err)
	}
	text, err := io.ReadAll(r)
	if err != nil || string(text) != "hello" || r.Close() != nil {
		t.Errorf("File = %q, %v", text, err)
	}
	if n := filesIn(t, f); n != 1 {
		t.Errorf("%d files, want 1", n)
	}
}

func filesIn(t *testing.T, f *store.Folder) int {
	t.Helper()
	all, err := os.ReadDir(filepath.Join(f.Dir(), "files"))
	if err != nil {
		t.Fatal(err)
	}
	return len(all)
}

type broken struct{}

func (broken) Read([]byte) (int, error) { return 0, errors.New("the line broke") }

func TestFilesThatAreRefusedLeaveNothing(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	if _, err := f.Put(ctx, "long.jpg", strings.NewReader("123456"), 5); !errors.Is(err, store.ErrTooLong) || !strings.Contains(err.Error(), "long.jpg") {
		t.Errorf("too long: %v", err)
	}
	if _, err := f.Put(ctx, "b.jpg", io.MultiReader(strings.NewReader("123"), broken{}), 5); err == nil || !strings.Contains(err.Error(), "the line broke") {
		t.Errorf("broken: %v", err)
	}
	stopped, stop := context.WithCancel(ctx)
	stop()
	if _, err := f.Put(stopped, "c.jpg", strings.NewReader("123"), 5); !errors.Is(err, context.Canceled) {
		t.Errorf("interrupted: %v", err)
	}
	if n := filesIn(t, f); n != 0 {
		t.Errorf("%d files are left", n)
	}
	for _, name := range []string{"", "../build.db", strings.Repeat("A", 64), strings.Repeat("0", 64)} {
		if _, err := f.File(record.File{SHA256: name}); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("File(%q) = %v", name, err)
		}
	}
}

func TestExpungeFile(t *testing.T) {
	ctx := context.Background()
	f := create(t)
	file, err := f.Put(ctx, "face.jpg", strings.NewReader("a face"), 100)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.ExpungeFile(ctx, file, "owner", "asked for by the person shown"); err != nil {
		t.Fatal(err)
	}
	g := reopen(t, f)
	const why = "face.jpg was taken out on 2027-04-12 by owner: asked for by the person shown"
	if _, err := g.File(file); !errors.Is(err, os.ErrNotExist) || !strings.Contains(err.Error(), why) {
		t.Errorf("File = %v", err)
	}
	if _, err := g.Put(ctx, "face.jpg", strings.NewReader("a face"), 100); err == nil || !strings.Contains(err.Error(), why) {
		t.Errorf("Put = %v", err)
	}
	if n := filesIn(t, f); n != 0 {
		t.Errorf("%d files are left", n)
	}
	if err := f.ExpungeFile(ctx, file, "owner", "again"); err == nil {
		t.Error("taken out twice")
	}
}

// A copy that was cut short by a kill goes at the next start, once nobody can
// be writing to it any more; what is whole stays.
func TestHalfCopiesAreSwept(t *testing.T) {
	f := create(t)
	file, err := f.Put(t.Context(), "whole.txt", strings.NewReader("whole"), 100)
	if err != nil {
		t.Fatal(err)
	}
	dir := filepath.Join(f.Dir(), "files")
	for name, age := range map[string]time.Duration{"part-1": 2 * time.Hour, "part-2": time.Minute} {
		path := filepath.Join(dir, name)
		if err := os.WriteFile(path, []byte("half"), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chtimes(path, time.Now(), time.Now().Add(-age)); err != nil {
			t.Fatal(err)
		}
	}
	again, err := store.Open(t.Context(), f.Dir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = again.Close() })
	for name, want := range map[string]bool{"part-1": false, "part-2": true, file.SHA256: true} {
		if _, err := os.Stat(filepath.Join(dir, name)); (err == nil) != want {
			t.Errorf("%s is there: %v, want %v", name, err == nil, want)
		}
	}
}
