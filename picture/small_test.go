package picture

import (
	"bytes"
	"context"
	"errors"
	"image"
	"image/color"
	"image/jpeg"
	"testing"

	"dogshore/picture/heic"
)

// corners checks the four fields that all made pictures show, upright: red,
// green over blue, white.
func corners(t *testing.T, b []byte, what string) {
	t.Helper()
	img, err := jpeg.Decode(bytes.NewReader(b))
	if err != nil {
		t.Fatalf("%s: %v", what, err)
	}
	r := img.Bounds()
	if r.Dx() <= r.Dy() {
		t.Errorf("%s: %v, want it to lie", what, r)
	}
	for _, c := range []struct {
		x, y int
		want color.RGBA
	}{{1, 1, color.RGBA{255, 0, 0, 255}}, {3, 1, color.RGBA{0, 255, 0, 255}}, {1, 3, color.RGBA{0, 0, 255, 255}}, {3, 3, color.RGBA{255, 255, 255, 255}}} {
		got := color.RGBAModel.Convert(img.At(r.Dx()*c.x/4, r.Dy()*c.y/4)).(color.RGBA)
		for _, d := range []int{int(got.R) - int(c.want.R), int(got.G) - int(c.want.G), int(got.B) - int(c.want.B)} {
			if abs(d) > 40 { // JPEG twice over, at small sizes
				t.Errorf("%s: at %d/4, %d/4 it is %v, want %v", what, c.x, c.y, got, c.want)
				break
			}
		}
	}
}

// All eight orientations come out upright. The pictures were stored turned by
// ImageMagick, whose own -auto-orient gives the same (testdata/make.sh).
func TestOrientations(t *testing.T) {
	for _, name := range []string{"turn-1.jpg", "turn-2.jpg", "turn-3.jpg", "turn-4.jpg", "turn-5.jpg", "turn-6.jpg", "turn-7.jpg", "turn-8.jpg"} {
		b := made(t, name)
		s, err := Make(t.Context(), bytes.NewReader(b), int64(len(b)))
		if err != nil {
			t.Fatal(name, err)
		}
		corners(t, s.Thumb, name+", thumb")
		corners(t, s.Screen, name+", screen")
	}
}

