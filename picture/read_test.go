package picture

import (
	"bytes"
	"encoding/binary"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
)

// What ExifTool, ImageMagick and heif-enc wrote (testdata/README.md), by the
// arguments they were called with.
func TestReadWhatOthersWrote(t *testing.T) {
	wall := func(s string) time.Time {
		at, err := time.Parse("2006-01-02 15:04:05", s)
		if err != nil {
			t.Fatal(err)
		}
		return at
	}
	for _, c := range []struct {
		name string
		want Picture
	}{
		{"zone.jpg", Picture{Format: JPEG, Width: 640, Height: 480, Orientation: 1, Camera: "Invented Box 3", HasPosition: true, Taken: Taken{wall("2026-03-11 14:05:31"), true, 3600}}},
		{"nozone.jpg", Picture{Format: JPEG, Width: 640, Height: 480, Orientation: 1, Camera: "Box 3", Taken: Taken{Wall: wall("2026-07-01 09:30:00")}}},
		{"stripped.jpg", Picture{Format: JPEG, Width: 640, Height: 480, Orientation: 1}},
		{"time.png", Picture{Format: PNG, Width: 48, Height: 32, Orientation: 6, Taken: Taken{wall("2026-05-06 11:00:00"), true, 7200}}},
		{"time.heic", Picture{Format: HEIC, Width: 192, Height: 128, Orientation: 1, HasPosition: true, Taken: Taken{wall("2026-06-17 10:15:00"), true, 7200}}},
		{"plain.heic", Picture{Format: HEIC, Width: 192, Height: 128, Orientation: 1}},
		{"progressive.jpg", Picture{Format: JPEG, Width: 200, Height: 100, Orientation: 1, Progressive: true}},
		{"gray.jpg", Picture{Format: JPEG, Width: 48, Height: 32, Orientation: 1}},
		{"cmyk.jpg", Picture{Format: JPEG, Width: 48, Height: 32, Orientation: 1}},
		{"deep.png", Picture{Format: PNG, Width: 40, Height: 30, Orientation: 1, Deep: true}},
		{"turn-6.jpg", Picture{Format: JPEG, Width: 32, Height: 48, Orientation: 6}},
	} {
		t.Run(c.name, func(t *testing.T) {
			got, err := read(made(t, c.name))
			if err != nil {
				t.Fatal(err)
			}
			got.preview = span{}
			if got != c.want {
				t.Errorf("got  %+v\nwant %+v", got, c.want)
			}
		})
	}
}

// Whatever is wrong with a file is said, and nothing of it is decoded.
func TestBrokenAndHostile(t *testing.T) {
	zone, plain := made(t, "zone.jpg"), made(t, "time.png")
	sof := bytes.LastIndex(zone, []byte{0xff, 0xc0})
	huge := bytes.Clone(zone)
	binary.BigEndian.PutUint16(huge[sof+5:], 60000)
	binary.BigEndian.PutUint16(huge[sof+7:], 60000)
	hugePNG := bytes.Clone(plain)
	binary.BigEndian.PutUint32(hugePNG[16:], 60000)
	binary.BigEndian.PutUint32(hugePNG[20:], 60000)
	hugeHEIC := bytes.Clone(made(t, "plain.heic"))
	ispe := bytes.Index(hugeHEIC, []byte("ispe"))
	binary.BigEndian.PutUint32(hugeHEIC[ispe+8:], 60000)
	binary.BigEndian.PutUint32(hugeHEIC[ispe+12:], 60000)
	arithmetic := bytes.Clone(zone)
	arithmetic[sof+1] = 0xc9
	none := bytes.Clone(plain)
	binary.BigEndian.PutUint32(none[16:], 0)
	for _, c := range []struct {
		name string
		b    []byte
		want error
		says string
	}{
		{"JPEG of 60,000 x 60,000", huge, ErrTooLarge, "60000 x 60000"},
		{"PNG of 60,000 x 60,000", hugePNG, ErrTooLarge, "60000 x 60000"},
		{"HEIC of 60,000 x 60,000", hugeHEIC, ErrTooLarge, "60000 x 60000"},
		{"JPEG cut off", zone[:len(zone)*2/3], ErrBroken, "cut off"},
		{"JPEG cut off in its head", zone[:40], ErrBroken, "head"},
		{"PNG cut off", plain[:len(plain)-20], ErrBroken, "cut off"},
		{"HEIC cut off", made(t, "time.heic")[:700], ErrBroken, "cut off"},
		{"arithmetic coding", arithmetic, ErrBroken, "packed"},
		{"PNG without width", none, ErrBroken, "0 x"},
		{"WebP called JPEG", made(t, "webp.jpg"), ErrNotPicture, "WebP"},
		{"a page called JPEG", []byte("<html><script>alert(1)</script>"), ErrNotPicture, "page"},
		{"a drawing in text", []byte(`<svg xmlns="http://www.w3.org/2000/svg"/>`), ErrNotPicture, "drawing"},
		{"nothing", nil, ErrNotPicture, "empty"},
		{"a program", []byte("\x7fELF\x02\x01\x01"), ErrNotPicture, "nothing in it"},
	} {
		t.Run(c.name, func(t *testing.T) {
			_, err := read(c.b)
			if !errors.Is(err, c.want) || !strings.Contains(err.Error(), c.says) {
				t.Errorf("got %v; want %v that says %q", err, c.want, c.says)
			}
			if _, err := Make(t.Context(), bytes.NewReader(c.b), int64(len(c.b))); err == nil {
				t.Error("it was made small")
			}
		})
	}
	if _, err := Read(bytes.NewReader(zone), LongestPicture+1); !errors.Is(err, ErrTooLarge) {
		t.Errorf("a file of more than the bound: %v", err)
	}
}

