package picture

import (
	"bytes"
	"encoding/binary"
)

// Format is what a file is, by its content.
type Format int

// The formats.
const (
	Unknown Format = iota
	JPEG
	PNG
	HEIC
	Film
)

// String returns the name of a format as people say it.
func (f Format) String() string {
	return [...]string{"unknown", "JPEG", "PNG", "HEIC", "film"}[f]
}

// sniffed is how many bytes at the head of a file tell its format.
const sniffed = 64

// Sniff tells the format of a file by its first bytes. Its name says nothing.
func Sniff(head []byte) Format {
	switch {
	case bytes.HasPrefix(head, []byte{0xff, 0xd8, 0xff}):
		return JPEG
	case bytes.HasPrefix(head, []byte("\x89PNG\r\n\x1a\n")):
		return PNG
	case bytes.HasPrefix(head, []byte{0x1a, 0x45, 0xdf, 0xa3}): // EBML: Matroska, WebM
		return Film
	case len(head) >= 12 && string(head[:4]) == "RIFF" && string(head[8:12]) == "AVI ":
		return Film
	case len(head) >= 12 && string(head[4:8]) == "ftyp":
		return branded(head)
	case len(head) >= 8 && (string(head[4:8]) == "moov" || string(head[4:8]) == "wide" || string(head[4:8]) == "mdat"): // old QuickTime
		return Film
	}
	return Unknown
}

// branded reads the brands of an ISO base media file: its own, then those
// that it is compatible with.
func branded(head []byte) Format {
	n := int(min(uint32(len(head)), binary.BigEndian.Uint32(head)))
	still := false
	for i := 8; i+4 <= n; i += 4 {
		if i == 12 {
			continue // the minor version
		}
		switch string(head[i : i+4]) {
		case "heic", "heix", "heim", "heis":
			return HEIC
		case "avif", "avis":
			return Unknown
		case "mif1", "msf1":
			still = true
		}
	}
	if still {
		return HEIC
	}
	return Film
}

// called names what a file seems to be that is not taken in.
func called(head []byte) string {
	switch {
	case len(head) == 0:
		return "it is empty"
	case len(head) >= 12 && string(head[:4]) == "RIFF" && string(head[8:12]) == "WEBP":
		return "it is a WebP picture: save it as JPEG"
	case bytes.HasPrefix(head, []byte("GIF8")):
		return "it is a GIF picture: save it as PNG"
	case bytes.HasPrefix(head, []byte("II*\x00")), bytes.HasPrefix(head, []byte("MM\x00*")):
		return "it is a TIFF or a camera's raw picture: save it as JPEG"
	case len(head) >= 12 && string(head[4:8]) == "ftyp":
		return "it is an AVIF picture: save it as JPEG"
	case bytes.HasPrefix(bytes.TrimSpace(head), []byte("<")):
		return "it is a page or a drawing in text"
	case bytes.HasPrefix(head, []byte("%PDF")):
		return "it is a PDF"
	}
	return "nothing in it says what it is"
}
