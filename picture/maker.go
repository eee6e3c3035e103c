package picture

import (
	"context"
	"errors"
	"fmt"
	"io"
	"path"
	"runtime"
	"sort"
	"strings"
	"sync"

	"dogshore/journal"
	"dogshore/record"
)

// Keeper is what making small pictures needs of a build folder.
type Keeper interface {
	File(file record.File) (io.ReadSeekCloser, error)
	Small(file record.File, name string) ([]byte, error) // an error if it is not there
	PutSmall(file record.File, name string, b []byte) error
}

// The names under which small pictures are kept beside an original. In place
// of those that can't be made stands why.
const (
	ThumbName  = "320.jpg"
	ScreenName = "1600.jpg"
	whyName    = "why.txt"
)

// NameOf is the name of a size.
func NameOf(s Size) string {
	if s == Thumb {
		return ThumbName
	}
	return ScreenName
}

// Kept makes the small pictures of one and keeps them, unless they are there.
// Why a picture can't be made small is kept too, so that it is not tried at
// every start; ErrBroken and the like are then returned at once.
func Kept(ctx context.Context, k Keeper, file record.File) error {
	if _, err := k.Small(file, ScreenName); err == nil {
		return nil
	}
	if why, err := k.Small(file, whyName); err == nil {
		return fmt.Errorf("%w: %s", ErrBroken, why)
	}
	r, size, err := opened(k, file)
	if err != nil {
		return err
	}
	defer func() { _ = r.Close() }() // only read
	s, err := Make(ctx, r, size)
	switch {
	case errors.Is(err, ErrBroken), errors.Is(err, ErrTooLarge), errors.Is(err, ErrNotPicture):
		return errors.Join(err, k.PutSmall(file, whyName, []byte(err.Error())))
	case err != nil:
		return err
	}
	if err := k.PutSmall(file, ThumbName, s.Thumb); err != nil {
		return err
	}
	return k.PutSmall(file, ScreenName, s.Screen) // last: where it is, all is
}

// Quick returns a thumbnail at once: the kept one, else one of the preview that
// the camera put into the file. final says that no better one will come.
func Quick(k Keeper, file record.File) (b []byte, final bool, err error) {
	if b, err := k.Small(file, ThumbName); err == nil {
		return b, true, nil
	}
	r, size, err := opened(k, file)
	if err != nil {
		return nil, false, err
	}
	defer func() { _ = r.Close() }() // only read
	b, err = Preview(r, size)
	return b, false, err
}

// Slow reports whether a picture takes seconds to make small: HEIC does. Only
// its head is read.
func Slow(k Keeper, file record.File) (bool, error) {
	r, _, err := opened(k, file)
	if err != nil {
		return false, err
	}
	defer func() { _ = r.Close() }() // only read
	head := make([]byte, sniffed)
	n, err := r.ReadAt(head, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return false, err
	}
	return Sniff(head[:n]) == HEIC, nil
}

// Why returns why a picture has no small ones, "" if nothing is known against
// it.
func Why(k Keeper, file record.File) string {
	b, err := k.Small(file, whyName)
	if err != nil {
		return ""
	}
	return string(b)
}

// atSeeker reads at places of a file that can only seek.
type atSeeker struct {
	io.ReadSeekCloser
	mu sync.Mutex
}

func (a *atSeeker) ReadAt(b []byte, at int64) (int, error) {
	a.mu.Lock()
	defer a.mu.Unlock()
	if _, err := a.Seek(at, io.SeekStart); err != nil {
		return 0, err
	}
	n, err := io.ReadFull(a.ReadSeekCloser, b)
	if errors.Is(err, io.ErrUnexpectedEOF) {
		err = io.EOF
	}
	return n, err
}

// ReaderAtCloser is an open file.
type ReaderAtCloser interface {
	io.ReaderAt
	io.Closer
}

func opened(k Keeper, file record.File) (ReaderAtCloser, int64, error) {
	in, err := k.File(file)
	if err != nil {
		return nil, 0, err
	}
	size, err := in.Seek(0, io.SeekEnd)
	if err != nil {
		return nil, 0, errors.Join(err, in.Close())
	}
	if r, ok := in.(ReaderAtCloser); ok {
		return r, size, nil
	}
	return &atSeeker{ReadSeekCloser: in}, size, nil
}

// Files lists the pictures of a record that can be made small, the latest
// first. Films are not among them.
func Files(rec *journal.Record) []record.File {
	photos := journal.All[record.Photo](rec)
	sort.SliceStable(photos, func(i, k int) bool { return photos[i].Day > photos[k].Day })
	var out []record.File
	for _, p := range photos {
		if p.File.Known() && !IsFilm(p.File.Name) {
			out = append(out, p.File)
		}
	}
	return out
}

