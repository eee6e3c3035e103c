package picture

import (
	"bytes"
	"encoding/binary"
	"io"
)

// mostSegments bounds the walk along a JPEG's markers; a picture has some
// twenty, one with a large colour profile or depth map some hundred.
const mostSegments = 2000

// jpeg walks the segments before the picture's data: the frame header says the
// size. Then it looks for the end of the picture.
func (p *Picture) jpeg(r io.ReaderAt, size int64) error {
	at := int64(2)
	var b [18]byte
	for range mostSegments {
		if _, err := r.ReadAt(b[:4], at); err != nil || b[0] != 0xff {
			return broken("its head ends at byte %d, before the picture begins", at)
		}
		marker := b[1]
		switch {
		case marker == 0xff: // a fill byte
			at++
			continue
		case marker == 0x01 || marker >= 0xd0 && marker <= 0xd8:
			at += 2
			continue
		case marker == 0xd9:
			return broken("it ends before the picture begins")
		}
		n := int64(binary.BigEndian.Uint16(b[2:]))
		if n < 2 {
			return broken("a segment at byte %d is %d bytes long", at, n)
		}
		switch {
		case marker == 0xda:
			if p.Width == 0 {
				return broken("it does not say its size")
			}
			return ended(r, at+2+n, size)
		case marker >= 0xc0 && marker <= 0xcf && marker != 0xc4 && marker != 0xc8 && marker != 0xcc:
			if _, err := r.ReadAt(b[:8], at+2); err != nil {
				return broken("it ends within its head")
			}
			p.Height, p.Width = int(binary.BigEndian.Uint16(b[3:])), int(binary.BigEndian.Uint16(b[5:]))
			p.Progressive = marker == 0xc2
			p.Deep = b[2] > 8
			if marker > 0xc2 || p.Deep {
				return broken("it is packed in a way (%#x, %d bits) that can't be read here; save it as an ordinary JPEG", marker, b[2])
			}
		}
		at += 2 + n
	}
	return broken("it has more than %d segments", mostSegments)
}

// ended looks for the mark at the end of a JPEG's data, from byte at on. In
// the data itself the mark can't stand.
func ended(r io.ReaderAt, at, size int64) error {
	const piece = 256 << 10
	buf := make([]byte, 4<<10)
	for _, tail := range []int64{4 << 10, piece, size} { // the last bytes first: it is there in nearly all
		from := max(at, size-tail)
		if tail > 4<<10 {
			buf = make([]byte, piece+1)
		}
		if hasEnd(r, from, size, buf) {
			return nil
		}
		if from == at {
			break
		}
	}
	return broken("it is cut off: its end is missing")
}

// hasEnd looks for the mark at the end of a JPEG from byte from on, through a
// buffer that laps over by a byte.
func hasEnd(r io.ReaderAt, from, size int64, buf []byte) bool {
	for ; from < size; from += int64(len(buf) - 1) {
		n, err := r.ReadAt(buf[:min(int64(len(buf)), size-from)], from)
		if bytes.Contains(buf[:n], []byte{0xff, 0xd9}) {
			return true
		}
		if err != nil {
			return false
		}
	}
	return false
}