// A picture that its packing makes dear is refused by what it would take, not
// by its size: what the budget is for.
func TestBudget(t *testing.T) {
	p := Picture{Format: JPEG, Width: 12000, Height: 9000}
	if p.cost() > budget {
		t.Errorf("108 megapixels of an ordinary JPEG would take %d MB", p.cost()>>20)
	}
	if p.Progressive = true; p.cost() <= budget {
		t.Errorf("108 megapixels of a progressive JPEG would take only %d MB", p.cost()>>20)
	}
}

func TestCorruptDataIsSaid(t *testing.T) {
	b := bytes.Clone(made(t, "zone.jpg"))
	for i := len(b) / 2; i < len(b)-2; i++ { // its head stays whole
		b[i] = 0x55
	}
	if _, err := read(b); err != nil {
		t.Fatal("the head was read wrongly:", err)
	}
	p := bytes.Clone(made(t, "deep.png"))
	at := bytes.Index(p, []byte("IDAT")) + 10
	p[at] ^= 0xff
	if _, err := Make(t.Context(), bytes.NewReader(p), int64(len(p))); !errors.Is(err, ErrBroken) {
		t.Errorf("a PNG whose data is corrupt: %v", err)
	}
}

// A film says its time in UTC: boxes made here after ISO/IEC 14496-12.
func TestFilm(t *testing.T) {
	at := time.Date(2026, 6, 3, 9, 30, 0, 0, time.UTC)
	since := uint32(at.Sub(quickTime) / time.Second)
	mvhd := append(make([]byte, 4), binary.BigEndian.AppendUint32(nil, since)...)
	mvhd = append(mvhd, make([]byte, 92)...)
	film := slab("ftyp", []byte("isom\x00\x00\x02\x00isommp42"))
	film = append(film, slab("mdat", make([]byte, 100))...)
	film = append(film, slab("moov", slab("mvhd", mvhd))...)
	p, err := read(film)
	if err != nil || p.Format != Film || !p.Taken.HasZone || !p.Taken.Wall.Equal(at) {
		t.Errorf("%+v, %v", p, err)
	}
	if _, err := read(film[:len(film)-60]); !errors.Is(err, ErrBroken) {
		t.Errorf("cut off: %v", err)
	}
}