// IsFilm tells a film by the ending of its name, where its content was looked
// into before.
func IsFilm(name string) bool {
	switch strings.ToLower(path.Ext(name)) {
	case ".mp4", ".mov", ".m4v", ".3gp", ".avi", ".mkv", ".webm":
		return true
	}
	return false
}

// Progress is how far a Maker is.
type Progress struct {
	All     int  `json:"all"`  // pictures it was given
	Done    int  `json:"done"` // of them, those that are made or can't be
	Broken  int  `json:"broken"`
	Stopped bool `json:"stopped"`
}

// Maker makes small pictures in the background, those of JPEG and PNG on as
// many cores as there are, HEIC one at a time. Nothing is lost when it is
// stopped or the program ends: what is made is kept, and the rest is made
// when it is wanted again.
type Maker struct {
	Told func(done, all int) // called after each; nil calls nothing. To be set before Want.

	keeper Keeper
	ctx    context.Context
	end    context.CancelFunc
	work   sync.WaitGroup

	mu       sync.Mutex
	known    map[string]bool
	waiting  []record.File
	running  int
	progress Progress
	stop     context.CancelFunc // of what is being made
	run      context.Context
}

// NewMaker returns a Maker that is at rest until pictures are wanted.
func NewMaker(k Keeper) *Maker {
	m := &Maker{keeper: k, known: map[string]bool{}}
	m.ctx, m.end = context.WithCancel(context.Background())
	m.run, m.stop = context.WithCancel(m.ctx)
	return m
}

// Want asks for the small pictures of files. Those wanted last are made first:
// they are what somebody looks at.
func (m *Maker) Want(files ...record.File) {
	m.mu.Lock()
	defer m.mu.Unlock()
	for i := len(files) - 1; i >= 0; i-- {
		f := files[i]
		if f.Known() && !m.known[f.SHA256] {
			m.known[f.SHA256] = true
			m.progress.All++
			m.waiting = append(m.waiting, f)
		}
	}
	m.start()
}

// start starts as many workers as there is work for. m.mu is held.
func (m *Maker) start() {
	for !m.progress.Stopped && m.ctx.Err() == nil && m.running < min(runtime.NumCPU(), len(m.waiting)+m.running) && len(m.waiting) > 0 {
		m.running++
		m.work.Add(1)
		f := m.waiting[len(m.waiting)-1]
		m.waiting = m.waiting[:len(m.waiting)-1]
		go m.makes(m.run, f)
	}
}

// makes makes one picture after the other.
func (m *Maker) makes(ctx context.Context, f record.File) {
	defer m.work.Done()
	for {
		err := Kept(ctx, m.keeper, f)
		m.mu.Lock()
		if ctx.Err() != nil { // not made: it waits for the next start
			m.waiting = append(m.waiting, f)
			m.running--
			m.start()
			m.mu.Unlock()
			return
		}
		m.progress.Done++
		if err != nil {
			m.progress.Broken++
		}
		if m.Told != nil {
			m.Told(m.progress.Done, m.progress.All)
		}
		if m.progress.Stopped || len(m.waiting) == 0 {
			m.running--
			m.mu.Unlock()
			return
		}
		f = m.waiting[len(m.waiting)-1]
		m.waiting = m.waiting[:len(m.waiting)-1]
		m.mu.Unlock()
	}
}

// Progress says how far it is.
func (m *Maker) Progress() Progress {
	m.mu.Lock()
	defer m.mu.Unlock()
	return m.progress
}

// Stop stops making; Go goes on.
func (m *Maker) Stop() {
	m.mu.Lock()
	defer m.mu.Unlock()
	m.progress.Stopped = true
	m.stop()
}

// Go goes on after Stop.
func (m *Maker) Go() {
	m.mu.Lock()
	defer m.mu.Unlock()
	if !m.progress.Stopped || m.ctx.Err() != nil {
		return
	}
	m.progress.Stopped = false
	m.run, m.stop = context.WithCancel(m.ctx)
	m.start()
}

// Close ends it and waits until nothing runs any more.
func (m *Maker) Close() {
	m.end()
	m.work.Wait()
}

// Wait waits until everything wanted is made or it is stopped. When ctx ends it
// stops what runs and returns; what is made is kept.
func (m *Maker) Wait(ctx context.Context) error {
	idle := make(chan struct{})
	go func() { m.work.Wait(); close(idle) }()
	select {
	case <-idle:
		return nil
	case <-ctx.Done():
		m.Stop()
		<-idle
		return ctx.Err()
	}
}
