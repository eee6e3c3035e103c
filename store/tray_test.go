package store_test

import (
	"errors"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"dogshore/record"
	"dogshore/store"
)

func TestTray(t *testing.T) {
	f := create(t)
	tray, err := f.NewTray()
	if err != nil {
		t.Fatal(err)
	}
	put := func(name, text string) {
		t.Helper()
		if err := tray.Put(t.Context(), name, strings.NewReader(text), 100); err != nil {
			t.Fatal(err)
		}
	}
	put("DCIM/one.jpg", "one")
	put(`C:\..\..\two.jpg`, "two")
	put("DCIM/one.jpg", "one")
	if err := tray.Put(t.Context(), "long", strings.NewReader(strings.Repeat("x", 101)), 100); !errors.Is(err, store.ErrTooLong) {
		t.Errorf("a longer one: %v", err)
	}
	again, err := f.Tray(tray.ID)
	if err != nil {
		t.Fatal(err)
	}
	files, err := again.Files()
	if err != nil || len(files) != 2 || files[0].Name != "DCIM/one.jpg" || files[1].Name != "C:/two.jpg" || files[1].Size != 3 {
		t.Fatalf("%+v, %v", files, err)
	}
	for range 2 { // the second time it is there already
		kept, err := again.Keep(t.Context(), files[0])
		if err != nil || kept.Name != "one.jpg" {
			t.Fatal(kept, err)
		}
		in, err := f.File(kept)
		if err != nil {
			t.Fatal(err)
		}
		if b, err := io.ReadAll(in); string(b) != "one" || err != nil {
			t.Errorf("%q, %v", b, err)
		}
		_ = in.Close()
	}
	in, err := again.Open(files[0])
	if err != nil {
		t.Fatal("after it was kept:", err)
	}
	_ = in.Close()
	all, err := f.Trays()
	if err != nil || len(all) != 1 || all[0].Files != 2 {
		t.Errorf("%+v, %v", all, err)
	}
	if err := again.Drop(); err != nil {
		t.Fatal(err)
	}
	if all, err := f.Trays(); err != nil || len(all) != 0 {
		t.Errorf("after it was thrown away: %+v, %v", all, err)
	}
	for _, id := range []string{"", "..", "../files", tray.ID + "/..", tray.ID} {
		if _, err := f.Tray(id); !errors.Is(err, os.ErrNotExist) {
			t.Errorf("tray %q: %v", id, err)
		}
	}
}

// What was made of a file goes when the file is taken out.
func TestSmallOnesGoWithTheFile(t *testing.T) {
	f := create(t)
	file, err := f.Put(t.Context(), "a.jpg", strings.NewReader("picture"), 100)
	if err != nil {
		t.Fatal(err)
	}
	if err := f.PutSmall(file, "320.jpg", []byte("small")); err != nil {
		t.Fatal(err)
	}
	if b, err := f.Small(file, "320.jpg"); string(b) != "small" || err != nil {
		t.Errorf("%q, %v", b, err)
	}
	for _, bad := range []string{"", "../x", "a/b", `a\b`, ".x", "c:x"} {
		if err := f.PutSmall(file, bad, nil); err == nil {
			t.Errorf("kept under %q", bad)
		}
	}
	if _, err := f.Small(record.File{SHA256: "../../build.db"}, "x"); err == nil {
		t.Error("a name leads out of the folder")
	}
	if err := f.ExpungeFile(t.Context(), file, "owner", "a stranger's boat is in it"); err != nil {
		t.Fatal(err)
	}
	if left, _ := filepath.Glob(filepath.Join(f.Dir(), "files", "small", "*", "*")); len(left) > 0 {
		t.Errorf("left: %v", left)
	}
	if err := f.PutSmall(file, "320.jpg", []byte("small")); err == nil {
		t.Error("it was made again")
	}
}