// What FFmpeg wrote, by the time that it was given (testdata/README.md); of a
// WebM, and of an MP4 without one, no time is known.
func TestFilmsOfOthers(t *testing.T) {
	at := time.Date(2026, 6, 17, 8, 15, 0, 0, time.UTC)
	for name, want := range map[string]Taken{"film.mp4": {Wall: at, HasZone: true}, "notime.mp4": {}, "film.webm": {}} {
		p, err := read(made(t, name))
		if err != nil || p.Format != Film || p.Taken != want {
			t.Errorf("%s: %+v, %v", name, p, err)
		}
	}
	b := made(t, "film.mp4")
	if _, err := read(b[:len(b)-40]); !errors.Is(err, ErrBroken) {
		t.Errorf("cut off: %v", err)
	}
}

// A film says its time in UTC; at the yard it is that of its clocks, and a
// still taken out of it is so much later.
func TestStillIsLater(t *testing.T) {
	z, err := ParseZone("Europe/Lisbon") // an hour ahead of UTC in June
	if err != nil {
		t.Fatal(err)
	}
	p, err := read(made(t, "film.mp4"))
	if err != nil {
		t.Fatal(err)
	}
	day := calendar.Date(2026, 6, 17)
	got := Sort([]Shot{{Name: "film.mp4", Taken: p.Taken, Film: true}}, []Visit{{Key: "v", Day: day, By: "owner"}}, Clock{}, z)[0]
	if got.Visit != "v" || got.Day != day || got.Time != "09:15:00 +01:00" || got.Doubt != "" {
		t.Fatalf("sorted to %+v", got)
	}
	for _, c := range []struct {
		at   string
		by   time.Duration
		day  calendar.Day
		want string
	}{
		{got.Time, 62400 * time.Millisecond, day, "09:16:02 +01:00"},
		{"23:59:30", time.Minute, day + 1, "00:00:30"},
		{"14:05", 90 * time.Second, day, "14:06"},
		{"in the evening", time.Minute, day, ""},
		{"", time.Minute, day, ""},
	} {
		if d, at := Later(day, c.at, c.by); d != c.day || at != c.want {
			t.Errorf("%s after %q: %s %q, want %s %q", c.by, c.at, d, at, c.day, c.want)
		}
	}
}

func slab(kind string, b []byte) []byte {
	return append(append(binary.BigEndian.AppendUint32(nil, uint32(8+len(b))), kind...), b...)
}

func FuzzRead(f *testing.F) {
	for _, name := range []string{"zone.jpg", "time.png", "time.heic", "progressive.jpg", "turn-6.jpg", "webp.jpg"} {
		f.Add(made(f, name))
	}
	f.Add(slab("ftyp", []byte("isom\x00\x00\x02\x00isommp42")))
	f.Fuzz(func(t *testing.T, b []byte) {
		p, err := read(b)
		switch {
		case err != nil:
			if !errors.Is(err, ErrBroken) && !errors.Is(err, ErrTooLarge) && !errors.Is(err, ErrNotPicture) {
				t.Errorf("an error of another kind: %v", err)
			}
			return
		case p.Format == Film:
			return
		case p.Orientation < 1 || p.Orientation > 8 || p.Width <= 0 || p.Height <= 0 || p.cost() > budget:
			t.Errorf("%+v", p)
		case p.preview.at < 0 || p.preview.n < 0 || p.preview.at+p.preview.n > int64(len(b)):
			t.Errorf("the preview lies outside: %+v", p)
		}
		if p.Format == HEIC || p.Width*p.Height > 1<<20 {
			return // decoded elsewhere, or slowly
		}
		s, err := Make(t.Context(), bytes.NewReader(b), int64(len(b)))
		if err == nil {
			for _, out := range [][]byte{s.Thumb, s.Screen} {
				if _, err := jpeg.Decode(bytes.NewReader(out)); err != nil {
					t.Errorf("what was made is no JPEG: %v", err)
				}
			}
		}
		if out, err := Preview(bytes.NewReader(b), int64(len(b))); err == nil && Sniff(out) != JPEG {
			t.Error("the preview is no JPEG")
		}
	})
}

func drawn(w, h int) []byte {
	img := image.NewNRGBA(image.Rect(0, 0, w, h))
	for i := range img.Pix {
		img.Pix[i] = byte(i * 7)
	}
	var b bytes.Buffer
	if err := png.Encode(&b, img); err != nil {
		panic(fmt.Sprint("encode: ", err))
	}
	return b.Bytes()
}