// Nothing that a camera writes comes through into what is made: no Exif, no
// position, no maker, no comment.
func TestMadeOnesCarryNothing(t *testing.T) {
	b := made(t, "zone.jpg")
	if !bytes.Contains(b, []byte("Exif")) || !bytes.Contains(b, []byte("Invented")) {
		t.Fatal("the original carries nothing: this test would hold of anything")
	}
	s, err := Make(t.Context(), bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	preview, err := Preview(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	for what, out := range map[string][]byte{"thumb": s.Thumb, "screen": s.Screen, "preview": preview} {
		p, err := read(out)
		if err != nil {
			t.Fatal(what, err)
		}
		if p.HasPosition || p.Taken.Known() || p.Camera != "" {
			t.Errorf("%s: %+v", what, p)
		}
		for at := 2; out[at+1] != 0xda; at += 2 + int(out[at+2])<<8 + int(out[at+3]) {
			if m := out[at+1]; m >= 0xe0 && m <= 0xef || m == 0xfe {
				t.Errorf("%s has a segment %#x, which can carry anything", what, m)
			}
		}
	}
	corners(t, preview, "preview")
}

func TestSizes(t *testing.T) {
	for _, c := range []struct{ w, h, tw, th, sw, sh int }{
		{4000, 3000, 320, 240, 1600, 1200},
		{3000, 4000, 240, 320, 1200, 1600},
		{1601, 10, 320, 2, 1600, 10},
		{5000, 1, 320, 1, 1600, 1},
		{300, 200, 300, 200, 300, 200}, // never made larger
		{1, 1, 1, 1, 1, 1},
	} {
		b := drawn(c.w, c.h)
		s, err := Make(t.Context(), bytes.NewReader(b), int64(len(b)))
		if err != nil {
			t.Fatal(c, err)
		}
		for _, x := range []struct {
			b    []byte
			w, h int
		}{{s.Thumb, c.tw, c.th}, {s.Screen, c.sw, c.sh}} {
			if got, err := jpeg.DecodeConfig(bytes.NewReader(x.b)); err != nil || got.Width != x.w || got.Height != x.h {
				t.Errorf("of %d x %d came %d x %d (%v), want %d x %d", c.w, c.h, got.Width, got.Height, err, x.w, x.h)
			}
		}
	}
}

// Every way to pack pixels keeps the mean of a picture: against the plain mean
// of all pixels, as image.Image gives them.
func TestShrinkKeepsTheMean(t *testing.T) {
	const w, h = 403, 307
	fill := func(set func(x, y int, c color.Color)) {
		for y := range h {
			for x := range w {
				set(x, y, color.RGBA{byte(x / 2), byte(y / 2), byte((x + y) / 3), 255})
			}
		}
	}
	rgba := image.NewRGBA(image.Rect(0, 0, w, h))
	fill(rgba.Set)
	nrgba := image.NewNRGBA64(image.Rect(0, 0, w, h))
	fill(nrgba.Set)
	gray := image.NewGray(image.Rect(0, 0, w, h))
	fill(gray.Set)
	all := map[string]image.Image{"RGBA": rgba, "NRGBA64": nrgba, "gray": gray, "part of a larger one": rgba.SubImage(image.Rect(50, 40, 380, 290))}
	for _, s := range []image.YCbCrSubsampleRatio{image.YCbCrSubsampleRatio444, image.YCbCrSubsampleRatio422, image.YCbCrSubsampleRatio420, image.YCbCrSubsampleRatio440, image.YCbCrSubsampleRatio411, image.YCbCrSubsampleRatio410} {
		p := image.NewYCbCr(image.Rect(0, 0, w, h), s)
		for y := range h {
			for x := range w {
				yy, cb, cr := color.RGBToYCbCr(byte(x/2), byte(y/2), byte((x+y)/3))
				p.Y[p.YOffset(x, y)], p.Cb[p.COffset(x, y)], p.Cr[p.COffset(x, y)] = yy, cb, cr
			}
		}
		all[s.String()] = p
	}
	for name, img := range all {
		want, got := meanOf(img), meanOf(shrink(img, 60))
		for c := range want {
			if d := got[c] - want[c]; d > 3 || d < -3 { // edges count a little less in the smaller one
				t.Errorf("%s: the mean is %.1f, was %.1f", name, got, want)
				break
			}
		}
	}
}

func meanOf(img image.Image) (m [3]float64) {
	b := img.Bounds()
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			c := color.RGBAModel.Convert(img.At(x, y)).(color.RGBA)
			m[0], m[1], m[2] = m[0]+float64(c.R), m[1]+float64(c.G), m[2]+float64(c.B)
		}
	}
	for i := range m {
		m[i] /= float64(b.Dx() * b.Dy())
	}
	return m
}

func TestClearIsOnPaper(t *testing.T) {
	b := made(t, "clear.png")
	s, err := Make(t.Context(), bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	img, err := jpeg.Decode(bytes.NewReader(s.Thumb))
	if err != nil {
		t.Fatal(err)
	}
	if r, _, _, _ := img.At(5, 5).RGBA(); r < 0xf000 {
		t.Errorf("what is transparent became %v", img.At(5, 5))
	}
}

// HEIC made by heif-enc is decoded by another process, which a context ends.
func TestHEIC(t *testing.T) {
	b := made(t, "plain.heic")
	s, err := Make(t.Context(), bytes.NewReader(b), int64(len(b)))
	if !heic.Built {
		if !errors.Is(err, ErrNoHEIC) {
			t.Errorf("built without HEIC: %v", err)
		}
		t.Skip("built without -tags nodynamic: no HEIC here")
	}
	if err != nil {
		t.Fatal(err)
	}
	corners(t, s.Thumb, "thumb")
	corners(t, s.Screen, "screen")
	ended, cancel := context.WithCancel(t.Context())
	cancel()
	if _, err := Make(ended, bytes.NewReader(b), int64(len(b))); !errors.Is(err, context.Canceled) {
		t.Errorf("a context that has ended: %v", err)
	}
	at := bytes.Index(b, []byte("mdat"))
	for i := at + 8; i < len(b); i++ {
		b[i] = 0
	}
	if _, err := Make(t.Context(), bytes.NewReader(b), int64(len(b))); !errors.Is(err, ErrBroken) {
		t.Errorf("HEIC whose data is corrupt: %v", err)
	}
}
