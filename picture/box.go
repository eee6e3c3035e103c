package picture

import (
	"encoding/binary"
	"io"
	"math"
	"time"
)

// box is one box of an ISO base media file: HEIC, MP4, QuickTime.
type box struct {
	kind    string
	at, end int64 // of what is in it
}

// mostBoxes bounds the walk along boxes, those within others counted.
const mostBoxes = 20_000

// boxes walks the boxes between two places of a file.
type boxes struct {
	r    io.ReaderAt
	left int
}

// each calls do for every box from at to end, until do returns false. It is an
// error if a box is longer than what it lies in.
func (w *boxes) each(at, end int64, do func(b box) bool) error {
	var head [16]byte
	for at+8 <= end {
		if w.left--; w.left < 0 {
			return broken("it has more than %d boxes", mostBoxes)
		}
		if _, err := w.r.ReadAt(head[:8], at); err != nil {
			return broken("it is cut off at byte %d", at)
		}
		n, skip := uint64(binary.BigEndian.Uint32(head[:])), int64(8)
		switch n {
		case 0: // to the end
			n = uint64(end - at)
		case 1:
			if _, err := w.r.ReadAt(head[8:], at+8); err != nil {
				return broken("it is cut off at byte %d", at)
			}
			n, skip = binary.BigEndian.Uint64(head[8:]), 16
		}
		if n < uint64(skip) || n > uint64(end-at) {
			return broken("it is cut off: a piece of %d bytes begins at byte %d of %d", n, at, end)
		}
		if !do(box{string(head[4:8]), at + skip, at + int64(n)}) {
			return nil
		}
		at += int64(n)
	}
	return nil
}

// heic reads the size of the largest picture in the file: that of a grid is
// larger than that of its tiles.
func (p *Picture) heic(r io.ReaderAt, size int64) error {
	w := &boxes{r, mostBoxes}
	var inner error
	within := func(b box, skip int64, kind string, do func(b box)) {
		err := w.each(b.at+skip, b.end, func(c box) bool {
			if c.kind == kind {
				do(c)
			}
			return true
		})
		if inner == nil {
			inner = err
		}
	}
	most := uint64(0)
	err := w.each(0, size, func(b box) bool {
		if b.kind != "meta" {
			return true
		}
		within(b, 4, "iprp", func(b box) {
			within(b, 0, "ipco", func(b box) {
				within(b, 0, "ispe", func(b box) {
					var s [12]byte
					if _, err := r.ReadAt(s[:], b.at); err != nil || b.end-b.at < 12 {
						return
					}
					x, y := uint64(binary.BigEndian.Uint32(s[4:])), uint64(binary.BigEndian.Uint32(s[8:]))
					if x < math.MaxInt32 && y < math.MaxInt32 && x*y > most {
						most, p.Width, p.Height = x*y, int(x), int(y)
					}
				})
			})
		})
		return true
	})
	switch {
	case err != nil:
		return err
	case inner != nil:
		return inner
	case most == 0:
		return broken("it does not say its size")
	}
	return nil
}

// quickTime is when the clock of MP4 and QuickTime files begins.
var quickTime = time.Date(1904, 1, 1, 0, 0, 0, 0, time.UTC)

// film reads when a film was taken. A film that is not made of boxes does not
// say it here.
func (p *Picture) film(r io.ReaderAt, size int64) error {
	var head [8]byte
	if _, err := r.ReadAt(head[:], 0); err != nil {
		return broken("it is cut off at its head")
	}
	if string(head[:4]) == "RIFF" || head[0] == 0x1a {
		return nil
	}
	w := &boxes{r, mostBoxes}
	var inner error
	err := w.each(0, size, func(b box) bool {
		if b.kind == "moov" {
			inner = w.each(b.at, b.end, func(b box) bool {
				if b.kind == "mvhd" {
					p.Taken = filmed(r, b)
				}
				return b.kind != "mvhd"
			})
		}
		return b.kind != "moov"
	})
	if err == nil {
		err = inner
	}
	return err
}

// filmed reads the time in a film's head, which is in UTC.
func filmed(r io.ReaderAt, b box) Taken {
	var s [12]byte
	if _, err := r.ReadAt(s[:], b.at); err != nil || b.end-b.at < 12 {
		return Taken{}
	}
	n := uint64(binary.BigEndian.Uint32(s[4:]))
	if s[0] == 1 {
		n = binary.BigEndian.Uint64(s[4:])
	}
	if n == 0 || n > 1<<33 {
		return Taken{}
	}
	return Taken{Wall: quickTime.Add(time.Duration(n) * time.Second), HasZone: true}
}
