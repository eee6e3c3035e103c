package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"sort"
	"strings"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/store"
)

type intakeCmd struct {
	Dir    string   `arg:"" help:"The build folder."`
	Files  []string `arg:"" help:"Workbooks (XLSX), lists (CSV), drawings of the deck (DXF), messages (TXT, EML), pictures (JPEG, HEIC, PNG) and films; a folder stands for those in it, pictures also for those in folders within it, - for a message on standard input."`
	Accept bool     `help:"Write what was read. Without it nothing is written."`
	Clock  string   `help:"What is to be added to the times of these pictures, where the camera's clock was wrong: +1h13m, -6h." placeholder:"TIME"`
	Camera string   `help:"Only the clock of this camera was wrong, as the list names it." placeholder:"NAME"`
	Zone   string   `help:"Time zone in which the pictures were taken, if not the yard's: Europe/Lisbon, +01:00." placeholder:"ZONE"`
	Since  string   `help:"The day from which values hold that differ from the record's, or \"correction\" if they put right what was wrong from the start." placeholder:"DAY"`
	By     string   `help:"Who hands the files in." default:"owner"`
	Answer []string `help:"Answer to a question, as it is printed: its place, =, the answer." placeholder:"PLACE=ANSWER" sep:"none"`
}

func (c *intakeCmd) Run(ctx context.Context, s streams) error {
	today := calendar.Of(s.clock()())
	opt := intake.Options{Today: today, Author: c.By, Answers: map[string]string{}}
	for _, a := range c.Answer {
		id, text, ok := strings.Cut(a, "=")
		if !ok {
			return fmt.Errorf("--answer %q: write the question's place, =, and the answer", a)
		}
		opt.Answers[strings.TrimSpace(id)] = strings.TrimSpace(text)
	}
	switch c.Since {
	case "":
	case "correction":
		opt.Correct = true
	default:
		d, err := calendar.ParseDay(c.Since, today)
		if err != nil {
			return fmt.Errorf("--since: %w", err)
		}
		opt.Since = d
	}
	f, err := store.Open(ctx, c.Dir, s.clock())
	if err != nil {
		return err
	}
	defer func() { _ = f.Close() }()
	files, photos, shut, err := openFiles(c.Files, s)
	if err != nil {
		return err
	}
	defer shut()
	rec, err := f.As(ctx, today, journal.Now)
	if err != nil {
		return err
	}
	if len(files) > 0 {
		if err := c.lists(ctx, s, f, intake.Read(files, rec, opt), today); err != nil {
			return err
		}
	}
	if len(photos) == 0 {
		return nil
	}
	if len(files) > 0 && c.Accept { // the lists may bring the visits of the pictures
		if rec, err = f.As(ctx, today, journal.Now); err != nil {
			return err
		}
	}
	return c.photos(ctx, s, f, photos, rec, opt)
}

// lists prints what workbooks, lists and messages say, and writes it if that
// is asked for.
func (c *intakeCmd) lists(ctx context.Context, s streams, f *store.Folder, r *intake.Reading, today calendar.Day) error {
	if err := intake.Print(s.out, r); err != nil {
		return err
	}
	if !c.Accept {
		if len(r.Reads) > 0 {
			fmt.Fprintln(s.err, "dogshore: nothing is written yet; the same with --accept writes what was read")
		}
		return nil
	}
	if len(r.Reads) == 0 && r.Same == 0 {
		fmt.Fprintln(s.out, "Nothing new was read, so nothing is written.")
		return nil
	}
	done, err := r.Accept(ctx, f, today)
	if err != nil {
		return err
	}
	sayAccepted(s.out, c.Dir, done)
	return nil
}

func sayAccepted(w io.Writer, dir string, done intake.Accepted) {
	switch {
	case done.Batch == "":
		fmt.Fprintln(w, "Nothing new: all of it was there already.")
		return
	case done.Restored > 0:
		fmt.Fprintf(w, "Written: %d entries; %d that were undone count again.\n", done.Entries-done.Restored, done.Restored)
	default:
		fmt.Fprintf(w, "Written: %d %s.\n", done.Entries, map[bool]string{true: "entry", false: "entries"}[done.Entries == 1])
	}
	fmt.Fprintf(w, "To take all of it back: dogshore undo %s %s\n", dir, done.Batch)
}

// openFiles opens what the arguments name: files, the readable files of a
// folder in the order of their names, and standard input. Pictures are only
// found: they are opened when they are read.
func openFiles(names []string, s streams) (files []intake.File, photos []found, shut func(), err error) {
	var open []*os.File
	shut = func() {
		for _, f := range open {
			_ = f.Close()
		}
	}
	add := func(path string) error {
		f, err := os.Open(path)
		if err != nil {
			return err
		}
		open = append(open, f)
		info, err := f.Stat()
		if err != nil {
			return err
		}
		files = append(files, intake.File{Name: filepath.Base(path), Data: f, Size: info.Size()})
		return nil
	}
	var errs []error
	for _, name := range names {
		if name == "-" {
			text, err := io.ReadAll(io.LimitReader(s.in, intake.LongestMessage+1))
			errs = append(errs, err)
			files = append(files, intake.File{Name: "pasted message.txt", Data: strings.NewReader(string(text)), Size: int64(len(text))})
			continue
		}
		paths, pictures, err := expand(name)
		errs = append(errs, err)
		photos = append(photos, pictures...)
		for _, p := range paths {
			errs = append(errs, add(p))
		}
	}
	if err := errors.Join(errs...); err != nil {
		shut()
		return nil, nil, nil, err
	}
	return files, photos, shut, nil
}

// expand returns the files that an argument stands for: lists and messages,
// and pictures.
func expand(name string) (lists []string, photos []found, err error) {
	info, err := os.Stat(name)
	if err == nil && !info.IsDir() {
		if isPicture(name) {
			return nil, []found{{name, filepath.Base(name), info.Size()}}, nil
		}
		return []string{name}, nil, nil
	}
	if err == nil {
		if photos, err = picturesIn(name); err != nil {
			return nil, nil, err
		}
		name = filepath.Join(name, "*")
	}
	all, gerr := filepath.Glob(name)
	if gerr != nil || len(all) == 0 {
		if err == nil {
			err = fmt.Errorf("%s: there is no file in it", filepath.Dir(name))
		}
		return nil, nil, err
	}
	for _, p := range all {
		switch strings.ToLower(filepath.Ext(p)) {
		case ".xlsx", ".xlsm", ".dxf", ".csv", ".tsv", ".txt", ".eml":
			if !strings.HasPrefix(filepath.Base(p), ".") && !strings.HasPrefix(filepath.Base(p), "~") {
				lists = append(lists, p)
			}
		}
	}
	sort.Strings(lists)
	if len(lists)+len(photos) == 0 {
		return nil, nil, fmt.Errorf("%s: there is no workbook, list, drawing, message or picture among %d files", name, len(all))
	}
	return lists, photos, nil
}
