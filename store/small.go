package store

import (
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"

	"dogshore/record"
)

// smallName is where what was made of files lies, within files/. All of it can
// be made again.
const smallName = "small"

// Small reads something that was made of a file and kept under a short name,
// as 320.jpg. It is an error if there is no such thing.
func (f *Folder) Small(file record.File, name string) ([]byte, error) {
	path, err := f.smallPath(file, name)
	if err != nil {
		return nil, err
	}
	return os.ReadFile(path)
}

// PutSmall keeps something that was made of a file. It is refused for a file
// that was taken out.
func (f *Folder) PutSmall(file record.File, name string, b []byte) error {
	path, err := f.smallPath(file, name)
	if err != nil {
		return err
	}
	if err := f.whyGone(context.Background(), file); err != nil {
		return err
	}
	if err := os.MkdirAll(filepath.Dir(path), 0o755); err != nil {
		return fmt.Errorf("keep %s of %s: %w", name, file.Name, err)
	}
	part, err := os.CreateTemp(filepath.Dir(path), "part-*")
	if err != nil {
		return fmt.Errorf("keep %s of %s: %w", name, file.Name, err)
	}
	defer func() { _ = os.Remove(part.Name()) }() // gone after the rename
	_, err = part.Write(b)
	if err = errors.Join(err, part.Close()); err == nil {
		err = os.Rename(part.Name(), path)
	}
	if err != nil {
		return fmt.Errorf("keep %s of %s: %w", name, file.Name, err)
	}
	return nil
}

func (f *Folder) smallPath(file record.File, name string) (string, error) {
	if !isSHA256(file.SHA256) || name == "" || strings.ContainsAny(name, `/\:`) || strings.HasPrefix(name, ".") {
		return "", notAFile(file)
	}
	return filepath.Join(f.dir, filesName, smallName, file.SHA256[:2], file.SHA256+"-"+name), nil
}

// forgetSmall removes what was made of a file.
func (f *Folder) forgetSmall(file record.File) error {
	all, err := filepath.Glob(filepath.Join(f.dir, filesName, smallName, file.SHA256[:2], file.SHA256+"-*"))
	for _, path := range all {
		err = errors.Join(err, os.Remove(path))
	}
	return err
}
