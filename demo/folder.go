package demo

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
)

// mark is the file by which a build folder that was made here is known.
const mark = "demo.txt"

const marked = `This build is invented: boat, yard, people, places, dates and figures.
"dogshore demo" made it. What you write into it stays; "dogshore demo --fresh" makes it anew and forgets what you wrote.
`

// In sees to it that dir holds a build: it keeps one that was made here
// before, or, if fresh is set, makes it anew. It reports whether it made one,
// and refuses a folder that it did not make.
func In(ctx context.Context, dir string, which Which, fresh bool) (made bool, err error) {
	mine, err := isMine(dir)
	if err != nil || mine && !fresh {
		return false, err
	}
	if err := os.MkdirAll(filepath.Dir(dir), 0o755); err != nil {
		return false, err
	}
	making, err := os.MkdirTemp(filepath.Dir(dir), ".making-")
	if err != nil {
		return false, err
	}
	defer func() { err = errors.Join(err, os.RemoveAll(making)) }()
	whole := filepath.Join(making, string(which))
	if err := Make(ctx, whole, which); err != nil {
		return false, err
	}
	if err := os.WriteFile(filepath.Join(whole, mark), []byte(marked), 0o644); err != nil {
		return false, err
	}
	if mine {
		if err := os.RemoveAll(dir); err != nil {
			return false, err
		}
	}
	return true, os.Rename(whole, dir)
}

// isMine reports whether dir holds a build that was made here. A folder that
// holds anything else is an error; one that is not there or empty is not.
func isMine(dir string) (bool, error) {
	in, err := os.ReadDir(dir)
	if errors.Is(err, fs.ErrNotExist) {
		return false, nil
	}
	if err != nil {
		return false, err
	}
	for _, f := range in {
		if f.Name() == mark {
			return true, nil
		}
	}
	if len(in) > 0 {
		return false, fmt.Errorf("%s holds something that no demo made; name another folder", dir)
	}
	return false, os.Remove(dir) // empty: it makes room for the rename
}
