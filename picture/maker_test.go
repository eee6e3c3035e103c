package picture

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"sync"
	"testing"

	"dogshore/record"
)

// shelf is a Keeper in memory that counts.
type shelf struct {
	mu    sync.Mutex
	files map[string][]byte
	small map[string][]byte
	opens int
	full  func() // called when a screen size was put
}

type file struct{ *bytes.Reader }

func (file) Close() error { return nil }

func (s *shelf) File(f record.File) (io.ReadSeekCloser, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	b, ok := s.files[f.SHA256]
	if !ok {
		return nil, os.ErrNotExist
	}
	s.opens++
	return file{bytes.NewReader(b)}, nil
}

func (s *shelf) Small(f record.File, name string) ([]byte, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	b, ok := s.small[f.SHA256+name]
	if !ok {
		return nil, os.ErrNotExist
	}
	return b, nil
}

func (s *shelf) PutSmall(f record.File, name string, b []byte) error {
	s.mu.Lock()
	s.small[f.SHA256+name] = b
	full := s.full
	s.mu.Unlock()
	if name == ScreenName && full != nil {
		full()
	}
	return nil
}

func stocked(t *testing.T, n int) (*shelf, []record.File) {
	s := &shelf{files: map[string][]byte{}, small: map[string][]byte{}}
	var all []record.File
	for i := range n {
		f := record.File{SHA256: fmt.Sprint("p", i), Name: fmt.Sprint(i, ".jpg")}
		s.files[f.SHA256] = made(t, "zone.jpg")
		all = append(all, f)
	}
	return s, all
}

func (s *shelf) screens() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	n := 0
	for k := range s.small {
		if len(k) > len(ScreenName) && k[len(k)-len(ScreenName):] == ScreenName {
			n++
		}
	}
	return n
}

func TestMakerMakesEachOnce(t *testing.T) {
	s, all := stocked(t, 12)
	s.files["p3"] = made(t, "zone.jpg")[:3000]
	m := NewMaker(s)
	defer m.Close()
	m.Want(all...)
	m.Want(all...)
	if err := m.Wait(t.Context()); err != nil {
		t.Fatal(err)
	}
	if p := m.Progress(); p != (Progress{All: 12, Done: 12, Broken: 1}) {
		t.Errorf("%+v", p)
	}
	if s.screens() != 11 || s.opens != 12 {
		t.Errorf("%d made, %d opened", s.screens(), s.opens)
	}
	if Why(s, all[3]) == "" || Why(s, all[4]) != "" {
		t.Error("why a picture can't be made is not kept")
	}
	// Another program on the same folder makes nothing again, the broken one
	// included.
	again := NewMaker(s)
	defer again.Close()
	again.Want(all...)
	if err := again.Wait(t.Context()); err != nil {
		t.Fatal(err)
	}
	if p := again.Progress(); p.Done != 12 || p.Broken != 1 || s.opens != 12 {
		t.Errorf("%+v, %d opened", p, s.opens)
	}
}

// Stopped in the middle, it keeps what is made, and goes on from there.
func TestMakerStopsAndGoesOn(t *testing.T) {
	s, all := stocked(t, 40)
	m := NewMaker(s)
	defer m.Close()
	third := make(chan struct{})
	n := 0
	s.full = func() {
		s.mu.Lock()
		n++
		at := n
		s.mu.Unlock()
		if at == 3 {
			m.Stop()
			close(third)
		}
	}
	m.Want(all...)
	<-third
	if err := m.Wait(t.Context()); err != nil {
		t.Fatal(err)
	}
	first := s.screens()
	if p := m.Progress(); first < 3 || first >= 40 || !p.Stopped || p.Done > first {
		t.Fatalf("%d made, %+v", first, p)
	}
	opens := s.opens
	m.Go()
	if err := m.Wait(t.Context()); err != nil {
		t.Fatal(err)
	}
	if p := m.Progress(); s.screens() != 40 || p.Done != 40 || p.Stopped {
		t.Errorf("%d made, %+v", s.screens(), p)
	}
	if s.opens-opens > 40-first+2 {
		t.Errorf("%d were opened for the %d that were left", s.opens-opens, 40-first)
	}
}

func TestMakerEndsWithItsContext(t *testing.T) {
	s, all := stocked(t, 30)
	m := NewMaker(s)
	defer m.Close()
	ctx, cancel := context.WithCancel(t.Context())
	s.full = cancel
	m.Want(all...)
	if err := m.Wait(ctx); !errors.Is(err, context.Canceled) {
		t.Errorf("%v", err)
	}
	if n := s.screens(); n == 30 {
		t.Error("it went on to the end")
	}
}

// The preview of the camera is shown until the better one is there.
func TestQuick(t *testing.T) {
	s, all := stocked(t, 1)
	b, final, err := Quick(s, all[0])
	if err != nil || final {
		t.Fatalf("before: %v, final %v", err, final)
	}
	corners(t, b, "the preview")
	if err := Kept(t.Context(), s, all[0]); err != nil {
		t.Fatal(err)
	}
	better, final, err := Quick(s, all[0])
	if err != nil || !final || bytes.Equal(better, b) {
		t.Errorf("after: %v, final %v", err, final)
	}
	s.files["p0"] = made(t, "stripped.jpg")
	delete(s.small, "p0"+ThumbName)
	if _, _, err := Quick(s, all[0]); !errors.Is(err, ErrNoPreview) {
		t.Errorf("without a preview: %v", err)
	}
}
