// Package demo holds two invented builds as text, and makes build folders of
// them by the same intake as anyone's: a thin one that has no more than a
// start sheet, and a full one, ten months into her build.
package demo

import (
	"embed"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"strconv"

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
	By    string       // who wrote it, if not the owner: "24b-2026-10-28-visit-tomas"
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
		b, err := named(d.Name())
		if err != nil {
			return nil, err
		}
		if b.Files, err = fs.Glob(text, path.Join(string(which), d.Name(), "*.csv")); err != nil {
			return nil, err
		}
		out = append(out, b)
	}
	return out, nil
}

var folder = regexp.MustCompile(`^(\d+)[a-z]?-(\d{4}-\d\d-\d\d)-[a-z]+(?:-([a-z]+))?$`)

// named reads what the name of a batch's folder says.
func named(name string) (Batch, error) {
	m := folder.FindStringSubmatch(name)
	if m == nil {
		return Batch{}, fmt.Errorf("demo: %q is no name of a batch: number, day, what it was and who wrote it, as 24b-2026-10-28-visit-tomas", name)
	}
	day, err := calendar.ParseISO(m[2])
	if err != nil {
		return Batch{}, fmt.Errorf("demo: %s: %w", name, err)
	}
	place, err := strconv.Atoi(m[1])
	return Batch{Name: name, Place: place, Day: day, By: m[3]}, err
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
