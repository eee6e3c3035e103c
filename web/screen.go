package web

import (
	"bytes"
	"errors"
	"fmt"
	"image"
	"image/color"
	"image/jpeg"
	_ "image/png" // reads it
	"io"
	"math"
	"net/url"
	"path"
	"strings"

	"golang.org/x/image/draw"

	"dogshore/record"
	"dogshore/store"
)

// Screen sizes: what a page and a sheet of paper show, and what is still
// taken to be scaled.
const (
	screenLong    = 1600 // pixels along the longer side
	screenQuality = 82
	mostPixels    = 120e6
)

// Screen returns a picture of the build folder as a JPEG at the size of a
// screen. It is drawn anew, so nothing is in it but the picture: no position,
// no camera, no time. It reads JPEG and PNG; an error says what else it is.
func Screen(f *store.Folder, file record.File) ([]byte, error) {
	in, err := f.File(file)
	if err != nil {
		return nil, err
	}
	data, err := screen(in)
	if err = errors.Join(err, in.Close()); err != nil {
		return nil, fmt.Errorf("picture %s: %w", file.Name, err)
	}
	return data, nil
}

// canScreen reports whether Screen reads a file, by its name.
func canScreen(f record.File) bool {
	switch strings.ToLower(path.Ext(f.Name)) {
	case ".jpg", ".jpeg", ".png":
		return true
	}
	return false
}

func screen(in io.ReadSeeker) ([]byte, error) {
	c, _, err := image.DecodeConfig(in)
	if err != nil {
		return nil, fmt.Errorf("it is no JPEG or PNG: %w", err)
	}
	if c.Width <= 0 || c.Height <= 0 || float64(c.Width)*float64(c.Height) > mostPixels {
		return nil, fmt.Errorf("it has %d by %d pixels; pictures of up to 120 million are taken", c.Width, c.Height)
	}
	if _, err := in.Seek(0, io.SeekStart); err != nil {
		return nil, err
	}
	full, _, err := image.Decode(in)
	if err != nil {
		return nil, err
	}
	k := math.Min(1, screenLong/float64(max(c.Width, c.Height)))
	to := image.NewRGBA(image.Rect(0, 0, max(1, int(math.Round(k*float64(c.Width)))), max(1, int(math.Round(k*float64(c.Height))))))
	draw.Draw(to, to.Bounds(), image.NewUniform(color.White), image.Point{}, draw.Src) // what is clear in it becomes paper
	draw.ApproxBiLinear.Scale(to, to.Bounds(), full, full.Bounds(), draw.Over, nil)
	var out bytes.Buffer
	if err := jpeg.Encode(&out, to, &jpeg.Options{Quality: screenQuality}); err != nil {
		return nil, err
	}
	return out.Bytes(), nil
}

// filePath is where a file of the build folder is handed out.
func filePath(f record.File) string { return "/file/" + f.SHA256 + "/" + url.PathEscape(f.Name) }
