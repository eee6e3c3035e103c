package people_test

import (
	"bufio"
	"bytes"
	"context"
	"database/sql"
	"errors"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"runtime"
	"testing"
	"time"

	"dogshore/people"
)

// writerFolder is set for this test binary when it runs as a writer.
const writerFolder = "DOGSHORE_TEST_PHONES"

func TestMain(m *testing.M) {
	if dir := os.Getenv(writerFolder); dir != "" {
		if err := letInForEver(dir); err != nil {
			fmt.Fprintln(os.Stderr, err)
			os.Exit(1)
		}
		return
	}
	os.Exit(m.Run())
}

// letInForEver lets in phone after phone and prints the token of each as soon
// as it is in.
func letInForEver(dir string) error {
	ctx := context.Background()
	a, err := people.Open(ctx, dir, time.Now)
	if err != nil {
		return err
	}
	for {
		_, code, err := a.NewCode(ctx, "Bo", "phone", people.Mate)
		if err != nil {
			return err
		}
		_, token, err := a.SignIn(ctx, people.Asked{From: here, Secret: code})
		if err != nil {
			return err
		}
		if _, err := fmt.Println(token); err != nil {
			return err
		}
	}
}

// A program that is killed has lost no phone that it had let in, and put out
// none; the file is sound.
func TestKilledProgramForgetsNoPhone(t *testing.T) {
	if testing.Short() {
		t.Skip("each sign-in takes its tenth of a second")
	}
	ctx := context.Background()
	dir := t.TempDir()
	a := open(t, dir, newHand())
	if _, err := a.SetPassphrase(ctx, passphrase); err != nil {
		t.Fatal(err)
	}
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	var tokens []string
	for round := range 6 {
		cmd := exec.Command(os.Args[0])
		cmd.Env = append(os.Environ(), writerFolder+"="+dir)
		out, err := cmd.StdoutPipe()
		if err != nil {
			t.Fatal(err)
		}
		if err := cmd.Start(); err != nil {
			t.Fatal(err)
		}
		lines := bufio.NewScanner(out)
		for n := 0; n <= round && lines.Scan(); n++ {
			tokens = append(tokens, lines.Text())
		}
		time.Sleep(time.Duration(round*1500) * time.Microsecond) // anywhere within the next write
		if err := cmd.Process.Kill(); err != nil {
			t.Fatal(err)
		}
		for lines.Scan() {
			tokens = append(tokens, lines.Text())
		}
		_ = cmd.Wait() // it was killed
	}
	if len(tokens) < 21 {
		t.Fatalf("only %d phones were let in", len(tokens))
	}
	a, err := people.Open(ctx, dir, time.Now)
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = a.Close() }() // read only
	for i, token := range tokens {
		if _, err := a.Session(ctx, token); err != nil {
			t.Errorf("phone %d of %d: %v", i+1, len(tokens), err)
		}
	}
	var says string
	if err := raw(t, dir).QueryRow(`PRAGMA integrity_check`).Scan(&says); err != nil || says != "ok" {
		t.Errorf("SQLite finds %q, %v", says, err)
	}
}

func raw(t *testing.T, dir string) *sql.DB {
	t.Helper()
	db, err := sql.Open("sqlite", filepath.Join(dir, people.FileName))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = db.Close() }) // read only, or its write is checked
	return db
}

// Neither the passphrase nor a code nor a token stands in the file, and nobody
// else on the computer may read it.
func TestTheFileTellsNothing(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	path := filepath.Join(dir, people.FileName)
	if err := os.WriteFile(path, nil, 0o644); err != nil { // as a careless copy would be
		t.Fatal(err)
	}
	a := open(t, dir, newHand())
	if _, err := a.SetPassphrase(ctx, passphrase); err != nil {
		t.Fatal(err)
	}
	_, token := in(t, a, passphrase)
	_, code, err := a.NewCode(ctx, "Bo", "blue phone", people.Mate)
	if err != nil {
		t.Fatal(err)
	}
	all, err := os.ReadDir(dir)
	if err != nil {
		t.Fatal(err)
	}
	for _, f := range all {
		b, err := os.ReadFile(filepath.Join(dir, f.Name()))
		if err != nil {
			t.Fatal(err)
		}
		for _, secret := range []string{passphrase, token, code} {
			if bytes.Contains(b, []byte(secret)) {
				t.Errorf("%q stands in %s", secret, f.Name())
			}
		}
		in, err := f.Info()
		if err != nil {
			t.Fatal(err)
		}
		if runtime.GOOS != "windows" && in.Mode().Perm() != 0o600 {
			t.Errorf("%s may be read by others: %v", f.Name(), in.Mode())
		}
	}
}

func TestANewerFileIsLeftAlone(t *testing.T) {
	ctx := context.Background()
	dir := t.TempDir()
	a := open(t, dir, newHand())
	if err := a.Close(); err != nil {
		t.Fatal(err)
	}
	if _, err := raw(t, dir).Exec(`PRAGMA user_version = 3`); err != nil {
		t.Fatal(err)
	}
	if _, err := people.Open(ctx, dir, time.Now); !errors.Is(err, people.ErrNewer) {
		t.Errorf("a newer file: %v", err)
	}
	if _, err := people.Open(ctx, filepath.Join(dir, "none"), time.Now); !errors.Is(err, os.ErrNotExist) {
		t.Errorf("no folder: %v", err)
	}
}

// What another process changes holds at the next request.
func TestAnotherProcessPutsOut(t *testing.T) {
	ctx := context.Background()
	dir, h := t.TempDir(), newHand()
	serving, command := open(t, dir, h), open(t, dir, h)
	if _, err := command.SetPassphrase(ctx, passphrase); err != nil {
		t.Fatal(err)
	}
	_, token := in(t, serving, passphrase)
	if n, err := command.SetPassphrase(ctx, passphrase+" two"); n != 1 || err != nil {
		t.Fatal(n, err)
	}
	if _, err := serving.Session(ctx, token); !errors.Is(err, people.ErrRevoked) {
		t.Errorf("afterwards: %v", err)
	}
}
