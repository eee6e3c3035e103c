package picture

import (
	"encoding/binary"
	"io"
)

// mostChunks bounds the walk along a PNG's chunks.
const mostChunks = 200_000

// png reads the head of a PNG and walks its chunks to the end.
func (p *Picture) png(r io.ReaderAt, size int64) error {
	var b [26]byte
	if _, err := r.ReadAt(b[:], 0); err != nil || string(b[12:16]) != "IHDR" {
		return broken("it does not begin with its head")
	}
	w, h := binary.BigEndian.Uint32(b[16:]), binary.BigEndian.Uint32(b[20:])
	if w > 1<<30 || h > 1<<30 {
		return broken("it says that it is %d x %d pixels", w, h)
	}
	p.Width, p.Height, p.Deep = int(w), int(h), b[24] > 8
	for at, n := int64(8), 0; n < mostChunks; n++ {
		if _, err := r.ReadAt(b[:8], at); err != nil {
			return broken("it is cut off: its end is missing")
		}
		if string(b[4:8]) == "IEND" {
			return nil
		}
		at += 12 + int64(binary.BigEndian.Uint32(b[:]))
		if at > size {
			return broken("it is cut off: its end is missing")
		}
	}
	return broken("it has more than %d chunks", mostChunks)
}
