package store_test

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
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

// A file that comes in pieces is whole when its last piece is there, whatever
// was sent twice or broke off, and is what its hash says.
func TestPiecesOfAFile(t *testing.T) {
	f, err := store.Create(t.Context(), t.TempDir(), time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	text := bytes.Repeat([]byte("planking "), 1000)
	sum := sha256.Sum256(text)
	file := record.File{SHA256: hex.EncodeToString(sum[:]), Name: "p.jpg"}
	size := int64(len(text))
	send := func(from, to int) (int64, bool, error) {
		return f.Append(t.Context(), file, int64(from), size, bytes.NewReader(text[from:to]))
	}
	for _, c := range []struct {
		from, to int
		n        int64
		whole    bool
		gap      bool
	}{
		{100, 200, 0, false, true},
		{0, 4000, 4000, false, false},
		{0, 4000, 4000, false, false},    // sent twice
		{2000, 6000, 6000, false, false}, // half of it is here
		{7000, 9000, 6000, false, true},
		{6000, 9000, 9000, true, false},
		{0, 9000, 9000, true, false}, // it is here
	} {
		n, whole, err := send(c.from, c.to)
		if n != c.n || whole != c.whole || errors.Is(err, store.ErrGap) != c.gap || err != nil && !c.gap {
			t.Fatalf("%d to %d: %d, %v, %v; want %d, %v", c.from, c.to, n, whole, err, c.n, c.whole)
		}
	}
	in, err := f.File(file)
	if err != nil {
		t.Fatal(err)
	}
	got, err := io.ReadAll(in)
	if err != nil || in.Close() != nil || !bytes.Equal(got, text) {
		t.Errorf("%d bytes came, %v", len(got), err)
	}
}

// What comes otherwise than announced is thrown away, more than announced is
// not read, and too many at once are refused.
func TestPiecesThatAreRefused(t *testing.T) {
	dir := t.TempDir()
	f, err := store.Create(t.Context(), dir, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = f.Close() }()
	bad := record.File{SHA256: strings.Repeat("ab", 32), Name: "p.jpg"}
	if _, whole, err := f.Append(t.Context(), bad, 0, 5, strings.NewReader("hello and more")); err == nil || whole {
		t.Errorf("whole %v, %v", whole, err)
	}
	if left, _ := filepath.Glob(filepath.Join(dir, "files", "*")); len(left) != 0 {
		t.Errorf("left behind: %v", left)
	}
	if _, _, err := f.Append(t.Context(), record.File{SHA256: "../../x"}, 0, 5, strings.NewReader("hello")); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("a name that leads elsewhere: %v", err)
	}
	for i := range 65 {
		sum := sha256.Sum256([]byte{byte(i)})
		_, _, err = f.Append(t.Context(), record.File{SHA256: hex.EncodeToString(sum[:]), Name: "p"}, 0, 5, strings.NewReader("he"))
	}
	if err == nil || !strings.Contains(err.Error(), "half here already") {
		t.Errorf("the 65th file: %v", err)
	}
}
