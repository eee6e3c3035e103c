package picture

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"github.com/bep/imagemeta"
)

// Bounds of reading what a camera wrote.
const (
	mostTags    = 2000
	longestTag  = 4096
	mostRead    = 32 << 20 // bytes, of a file that leads the reader about
	mostPreview = 1 << 20
)

// exif reads what the camera wrote. What can't be read is not there: a picture
// without it is still a picture.
func (p *Picture) exif(r io.ReaderAt, size int64) {
	kind := map[Format]imagemeta.ImageFormat{JPEG: imagemeta.JPEG, PNG: imagemeta.PNG, HEIC: imagemeta.HEIF}[p.Format]
	tags := map[string]any{}
	var thumb [2]int64
	_, _ = imagemeta.Decode(imagemeta.Options{
		R: &metered{ReadSeeker: io.NewSectionReader(r, 0, size), left: mostRead}, ImageFormat: kind, Sources: imagemeta.EXIF,
		LimitNumTags: mostTags, LimitTagSize: longestTag,
		ShouldHandleTag: func(t imagemeta.TagInfo) bool {
			switch t.Tag {
			case "DateTimeOriginal", "OffsetTimeOriginal", "CreateDate", "OffsetTimeDigitized", "Orientation", "Make", "Model", "ThumbnailOffset", "ThumbnailLength", "GPSLatitude":
				return true
			}
			return false
		},
		HandleTag: func(t imagemeta.TagInfo) error {
			switch {
			case t.Namespace == "IFD1" && t.Tag == "ThumbnailOffset":
				thumb[0] = number(t.Value)
			case t.Namespace == "IFD1" && t.Tag == "ThumbnailLength":
				thumb[1] = number(t.Value)
			case t.Namespace != "IFD1":
				tags[t.Tag] = t.Value
			}
			return nil
		},
	}) // whatever it read before it stumbled counts
	if o := number(tags["Orientation"]); o >= 1 && o <= 8 {
		p.Orientation = int(o)
	}
	p.Taken = taken(text(tags["DateTimeOriginal"]), text(tags["OffsetTimeOriginal"]))
	if !p.Taken.Known() {
		p.Taken = taken(text(tags["CreateDate"]), text(tags["OffsetTimeDigitized"]))
	}
	p.Camera = camera(text(tags["Make"]), text(tags["Model"]))
	_, p.HasPosition = tags["GPSLatitude"]
	if p.Format == JPEG && thumb[0] > 0 && thumb[1] > 0 && thumb[1] <= mostPreview && thumb[0] <= size-thumb[1] {
		p.preview = span{thumb[0], thumb[1]}
	}
}

// taken reads an Exif time "2026:03-11 14:05:31" and its offset "+01:00".
func taken(at, offset string) Taken {
	t, err := time.Parse("2006:01:02 15:04:05", at)
	if err != nil || t.Year() < 1900 {
		return Taken{}
	}
	out := Taken{Wall: t}
	if z, err := time.Parse("-07:00", offset); err == nil {
		_, out.Zone = z.Zone()
		out.HasZone = true
	}
	return out
}

// camera joins maker and model, which often begins with the maker.
func camera(maker, model string) string {
	if maker == "" || strings.HasPrefix(strings.ToLower(model), strings.ToLower(maker)) {
		return model
	}
	return strings.TrimSpace(maker + " " + model)
}

// text reads a tag as a short line of text.
func text(v any) string {
	s, ok := v.(string)
	if !ok {
		return ""
	}
	s = strings.Map(func(r rune) rune {
		if r < ' ' || r == 0x7f || r == 0xfffd {
			return -1
		}
		return r
	}, strings.ToValidUTF8(s, ""))
	if len(s) > 80 {
		s = strings.ToValidUTF8(s[:80], "")
	}
	return strings.TrimSpace(s)
}

func number(v any) int64 {
	switch n := v.(type) {
	case uint8:
		return int64(n)
	case uint16:
		return int64(n)
	case uint32:
		return int64(n)
	case int32:
		return int64(n)
	}
	return 0
}

// metered ends reading when too much was read.
type metered struct {
	io.ReadSeeker
	left int
}

var errLedAbout = errors.New("picture: more was read than a head can hold")

func (m *metered) Read(b []byte) (int, error) {
	if m.left <= 0 {
		return 0, fmt.Errorf("%w: %d bytes", errLedAbout, mostRead)
	}
	n, err := m.ReadSeeker.Read(b)
	m.left -= n
	return n, err
}
