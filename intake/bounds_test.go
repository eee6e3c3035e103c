package intake_test

import (
	"fmt"
	"runtime/debug"
	"strings"
	"testing"

	"dogshore/intake"
)

// A long list is read in one go, each row once; a long list of mistakes too.
func TestLongLists(t *testing.T) {
	defer debug.SetMemoryLimit(debug.SetMemoryLimit(500 << 20))
	const rows = 60_000
	var good, bad, same strings.Builder
	good.WriteString("name;within;count\n")
	bad.WriteString("name;within;count\n")
	same.WriteString("text;about\n")
	for i := range rows {
		fmt.Fprintf(&good, "Bolt %d;Deck;%d\n", i, i)
		fmt.Fprintf(&bad, "Bolt %d;Nowhere %d;1.200\n", i, i)
		same.WriteString("the same remark;Deck\n")
	}
	for _, c := range []struct {
		name, text  string
		reads, asks int
	}{
		{"parts.csv", good.String(), rows, 0},
		{"parts.csv", bad.String(), rows, 2*rows + 1}, // each cell, and the mark of the sheet
		{"notes.csv", same.String(), 1, rows - 1},
	} {
		r := intake.Read([]intake.File{file(c.name, c.text)}, boat(t), intake.Options{Today: today})
		if len(r.Reads) != c.reads || len(r.Asks) != c.asks {
			t.Errorf("%s: %d read, %d asked; want %d, %d", c.name, len(r.Reads), len(r.Asks), c.reads, c.asks)
		}
		if lines := strings.Count(printed(t, r), "\n"); lines > 200 {
			t.Errorf("%s: the answer has %d lines", c.name, lines)
		}
	}
}
