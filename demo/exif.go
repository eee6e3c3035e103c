package demo

import (
	"encoding/binary"
	"sort"
)

// wrote is what an invented camera writes into its pictures.
type wrote struct {
	Camera      string
	Taken       string // 2026:03:11 14:05:31
	Offset      string // +01:00; "" where the camera does not know it
	Orientation uint16
	Preview     []byte // a small JPEG
}

// tag is one line of an Exif directory.
type tag struct {
	id   uint16
	kind uint16 // 2 text, 3 short, 4 long
	n    uint32
	b    []byte
}

func words(id uint16, s string) tag { return tag{id, 2, uint32(len(s) + 1), append([]byte(s), 0)} }

func short(id, v uint16) tag { return tag{id, 3, 1, binary.BigEndian.AppendUint16(nil, v)} }

func long(id uint16, v uint32) tag { return tag{id, 4, 1, binary.BigEndian.AppendUint32(nil, v)} }

// exif puts what a camera writes into a JPEG: a segment with three
// directories, of the picture, of how it was taken and of the preview (CIPA
// DC-008, from memory; a test holds it to what another reader finds).
func exif(jpeg []byte, w wrote) []byte {
	const head, lead = 8, 6 // of the TIFF within the segment; "Exif", two zeros
	zeroth := []tag{words(0x010f, "Invented"), words(0x0110, w.Camera), words(0x0131, "drawn for the demo"), short(0x0112, w.Orientation), long(0x8769, 0)}
	how := []tag{words(0x9003, w.Taken)}
	if w.Offset != "" {
		how = append(how, words(0x9011, w.Offset))
	}
	first := []tag{short(0x0103, 6), long(0x0201, 0), long(0x0202, uint32(len(w.Preview)))}
	howAt := head + length(zeroth)
	firstAt := howAt + length(how)
	previewAt := firstAt + length(first)
	zeroth[4] = long(0x8769, uint32(howAt))
	first[1] = long(0x0201, uint32(previewAt))
	tiff := []byte("MM\x00\x2a\x00\x00\x00\x08")
	tiff = append(tiff, directory(head, zeroth, firstAt)...)
	tiff = append(tiff, directory(howAt, how, 0)...)
	tiff = append(tiff, directory(firstAt, first, 0)...)
	tiff = append(tiff, w.Preview...)
	out := append([]byte{}, jpeg[:2]...)
	out = append(out, 0xff, 0xe1)
	out = binary.BigEndian.AppendUint16(out, uint16(2+lead+len(tiff)))
	out = append(out, "Exif\x00\x00"...)
	out = append(out, tiff...)
	return append(out, jpeg[2:]...)
}

// length is that of a directory with the values that do not fit into it.
func length(tags []tag) int {
	n := 2 + 12*len(tags) + 4
	for _, t := range tags {
		if len(t.b) > 4 {
			n += len(t.b) + len(t.b)%2
		}
	}
	return n
}

// directory writes a directory that begins at byte at; next is where the one
// after it begins, 0 for none.
func directory(at int, tags []tag, next int) []byte {
	sort.Slice(tags, func(i, k int) bool { return tags[i].id < tags[k].id })
	out := binary.BigEndian.AppendUint16(nil, uint16(len(tags)))
	var values []byte
	valuesAt := at + 2 + 12*len(tags) + 4
	for _, t := range tags {
		out = binary.BigEndian.AppendUint16(out, t.id)
		out = binary.BigEndian.AppendUint16(out, t.kind)
		out = binary.BigEndian.AppendUint32(out, t.n)
		if len(t.b) <= 4 {
			out = append(out, append(t.b, 0, 0, 0)[:4]...)
			continue
		}
		out = binary.BigEndian.AppendUint32(out, uint32(valuesAt+len(values)))
		values = append(values, t.b...)
		if len(t.b)%2 == 1 {
			values = append(values, 0)
		}
	}
	return append(binary.BigEndian.AppendUint32(out, uint32(next)), values...)
}
