package main

import (
	"bytes"
	"context"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"
)

// written is what a running command has printed so far.
type written struct {
	mu sync.Mutex
	b  bytes.Buffer
}

func (w *written) Write(p []byte) (int, error) {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.b.Write(p)
}

func (w *written) String() string {
	w.mu.Lock()
	defer w.mu.Unlock()
	return w.b.String()
}

var address = regexp.MustCompile(`http://127\.0\.0\.1:\d+/`)

// An empty folder opens with the start of a build, on the loopback interface
// alone, until the command is interrupted.
func TestOpenServesUntilInterrupted(t *testing.T) {
	ctx, interrupt := context.WithCancel(context.Background())
	defer interrupt()
	var out, errs written
	ended := make(chan int, 1)
	dir := filepath.Join(t.TempDir(), "boat")
	go func() {
		ended <- run(ctx, []string{"open", "--port", "0", dir}, streams{in: strings.NewReader(""), out: &out, err: &errs})
	}()
	deadline := time.Now().Add(30 * time.Second)
	for address.FindString(out.String()) == "" {
		if time.Now().After(deadline) {
			t.Fatalf("no address is printed: %s %s", out.String(), errs.String())
		}
		select {
		case code := <-ended:
			t.Fatalf("it ended with %d: %s", code, errs.String())
		case <-time.After(10 * time.Millisecond):
		}
	}
	client := http.Client{Timeout: 30 * time.Second}
	answer, err := client.Get(address.FindString(out.String()))
	if err != nil {
		t.Fatal(err)
	}
	body, err := io.ReadAll(answer.Body)
	if err != nil || answer.Body.Close() != nil || !strings.Contains(string(body), "Start a build") {
		t.Errorf("the first page of an empty folder: %.300s %v", body, err)
	}
	interrupt()
	if code := <-ended; code != exitDone {
		t.Errorf("ended with %d: %s", code, errs.String())
	}
}

func TestOpenLeavesOtherFoldersAlone(t *testing.T) {
	dir := t.TempDir()
	if err := os.WriteFile(filepath.Join(dir, "letter.txt"), []byte("x"), 0o644); err != nil {
		t.Fatal(err)
	}
	var out, errs written
	code := run(context.Background(), []string{"open", "--port", "0", dir}, streams{in: strings.NewReader(""), out: &out, err: &errs})
	if code != exitFailed || !strings.Contains(errs.String(), "holds other things") {
		t.Errorf("%d: %s", code, errs.String())
	}
}
