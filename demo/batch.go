// Package demo holds two invented builds as text, and makes build folders of
// them by the same intake as anyone's: a thin one that has no more than a
// start sheet, and a full one, ten months into her build.
package demo

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"strconv"
	"strings"

	"dogshore/calendar"
)

//go:embed thin full
var text embed.FS

// Which names a build.
type Which string

// The two builds.
const (
	Thin Which = "thin"
	Full Which = "full"
)

// Builds lists the builds, the thin one first.
var Builds = []Which{Thin, Full}

// Batch is what came in on one day: a folder with one CSV file for each kind.
type Batch struct {
	Name  string       // as its folder: "26-2026-11-12-visit"
	Place int          // its number: those of one number were written apart, none knowing of the other
	Day   calendar.Day // the day in its name
	Files []string     // the paths of its CSV files, sorted
}

// Batches returns what came in for a build, in order.
func Batches(which Which) ([]Batch, error) {
	dirs, err := text.ReadDir(string(which))
	if err != nil {
		return nil, fmt.Errorf("demo: there is no build %q", which)
	}
	var out []Batch
	for _, d := range dirs {
		b := Batch{Name: d.Name()}
		place, rest, _ := strings.Cut(d.Name(), "-")
		b.Place, err = strconv.Atoi(strings.TrimRight(place, "abc"))
		if err != nil || len(rest) < len("2026-01-12") {
			return nil, fmt.Errorf("demo: %s has no number and day in its name", d.Name())
		}
		if b.Day, err = calendar.ParseISO(rest[:len("2026-01-12")]); err != nil {
			return nil, fmt.Errorf("demo: %s: %w", d.Name(), err)
		}
		if b.Files, err = fs.Glob(text, path.Join(string(which), d.Name(), "*.csv")); err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return out, nil
}

// Today returns the day on which a build's record ends: that of its last
// batch. It is the day whose review the demo prints.
func Today(which Which) (calendar.Day, error) {
	b, err := Batches(which)
	if err != nil || len(b) == 0 {
		return 0, err
	}
	return b[len(b)-1].Day, nil
}
