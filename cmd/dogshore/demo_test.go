package main

import (
	"bufio"
	"context"
	"io"
	"net/http"
	"strings"
	"testing"
)

// The demo serves both builds until it is interrupted; the day of their pages
// is the day of their story.
func TestDemoServesBothBuilds(t *testing.T) {
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	out, w := io.Pipe()
	code := make(chan int, 1)
	go func() {
		code <- run(ctx, []string{"demo", t.TempDir(), "--port", "0"}, streams{in: strings.NewReader(""), out: w, err: io.Discard})
		w.Close()
	}()
	lines := bufio.NewScanner(out)
	var at []string
	for lines.Scan() && !strings.Contains(lines.Text(), "Ctrl-C") {
		if strings.HasPrefix(lines.Text(), "The pages of ") {
			_, address, _ := strings.Cut(lines.Text(), ": ")
			at = append(at, address)
		}
	}
	if len(at) != 2 {
		t.Fatalf("addresses %v, want two", at)
	}
	go io.Copy(io.Discard, out)
	for i, want := range []string{"Ailsane", "Pipit"} {
		body := get(t, at[i])
		for _, words := range []string{want, "November 2026", "Invented:"} {
			if !strings.Contains(body, words) {
				t.Errorf("the page at %s does not say %q", at[i], words)
			}
		}
	}
	stop()
	if got := <-code; got != exitDone {
		t.Errorf("exit code %d after the interruption, want %d", got, exitDone)
	}
}

func get(t *testing.T, url string) string {
	t.Helper()
	r, err := http.Get(url)
	if err != nil {
		t.Fatal(err)
	}
	defer r.Body.Close()
	body, err := io.ReadAll(r.Body)
	if err != nil || r.StatusCode != http.StatusOK {
		t.Fatalf("%s: %s, %v", url, r.Status, err)
	}
	return string(body)
}
