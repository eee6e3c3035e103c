package picture

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"os/exec"
	"strings"
	"sync/atomic"
	"time"

	"dogshore/picture/heic"
)

// HEIC is decoded by a large piece of foreign code, in WebAssembly, which can
// neither be interrupted nor held to a budget from outside. So this program
// starts itself once more for each such picture, hands it the file, takes two
// JPEGs back, and ends it when it takes too long. One runs at a time.

const (
	childMark    = "DOGSHORE_HEIC_CHILD" // set for the process that decodes
	longestChild = 90 * time.Second      // 12 million pixels take 4 to 7 s
	longestBack  = 8 << 20               // bytes of each JPEG that comes back
	longestSays  = 2000                  // bytes of an error that comes back
)

// ErrNoHEIC is returned where HEIC can't be decoded: in a program built
// without it.
var ErrNoHEIC = errors.New("this program was built without HEIC (see picture/heic): the picture is kept, and can't be shown")

var (
	armed    atomic.Bool // the program has called Child, so that starting it again leads there
	oneAHEIC = make(chan struct{}, 1)
)

// Child must be called first thing in main. In the process that was started
// to decode one HEIC picture it does so and reports true: main must then
// return its code. In any other it only notes that it was called.
func Child(in io.Reader, out, says io.Writer) (code int, child bool) {
	if os.Getenv(childMark) == "" {
		armed.Store(true)
		return 0, false
	}
	if err := decodeHEIC(in, out); err != nil {
		fmt.Fprint(says, err)
		return 1, true
	}
	return 0, true
}

// DecodesHEIC reports whether this program can decode HEIC pictures.
func DecodesHEIC() bool { return heic.Built && armed.Load() }

func decodeHEIC(in io.Reader, out io.Writer) error {
	heic.Bound(budget * 2)
	img, err := heic.Decode(io.LimitReader(in, LongestPicture))
	if err != nil {
		return err
	}
	s, err := small(img, 1)
	if err != nil {
		return err
	}
	for _, b := range [][]byte{s.Screen, s.Thumb} {
		if err := binary.Write(out, binary.BigEndian, uint32(len(b))); err != nil {
			return err
		}
		if _, err := out.Write(b); err != nil {
			return err
		}
	}
	return nil
}

// outside has a HEIC picture decoded by a process of its own, which is ended
// after longest.
func outside(ctx context.Context, r io.Reader, longest time.Duration) (Small, error) {
	if !DecodesHEIC() {
		return Small{}, ErrNoHEIC
	}
	select {
	case oneAHEIC <- struct{}{}:
		defer func() { <-oneAHEIC }()
	case <-ctx.Done():
		return Small{}, ctx.Err()
	}
	self, err := os.Executable()
	if err != nil {
		return Small{}, err
	}
	within, cancel := context.WithTimeout(ctx, longest)
	defer cancel()
	var out, says bytes.Buffer
	cmd := exec.CommandContext(within, self)
	cmd.Env = append(os.Environ(), childMark+"=1", "GOMAXPROCS=1")
	cmd.Stdin = r
	cmd.Stdout = &bounded{&out, 2 * longestBack}
	cmd.Stderr = &bounded{&says, longestSays}
	cmd.WaitDelay = 5 * time.Second
	err = cmd.Run()
	switch {
	case ctx.Err() != nil:
		return Small{}, ctx.Err()
	case within.Err() != nil:
		return Small{}, fmt.Errorf("%w: decoding it took longer than %s", ErrTooLarge, longest)
	case err != nil:
		return Small{}, broken("it can't be decoded: %s", firstLine(says.String(), err))
	}
	return back(&out)
}

func firstLine(says string, err error) string {
	if line, _, _ := strings.Cut(says, "\n"); line != "" {
		return strings.ToValidUTF8(line, "")
	}
	return err.Error()
}

// back reads what the other process made, and checks that it is two JPEGs.
func back(r *bytes.Buffer) (Small, error) {
	var s Small
	for _, b := range []*[]byte{&s.Screen, &s.Thumb} {
		var n uint32
		if err := binary.Read(r, binary.BigEndian, &n); err != nil || int(n) > r.Len() {
			return Small{}, broken("it can't be decoded: what came back is not whole")
		}
		*b = bytes.Clone(r.Next(int(n)))
		if Sniff(*b) != JPEG {
			return Small{}, broken("it can't be decoded: what came back is no picture")
		}
	}
	return s, nil
}

// bounded keeps what is written up to a length and fails beyond it.
type bounded struct {
	to   *bytes.Buffer
	left int
}

func (b *bounded) Write(p []byte) (int, error) {
	if len(p) > b.left {
		return 0, errors.New("too much came back")
	}
	b.left -= len(p)
	return b.to.Write(p)
}
