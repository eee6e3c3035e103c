package picture

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"image"
	"image/jpeg"
	"image/png"
	"io"
)

// Size is the longest side of a small picture, in pixels.
type Size int

// The sizes that are made.
const (
	Thumb  Size = 320
	Screen Size = 1600
)

// quality is that of the JPEGs that are made.
const quality = 82

// Small is a picture made small: JPEGs that carry nothing but pixels.
type Small struct{ Thumb, Screen []byte }

// Make makes the small pictures of one, the right way up. What the camera
// wrote into the original is not in them. A HEIC picture is decoded by a
// process of its own (see Child).
func Make(ctx context.Context, r io.ReaderAt, size int64) (Small, error) {
	p, err := Read(r, size)
	if err != nil {
		return Small{}, err
	}
	if p.Format == Film {
		return Small{}, fmt.Errorf("%w: it is a film", ErrNotPicture)
	}
	if err := memory.take(ctx, p.cost()); err != nil {
		return Small{}, err
	}
	defer memory.give(p.cost())
	if p.Format == HEIC {
		return outside(ctx, io.NewSectionReader(r, 0, size), longestChild)
	}
	img, err := decode(&p, io.NewSectionReader(r, 0, size))
	if err != nil {
		return Small{}, err
	}
	return small(img, p.Orientation)
}

// decode decodes a JPEG or PNG whose size was read before.
func decode(p *Picture, r io.Reader) (img image.Image, err error) {
	defer func() {
		if x := recover(); x != nil {
			err = broken("it can't be decoded: %v", x)
		}
	}()
	if p.Format == PNG {
		img, err = png.Decode(r)
	} else {
		img, err = jpeg.Decode(r)
	}
	if err != nil {
		return nil, broken("it can't be decoded: %v", err)
	}
	if b := img.Bounds(); b.Dx() != p.Width || b.Dy() != p.Height {
		return nil, broken("it says that it is %d x %d pixels and is %d x %d", p.Width, p.Height, b.Dx(), b.Dy())
	}
	return img, nil
}

func small(img image.Image, orientation int) (Small, error) {
	screen := shrink(img, int(Screen))
	thumb := shrink(screen, int(Thumb))
	var out Small
	var err error
	if out.Screen, err = encode(turn(screen, orientation)); err == nil {
		out.Thumb, err = encode(turn(thumb, orientation))
	}
	return out, err
}

func encode(img image.Image) ([]byte, error) {
	var b bytes.Buffer
	err := jpeg.Encode(&b, img, &jpeg.Options{Quality: quality})
	return b.Bytes(), err
}

// ErrNoPreview is returned where a camera put no small picture into its file.
var ErrNoPreview = errors.New("the picture carries no small one")

// mostPreviewPixels bounds a preview: those of cameras have 160 x 120 pixels,
// some have 640 x 480.
const mostPreviewPixels = 2e6

// Preview makes a thumbnail of the small picture that the camera put into the
// file, at once and the right way up. It is coarser than what Make makes.
func Preview(r io.ReaderAt, size int64) ([]byte, error) {
	p, err := Read(r, size)
	if err != nil {
		return nil, err
	}
	if p.preview.n == 0 {
		return nil, ErrNoPreview
	}
	inner := io.NewSectionReader(r, p.preview.at, p.preview.n)
	in, err := Read(inner, p.preview.n)
	if err != nil || in.Format != JPEG || float64(in.Width)*float64(in.Height) > mostPreviewPixels {
		return nil, ErrNoPreview
	}
	img, err := decode(&in, io.NewSectionReader(inner, 0, p.preview.n))
	if err != nil {
		return nil, ErrNoPreview
	}
	return encode(turn(shrink(trimmed(img, p.Width, p.Height), int(Thumb)), p.Orientation))
}

// trimmed cuts away the black bars that cameras lay along a preview to bring
// a picture of another shape to 4:3.
func trimmed(img image.Image, w, h int) image.Image {
	b := img.Bounds()
	sub, ok := img.(interface {
		SubImage(r image.Rectangle) image.Image
	})
	if !ok || w <= 0 || h <= 0 {
		return img
	}
	iw, ih := b.Dx(), b.Dy()
	if want := iw * h / w; want < ih-1 {
		b.Min.Y += (ih - want) / 2
		b.Max.Y = b.Min.Y + want
	} else if want := ih * w / h; want < iw-1 {
		b.Min.X += (iw - want) / 2
		b.Max.X = b.Min.X + want
	}
	if b.Empty() {
		return img
	}
	return sub.SubImage(b)
}
