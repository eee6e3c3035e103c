package demo

import (
	"bytes"
	"hash/fnv"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"strings"

	xdraw "golang.org/x/image/draw"
	"golang.org/x/image/font"
	"golang.org/x/image/font/basicfont"
	"golang.org/x/image/math/fixed"

	"dogshore/internal/draw"
)

// scene is one drawn picture: a part in the shed, hatched as far as its stage.
type scene struct {
	Part    string
	Says    string // what is on it
	Day     string
	Density float64 // of the hatching, as in the picture key
	Seed    string
	Tall    bool
}

// The size of the drawn pictures, in pixels, and that of their previews.
const (
	sceneLong, sceneShort = 368, 276
	previewLong           = 160
)

var (
	paper = color.RGBA{0xfb, 0xf7, 0xec, 0xff}
	floor = color.RGBA{0xd9, 0xd0, 0xbb, 0xff}
	skin  = color.RGBA{0xee, 0xe9, 0xdc, 0xff}
	ink   = color.RGBA{0x24, 0x22, 0x1e, 0xff}
	tape  = color.RGBA{0xf2, 0xc9, 0x2e, 0xff}
)

// draw draws it and returns it, and a preview, as JPEGs.
func (s scene) draw() (whole, preview []byte, img *image.RGBA, err error) {
	w, h := sceneLong, sceneShort
	if s.Tall {
		w, h = h, w
	}
	img = image.NewRGBA(image.Rect(0, 0, w, h))
	xdraw.Draw(img, img.Bounds(), image.NewUniform(paper), image.Point{}, xdraw.Src)
	xdraw.Draw(img, image.Rect(0, h*3/4, w, h), image.NewUniform(floor), image.Point{}, xdraw.Src)
	sum := fnv.New32a()
	_, _ = sum.Write([]byte(s.Seed)) // a hash takes everything
	turn := float64(sum.Sum32()%1000)/1000 - 0.5
	inside := s.shape(w, h, turn)
	gap := draw.Spacing(s.Density) * 4
	in := make([]bool, w*h)
	for i := range in {
		in[i] = inside(i%w, i/w)
	}
	lean := 0.9 + turn/3
	for y := 2; y < h-2; y++ {
		line := math.Mod(float64(y)*lean, gap)
		for x := 2; x < w-2; x++ {
			i := y*w + x
			switch edge := !(in[i-2] && in[i+2] && in[i-2*w] && in[i+2*w]); {
			case in[i] && (edge || line < 1.6):
				img.SetRGBA(x, y, ink)
			case in[i]:
				img.SetRGBA(x, y, skin)
			}
			if line++; line >= gap {
				line -= gap
			}
		}
	}
	if strings.Contains(s.Says, "tape") || strings.Contains(s.Says, "rule") || strings.Contains(s.Says, "gauge") {
		ruler(img, turn)
	}
	if times := 2; len(s.Part)*7*times+24 > w {
		write(img, 12, 26, 1, s.Part)
	} else {
		write(img, 12, 26, times, s.Part)
	}
	write(img, 12, 48, 1, s.Says)
	write(img, 12, h-30, 1, s.Day)
	write(img, 12, h-12, 1, "drawn for the demo: nothing of it exists")
	if whole, err = packed(img, 72); err != nil {
		return nil, nil, nil, err
	}
	preview, err = packed(reduced(img), 50)
	return whole, preview, img, err
}

// shape says which pixels belong to the part.
func (s scene) shape(w, h int, turn float64) func(x, y int) bool {
	cx, cy := float64(w)*(0.5+turn/8), float64(h)*0.52
	rx, ry := float64(w)*0.38, float64(h)*0.27
	name := strings.ToLower(s.Part)
	at := func(x, y int) (float64, float64) { return (float64(x) - cx) / rx, (float64(y) - cy) / ry }
	switch {
	case strings.Contains(name, "bulkhead"):
		return func(x, y int) bool {
			u, v := at(x, y)
			return math.Abs(u) < 0.8-0.15*v && math.Abs(v) < 1 && u*u*9+(v+0.1)*(v+0.1)*6 > 1
		}
	case strings.Contains(name, "deck") || strings.Contains(name, "coaming"):
		return func(x, y int) bool {
			u, v := at(x, y)
			return math.Abs(u) < 1 && v > -0.5+0.5*u*u && v < 0.35+0.1*u
		}
	case strings.Contains(name, "hull") || strings.Contains(name, "shell") || strings.Contains(name, "keel"):
		return func(x, y int) bool {
			u, v := at(x, y)
			return v > -0.8+0.1*u && v < 1-1.6*u*u*u*u && math.Abs(u) < 1
		}
	}
	return func(x, y int) bool {
		u, v := at(x, y)
		return math.Max(math.Abs(u)*1.1, math.Abs(v)*1.25)+0.08*math.Sin(4*u+8*turn) < 0.9
	}
}

// ruler lays a tape with marks across the picture.
func ruler(img *image.RGBA, turn float64) {
	b := img.Bounds()
	for x := b.Dx() / 8; x < b.Dx()*7/8; x++ {
		y0 := b.Dy()*5/8 + int(float64(x)*turn/6)
		for y := range 16 {
			c := tape
			if x%10 == 0 && y < 6 || x%50 < 2 && y < 12 || y == 0 || y == 15 {
				c = ink
			}
			img.SetRGBA(x, y0+y, c)
		}
	}
}

// write writes a line of text, times larger than the small type it is set in.
func write(img *image.RGBA, x, y, times int, text string) {
	face := basicfont.Face7x13
	text = strings.ToValidUTF8(text, "")
	if most := (img.Bounds().Dx() - 2*x) / (7 * times); len(text) > most {
		text = text[:most]
	}
	line := image.NewAlpha(image.Rect(0, 0, 7*len(text)+2, 14))
	d := font.Drawer{Dst: line, Src: image.Opaque, Face: face, Dot: fixed.P(0, 11)}
	d.DrawString(text)
	to := image.Rect(x, y-11*times, x+line.Bounds().Dx()*times, y+3*times)
	mask := image.NewAlpha(to.Sub(to.Min))
	xdraw.NearestNeighbor.Scale(mask, mask.Bounds(), line, line.Bounds(), xdraw.Src, nil)
	xdraw.DrawMask(img, to, image.NewUniform(paper), image.Point{}, image.Opaque, image.Point{}, xdraw.Over)
	xdraw.DrawMask(img, to, image.NewUniform(ink), image.Point{}, mask, image.Point{}, xdraw.Over)
}

func packed(img image.Image, quality int) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality})
	return b.Bytes(), err
}

func reduced(img *image.RGBA) *image.RGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	long := max(w, h)
	out := image.NewRGBA(image.Rect(0, 0, w*previewLong/long, h*previewLong/long))
	xdraw.ApproxBiLinear.Scale(out, out.Bounds(), img, img.Bounds(), xdraw.Src, nil)
	return out
}

// left turns a picture a quarter to the left: so a camera that was held
// upright stores it, with the mark 6 that turns it back.
func left(img *image.RGBA) *image.RGBA {
	w, h := img.Bounds().Dx(), img.Bounds().Dy()
	out := image.NewRGBA(image.Rect(0, 0, h, w))
	for y := range h {
		for x := range w {
			out.SetRGBA(y, w-1-x, img.RGBAAt(x, y))
		}
	}
	return out
}
