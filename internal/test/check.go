// Package test holds the little that tests share: comparing a computed value
// with a published one, and noting the comparison for VERIFICATION.md.
package test

import (
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
)

// Row is one line of VERIFICATION.md.
type Row struct {
	Room      string  `json:"room"`
	Quantity  string  `json:"quantity"`
	Source    string  `json:"source"`
	Published float64 `json:"published"`
	Computed  float64 `json:"computed"`
	Allowed   float64 `json:"allowed"`
}

// Check fails t unless computed is within allowed of published, and notes the
// comparison. src names where the published value comes from: author, title,
// year, place; "common practice, no source"; or "from memory: ...".
func Check(t testing.TB, quantity, src string, published, computed, allowed float64) {
	t.Helper()
	if math.IsNaN(computed) || math.Abs(computed-published) > allowed {
		t.Errorf("%s = %.6g, want %.6g within %.2g (%s)", quantity, computed, published, allowed, src)
	}
	note(t, Row{Quantity: quantity, Source: src, Published: published, Computed: computed, Allowed: allowed})
}

// note appends a row for the test's room to the folder that DOGSHORE_VERIFY
// names; without it nothing is written.
func note(t testing.TB, r Row) {
	t.Helper()
	dir := os.Getenv("DOGSHORE_VERIFY")
	if dir == "" {
		return
	}
	wd, err := os.Getwd()
	if err != nil {
		t.Fatal(err)
	}
	r.Room = filepath.Base(wd)
	name := strings.NewReplacer("/", "_", "\\", "_", " ", "_").Replace(r.Room + "-" + t.Name())
	f, err := os.OpenFile(filepath.Join(dir, name+".jsonl"), os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	line, err := json.Marshal(r)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := fmt.Fprintf(f, "%s\n", line); err != nil {
		t.Fatal(err)
	}
	if err := f.Close(); err != nil {
		t.Fatal(err)
	}
}
