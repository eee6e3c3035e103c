package main

import (
	"context"
	"errors"
	"io"
	"time"

	"github.com/alecthomas/kong"
)

// commands is the command line. Each command is a struct in a file of its own
// with a Run method; results go to streams.out, all else to streams.err.
type commands struct {
	Demo       demoCmd       `cmd:"" help:"Make the demo builds, print the review and serve the pages."`
	New        newCmd        `cmd:"" help:"Start a build folder."`
	Open       openCmd       `cmd:"" help:"Serve the pages of a build folder."`
	Passphrase passphraseCmd `cmd:"" help:"Set the passphrase that lets other computers and phones in."`
	Review     reviewCmd     `cmd:"" help:"Print what to look at, ask and settle next."`
	Deck       deckCmd       `cmd:"" help:"Print what each arrangement of the lines on deck leaves open."`
	Workbook   workbookCmd   `cmd:"" help:"Write the build as a workbook, a sheet for each kind."`
	Intake     intakeCmd     `cmd:"" help:"Read workbooks, CSV files and messages into the record."`
	Undo       undoCmd       `cmd:"" help:"Strike everything that one intake wrote."`
	Letter     letterCmd     `cmd:"" help:"Print the draft of the letter after the last visit, or write it for paper."`
	Diary      diaryCmd      `cmd:"" help:"Write all visits as an archive that opens without the program, to keep or to share."`
	Calendar   calendarCmd   `cmd:"" help:"Print the build's dates for an ordinary calendar program (RFC 5545)."`
	Sheet      sheetCmd      `cmd:"" help:"Write the start sheet or the walking sheet, for paper or as a workbook."`
	Work       workCmd       `cmd:"" help:"Run one engine on a case from standard input."`
}

// streams are where a command reads and writes, and its clock.
type streams struct {
	in       io.Reader
	out, err io.Writer
	now      func() time.Time // nil means time.Now
}

// clock returns the command's clock.
func (s streams) clock() func() time.Time {
	if s.now != nil {
		return s.now
	}
	return time.Now
}

// Exit codes: 0 done, 1 failed, 2 asked for in a way that makes no sense, 130
// interrupted.
const (
	exitDone        = 0
	exitFailed      = 1
	exitUsage       = 2
	exitInterrupted = 130
)

func run(ctx context.Context, args []string, s streams) int {
	var c commands
	exited := -1
	k, err := kong.New(&c,
		kong.Name("dogshore"),
		kong.Description("Holds a boat build for the person who commissioned it: what stands where, what the next step closes in, what must be settled by when."),
		kong.Writers(s.out, s.err),
		kong.Exit(func(code int) { exited = code }),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Bind(s),
	)
	if err != nil {
		fail(s, err)
		return exitFailed
	}
	p, err := k.Parse(args)
	if exited >= 0 {
		return exited
	}
	if err != nil {
		fail(s, err)
		return exitUsage
	}
	err = p.Run()
	switch {
	case err == nil:
		return exitDone
	case errors.Is(err, context.Canceled):
		return exitInterrupted
	}
	fail(s, err)
	return exitFailed
}
