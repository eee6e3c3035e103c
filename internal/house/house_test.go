// Package house holds the house to its floors: a room imports only rooms on
// lower floors, and engines touch nothing outside themselves.
package house

import (
	"go/parser"
	"go/token"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"testing"
)

// A room's floor, and what it may import on its own floor. Rooms below may
// always be imported.
var floors = map[string]struct {
	floor int
	also  []string
}{
	"unit":             {0, nil},
	"calendar":         {0, []string{"unit"}}, // shares the errors for texts with two readings
	"source":           {0, nil},
	"figure":           {0, []string{"source"}},
	"plane":            {0, nil},
	"dxf":              {0, nil},
	"internal/draw":    {0, nil},
	"internal/qr":      {0, nil},
	"internal/random":  {0, nil},
	"internal/test":    {0, nil},
	"internal/house":   {0, nil},
	"internal/browser": {0, nil},
	"internal/verify":  {0, []string{"internal/test"}},

	"programme": {1, nil},
	"rope":      {1, nil},
	"gybe":      {1, []string{"rope"}}, // floor 1b
	"jackstay":  {1, []string{"rope"}}, // floor 1b
	"record":    {1, nil},

	"journal": {2, nil},

	"internal/reference": {3, nil}, // only tests import it
	"desk":               {3, nil},
	"desk/plan":          {3, []string{"desk"}},
	"desk/photo":         {3, []string{"desk", "desk/plan"}},
	"desk/deck":          {3, []string{"desk", "desk/plan"}},
	"desk/visit":         {3, []string{"desk", "desk/plan"}},

	"review": {4, nil},

	"store":    {5, nil},
	"template": {5, nil},
	"workbook": {5, nil},
	"intake":   {5, []string{"workbook", "picture"}},
	"picture":  {5, []string{"picture/heic"}},
	"drawing":  {5, nil},
	"letter":   {5, []string{"drawing"}},
	"feed":     {5, nil},
	"diary":    {5, nil},
	"people":   {5, nil},

	"people/trust": {5, nil},
	"picture/heic": {0, nil},

	"demo":         {6, nil},
	"work":         {6, nil},
	"web":          {6, nil},
	"bench":        {6, nil},
	"cmd/dogshore": {7, nil},
}

// engines may use the standard library's pure parts and gonum, and nothing
// that reaches outside.
var engines = []string{"programme", "rope", "jackstay", "gybe", "dxf"}

var impure = []string{"os", "io/fs", "net", "net/http", "database/sql", "log", "log/slog", "embed", "time", "math/rand", "math/rand/v2"}

const module = "dogshore/"

func TestFloors(t *testing.T) {
	for _, f := range goFiles(t) {
		room := f.room
		at, ok := floors[room]
		if !ok {
			t.Errorf("%s: room %q has no floor: give it one in this test and in ARCHITECTURE.md", f.path, room)
			continue
		}
		if f.test {
			continue // tests may look anywhere
		}
		for _, path := range f.imports {
			to, inside := strings.CutPrefix(path, module)
			if !inside || to == room {
				continue
			}
			below, ok := floors[to]
			if !ok {
				t.Errorf("%s imports %s, which has no floor", f.path, to)
				continue
			}
			if below.floor >= at.floor && !slices.Contains(at.also, to) {
				t.Errorf("%s (floor %d) imports %s (floor %d): imports go down only", f.path, at.floor, to, below.floor)
			}
		}
	}
}

func TestEnginesArePure(t *testing.T) {
	for _, f := range goFiles(t) {
		if f.test || !slices.Contains(engines, f.room) {
			continue
		}
		for _, path := range f.imports {
			if slices.Contains(impure, path) {
				t.Errorf("%s imports %s: an engine takes a plain case and returns a plain result", f.path, path)
			}
			if path == module+"figure" && !strings.HasPrefix(filepath.Base(f.path), "working") {
				t.Errorf("%s imports figure: in an engine only the files of its workings do", f.path)
			}
		}
	}
}

type goFile struct {
	path, room string
	test       bool
	imports    []string
}

func goFiles(t *testing.T) []goFile {
	t.Helper()
	root := filepath.Join("..", "..")
	var out []goFile
	err := filepath.WalkDir(root, func(path string, d fs.DirEntry, err error) error {
		if err != nil {
			return err
		}
		hidden := strings.HasPrefix(d.Name(), ".") && path != root
		if d.IsDir() && (hidden || d.Name() == "testdata" || d.Name() == "node_modules") {
			return filepath.SkipDir
		}
		if d.IsDir() || filepath.Ext(path) != ".go" {
			return nil
		}
		src, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		f, err := parser.ParseFile(token.NewFileSet(), path, src, parser.ImportsOnly)
		if err != nil {
			return err
		}
		rel, err := filepath.Rel(root, path)
		if err != nil {
			return err
		}
		g := goFile{path: filepath.ToSlash(rel), room: filepath.ToSlash(filepath.Dir(rel)), test: strings.HasSuffix(path, "_test.go")}
		for _, im := range f.Imports {
			p, err := strconv.Unquote(im.Path.Value)
			if err != nil {
				return err
			}
			g.imports = append(g.imports, p)
		}
		out = append(out, g)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	if len(out) < 10 {
		t.Fatalf("only %d Go files found below %s", len(out), root)
	}
	return out
}
