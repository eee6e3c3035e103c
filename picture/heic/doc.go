// Package heic decodes HEIC pictures, where the program is built with it:
//
//	go build -tags nodynamic ./cmd/dogshore
//
// The tag does two things. It takes in the decoder, libheif and libde265
// compiled to WebAssembly (LGPL, see NOTICE.md); and it keeps the module that
// carries them from loading whatever library of that name the computer has.
// Without the tag no HEIC picture can be shown; it is kept all the same.
package heic
