//go:build nodynamic

package heic

import (
	"image"
	"io"

	"github.com/gen2brain/heic"
)

// Built reports whether this program can decode HEIC.
const Built = true

// Decode decodes a HEIC picture, turned as its file says. It can't be
// interrupted and takes up to a few hundred megabytes.
func Decode(r io.Reader) (image.Image, error) { return heic.Decode(r) }
