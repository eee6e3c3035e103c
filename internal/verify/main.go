// Command verify prints VERIFICATION.md from what the tests noted: every
// quantity that was compared with a value from outside the project.
//
//	DOGSHORE_VERIFY=$PWD/notes go test -count=1 ./... && go run ./internal/verify notes > VERIFICATION.md
package main

import (
	"bufio"
	"cmp"
	"encoding/json"
	"fmt"
	"math"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"dogshore/internal/test"
)

func main() {
	if len(os.Args) != 2 {
		fmt.Fprintln(os.Stderr, "usage: verify FOLDER")
		os.Exit(2)
	}
	rows, err := read(os.Args[1])
	if err != nil {
		fmt.Fprintln(os.Stderr, "verify:", err)
		os.Exit(1)
	}
	print(rows)
}

// read collects the rows of every file in dir, without doubles, sorted.
func read(dir string) ([]test.Row, error) {
	names, err := filepath.Glob(filepath.Join(dir, "*.jsonl"))
	if err != nil {
		return nil, err
	}
	var rows []test.Row
	for _, name := range names {
		f, err := os.Open(name)
		if err != nil {
			return nil, err
		}
		s := bufio.NewScanner(f)
		s.Buffer(nil, 1<<20)
		for s.Scan() {
			var r test.Row
			if err := json.Unmarshal(s.Bytes(), &r); err != nil {
				return nil, fmt.Errorf("%s: %w", name, err)
			}
			rows = append(rows, r)
		}
		if err := cmp.Or(s.Err(), f.Close()); err != nil {
			return nil, err
		}
	}
	slices.SortFunc(rows, func(a, b test.Row) int {
		return cmp.Or(cmp.Compare(a.Room, b.Room), cmp.Compare(a.Source, b.Source), cmp.Compare(a.Quantity, b.Quantity), cmp.Compare(a.Published, b.Published))
	})
	return slices.Compact(rows), nil
}

func print(rows []test.Row) {
	fmt.Print(`# Verification

Printed from the tests: each line is a value that did not come from this code,
and what Dogshore computes for it. A source says how well it is known: read,
computed by another method, derived, or from memory and not read again;
docs/sources.md says what the short names mean. Lines that are checked by the
hundred (a whole data set) stand as one line with the number of agreements.
`)
	room := ""
	for _, r := range rows {
		if r.Room != room {
			room = r.Room
			fmt.Printf("\n## %s\n\n| quantity | source | published | computed | difference |\n| --- | --- | ---: | ---: | ---: |\n", room)
		}
		fmt.Printf("| %s | %s | %s | %s | %s |\n", cell(r.Quantity), cell(r.Source), digits(r.Published), digits(r.Computed), digits(r.Computed-r.Published))
	}
}

// digits prints four significant digits, or all of a whole number, and takes
// differences below rounding as none.
func digits(v float64) string {
	if math.Abs(v) < 5e-10 {
		return "0"
	}
	if v == math.Trunc(v) && math.Abs(v) < 1e9 {
		return strconv.FormatFloat(v, 'f', 0, 64)
	}
	return strconv.FormatFloat(v, 'g', 4, 64)
}

func cell(s string) string {
	return strings.NewReplacer("|", "\\|", "\n", " ").Replace(s)
}
