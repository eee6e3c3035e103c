package picture

import (
	"bytes"
	"compress/zlib"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"io"
	"runtime"
	"strings"
	"testing"
	"time"

	"dogshore/picture/heic"
)

// chunk is a piece of a PNG.
func chunk(kind string, b []byte) []byte {
	out := append(binary.BigEndian.AppendUint32(nil, uint32(len(b))), kind...)
	out = append(out, b...)
	return binary.BigEndian.AppendUint32(out, crc32.ChecksumIEEE(out[4:]))
}

// zeros is what n zeros are packed to.
func zeros(t testing.TB, n int64) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zlib.NewWriter(&b)
	if _, err := io.CopyN(z, zero{}, n); err != nil || z.Close() != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

type zero struct{}

func (zero) Read(b []byte) (int, error) { clear(b); return len(b), nil }

// A PNG that unpacks to far more than it says, in its pixels or in a note, and
// one that says that it is as large, is read and refused or shown within a few
// times its own size.
func TestBombs(t *testing.T) {
	head := func(w, h uint32) []byte {
		b := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, w), h)
		return append([]byte("\x89PNG\r\n\x1a\n"), chunk("IHDR", append(b, 8, 2, 0, 0, 0))...)
	}
	const long = 600 << 20
	bomb := zeros(t, long)
	join := func(parts ...[]byte) []byte { return bytes.Join(parts, nil) }
	end := chunk("IEND", nil)
	small := zeros(t, 40*(1+3*30))
	for _, c := range []struct {
		name string
		b    []byte
		want error // of Make
	}{
		{"more pixels than it says", join(head(30, 40), chunk("IDAT", bomb), end), ErrBroken},
		{"a note that unpacks to 600 MB", join(head(30, 40), chunk("zTXt", append([]byte("Raw profile type exif\x00\x00"), bomb...)), chunk("IDAT", small), end), nil},
		{"a colour profile that unpacks to 600 MB", join(head(30, 40), chunk("iCCP", append([]byte("p\x00\x00"), bomb...)), chunk("IDAT", small), end), nil},
		{"20,000 x 20,000 of nothing", join(head(20000, 20000), chunk("IDAT", bomb), end), ErrTooLarge},
		{"13,000 x 15,000 of nothing", join(head(13000, 15000), chunk("IDAT", bomb), end), ErrTooLarge},
	} {
		t.Run(c.name, func(t *testing.T) {
			var before, after runtime.MemStats
			runtime.ReadMemStats(&before)
			_, err := Make(t.Context(), bytes.NewReader(c.b), int64(len(c.b)))
			runtime.ReadMemStats(&after)
			if !errors.Is(err, c.want) || c.want == nil && err != nil {
				t.Errorf("%v, want %v", err, c.want)
			}
			if used := after.TotalAlloc - before.TotalAlloc; used > 64<<20 {
				t.Errorf("%d MB were taken", used>>20)
			}
		})
	}
}

// A decoder that a HEIC file leads into an endless loop, or into an endless
// answer, is ended, and the file is broken or too large.
func TestEndlessHEIC(t *testing.T) {
	if !heic.Built {
		t.Skip("built without -tags nodynamic: no HEIC here")
	}
	b := made(t, "plain.heic")
	t.Setenv("PICTURE_CHILD", "hangs")
	_, err := outside(t.Context(), bytes.NewReader(b), 300*time.Millisecond)
	if !errors.Is(err, ErrTooLarge) || !strings.Contains(err.Error(), "took longer") {
		t.Errorf("one that hangs: %v", err)
	}
	t.Setenv("PICTURE_CHILD", "floods")
	if _, err := outside(t.Context(), bytes.NewReader(b), longestChild); !errors.Is(err, ErrBroken) {
		t.Errorf("one that floods: %v", err)
	}
}

// Boxes within boxes without end are walked to a bound.
func TestEndlessBoxes(t *testing.T) {
	film := slab("ftyp", []byte("isom\x00\x00\x02\x00isommp42"))
	for range mostBoxes + 10 {
		film = append(film, slab("free", nil)...)
	}
	if _, err := read(film); !errors.Is(err, ErrBroken) || !strings.Contains(err.Error(), "boxes") {
		t.Errorf("a film of empty boxes: %v", err)
	}
}

// The end of a JPEG is found wherever what cameras append has pushed it, also
// across the pieces in which it is looked for; what has none is cut off.
func TestEndOfAJPEG(t *testing.T) {
	whole := made(t, "zone.jpg")
	for _, behind := range []int{0, 1, 4094, 4095, 4096, 5000, 256<<10 - 2, 256<<10 - 1, 256 << 10, 256<<10 + 1, 600_000, 3 << 20} {
		b := append(bytes.Clone(whole), make([]byte, behind)...)
		if _, err := read(b); err != nil {
			t.Errorf("with %d bytes behind it: %v", behind, err)
		}
		cut := append(bytes.Clone(whole[:len(whole)-1]), make([]byte, behind)...)
		if _, err := read(cut); !errors.Is(err, ErrBroken) {
			t.Errorf("without its end, with %d bytes behind it: %v", behind, err)
		}
	}
}
