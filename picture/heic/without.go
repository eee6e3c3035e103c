//go:build !nodynamic

package heic

import (
	"errors"
	"image"
	"io"
)

// Built reports whether this program can decode HEIC.
const Built = false

// Decode says that it can't.
func Decode(io.Reader) (image.Image, error) {
	return nil, errors.New("this program was built without HEIC")
}
