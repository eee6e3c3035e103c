// Package picture reads the pictures that people bring: what a file is by its
// content, how large, when it was taken and which way up; it sorts them to
// visits by their time; and it makes the small ones that pages show, which
// carry nothing of what cameras write into a file, the position least of all.
//
// A picture comes from anywhere, so nothing in it is trusted: sizes are read
// before anything is decoded, decoding stays within a budget of memory, and
// HEIC is decoded in a process of its own that is ended when it takes too long.
//
// Sources: JPEG markers, ISO/IEC 10918-1 (ITU-T T.81), annex B; Exif, CIPA
// DC-008; PNG, ISO/IEC 15948; boxes of HEIC and MP4, ISO/IEC 14496-12 and
// 23008-12. All of them from memory; the tests hold the reader to files made
// by other programs.
package picture

import "errors"

// Bounds of what is taken in.
const (
	LongestPicture = 128 << 20 // bytes of a picture
	LongestFilm    = 2 << 30   // bytes of a film
	MostPixels     = 200e6     // of a picture; larger ones are refused unread
	budget         = 640 << 20 // bytes that all decoding together may take
)

// What is wrong with a file. Each error that Read returns is one of these and
// says more.
var (
	ErrNotPicture = errors.New("this is no JPEG, HEIC or PNG picture and no film")
	ErrBroken     = errors.New("the picture is broken")
	ErrTooLarge   = errors.New("the picture is too large")
)
