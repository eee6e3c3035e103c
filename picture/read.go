package picture

import (
	"errors"
	"fmt"
	"io"
)

// Picture is what a file says of itself.
type Picture struct {
	Format        Format
	Width, Height int  // as stored, before it is turned; 0 of a film
	Orientation   int  // how it must be turned, 1 to 8 as Exif counts; 1 if nothing is said
	Deep          bool // more than 8 bits a sample
	Progressive   bool // a JPEG that must be held whole while it is decoded
	Taken         Taken
	Camera        string // maker and model, as the camera says
	HasPosition   bool   // the original says where it was taken; nothing that is made of it does
	preview       span   // a small JPEG within the file
}

// span is a piece of a file.
type span struct{ at, n int64 }

// Read reads what a file is, its size and what its camera wrote into it,
// without decoding it. Its errors are ErrNotPicture, ErrBroken and
// ErrTooLarge, with what was found.
func Read(r io.ReaderAt, size int64) (Picture, error) {
	head := make([]byte, sniffed)
	n, err := r.ReadAt(head, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return Picture{}, err
	}
	p := Picture{Format: Sniff(head[:n]), Orientation: 1}
	limit := int64(LongestPicture)
	if p.Format == Film {
		limit = LongestFilm
	}
	switch {
	case p.Format == Unknown:
		return p, fmt.Errorf("%w: %s", ErrNotPicture, called(head[:n]))
	case size > limit:
		return p, fmt.Errorf("%w: %d MB; at most %d MB are taken in", ErrTooLarge, size>>20, limit>>20)
	}
	switch p.Format {
	case JPEG:
		err = p.jpeg(r, size)
	case PNG:
		err = p.png(r, size)
	case HEIC:
		err = p.heic(r, size)
	case Film:
		return p, p.film(r, size)
	}
	if err != nil {
		return p, err
	}
	switch {
	case p.Width <= 0 || p.Height <= 0:
		return p, fmt.Errorf("%w: it says that it is %d x %d pixels", ErrBroken, p.Width, p.Height)
	case float64(p.Width)*float64(p.Height) > MostPixels:
		return p, fmt.Errorf("%w: %d x %d pixels; at most %d million are taken in", ErrTooLarge, p.Width, p.Height, int(MostPixels/1e6))
	case p.cost() > budget:
		return p, fmt.Errorf("%w: %d x %d pixels of this kind would take %d MB of memory to show; at most %d MB are spent", ErrTooLarge, p.Width, p.Height, p.cost()>>20, budget>>20)
	}
	p.exif(r, size)
	if p.Format == HEIC {
		p.Orientation = 1 // its boxes say how it is turned, and decoding does it
	}
	return p, nil
}

// cost is the memory that decoding takes, in bytes: three planes at most of a
// JPEG, and its coefficients of four bytes if it is progressive; four samples
// a pixel of a PNG.
func (p *Picture) cost() int64 {
	pixels := int64(p.Width) * int64(p.Height)
	switch {
	case p.Format == JPEG && p.Progressive:
		return pixels * 15
	case p.Format == JPEG:
		return pixels * 3
	case p.Deep:
		return pixels * 8
	}
	return pixels * 4
}

func broken(format string, a ...any) error {
	return fmt.Errorf("%w: %s", ErrBroken, fmt.Sprintf(format, a...))
}
