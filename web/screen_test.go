package web_test

import (
	"bytes"
	"encoding/binary"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"dogshore/web"
)

// positioned is a JPEG with an Exif block that holds a position on earth.
func positioned(t *testing.T, w, h int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, w, h)), nil); err != nil {
		t.Fatal(err)
	}
	exif := append([]byte("Exif\x00\x00MM\x00*\x00\x00\x00\x08"), "GPSLatitude 38 42 N Camera 0815"...)
	seg := binary.BigEndian.AppendUint16([]byte{0xff, 0xe1}, uint16(len(exif)+2))
	return append(append(append([]byte{}, b.Bytes()[:2]...), append(seg, exif...)...), b.Bytes()[2:]...)
}

// A picture at the size of a screen carries nothing but the picture.
func TestScreenCarriesNothingElse(t *testing.T) {
	f := emptyBuild(t)
	screen := func(name string, data []byte) ([]byte, error) {
		file, err := f.Put(t.Context(), name, bytes.NewReader(data), 1<<24)
		if err != nil {
			t.Fatal(err)
		}
		return web.Screen(t.Context(), f, file)
	}
	raw := positioned(t, 3200, 1200)
	if !bytes.Contains(raw, []byte("GPSLatitude")) {
		t.Fatal("the picture has no position to begin with")
	}
	got, err := screen("a.jpg", raw)
	if err != nil {
		t.Fatal(err)
	}
	for _, mark := range []string{"Exif", "GPS", "0815", "Camera"} {
		if bytes.Contains(got, []byte(mark)) {
			t.Errorf("%q is still in it", mark)
		}
	}
	if c, err := jpeg.DecodeConfig(bytes.NewReader(got)); err != nil || c.Width != 1600 || c.Height != 600 {
		t.Errorf("it is %d by %d, %v; the longer side is 1600", c.Width, c.Height, err)
	}

	clear := image.NewNRGBA(image.Rect(0, 0, 8, 8)) // all of it see-through: paper
	var b bytes.Buffer
	if err := png.Encode(&b, clear); err != nil {
		t.Fatal(err)
	}
	got, err = screen("a.png", b.Bytes())
	if err != nil {
		t.Fatal(err)
	}
	m, err := jpeg.Decode(bytes.NewReader(got))
	if err != nil || m.Bounds() != clear.Bounds() || color.GrayModel.Convert(m.At(4, 4)).(color.Gray).Y < 250 {
		t.Errorf("a clear picture: %v, %v", m, err)
	}

	huge := append([]byte{}, b.Bytes()...) // says that it is 60000 by 60000
	binary.BigEndian.PutUint32(huge[16:], 60000)
	binary.BigEndian.PutUint32(huge[20:], 60000)
	binary.BigEndian.PutUint32(huge[29:], crc32.ChecksumIEEE(huge[12:29]))
	for name, data := range map[string][]byte{"huge.png": huge, "no.jpg": []byte("GIF89a"), "cut.jpg": raw[:len(raw)/2], "empty.jpg": nil} {
		if _, err := screen(name, data); err == nil || !strings.Contains(err.Error(), name) {
			t.Errorf("%s: %v", name, err)
		}
	}
}
