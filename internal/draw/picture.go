package draw

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"html"
	"image/jpeg"
	"math"
	"strings"

	"codeberg.org/go-pdf/fpdf"
)

// Picture puts a JPEG on the sheet: as large as the box at (x, y) with size
// w, h lets it be, at the box's upper left corner and not distorted. It
// returns the size that it got. Paper carries the picture's bytes, so it is
// scaled before; on pages it is not shown, since their pictures have addresses
// of their own: there stands a frame that says the same.
//
// An error means that data is no JPEG.
func (d *Drawing) Picture(data []byte, says string, x, y, w, h float64) (gotW, gotH float64, err error) {
	c, err := jpeg.DecodeConfig(bytes.NewReader(data))
	if err != nil {
		return 0, 0, fmt.Errorf("put the picture %s on the sheet: %w", says, err)
	}
	k := math.Min(w/float64(c.Width), h/float64(c.Height))
	gotW, gotH = k*float64(c.Width), k*float64(c.Height)
	d.marks = append(d.marks, mark{kind: markPicture, name: Thin, runs: [][]Point{Box(x, y, gotW, gotH)}, text: says, data: data})
	return gotW, gotH, nil
}

func (m mark) pdfPicture(p *fpdf.Fpdf) {
	box := m.runs[0]
	sum := sha256.Sum256(m.data)
	name := hex.EncodeToString(sum[:])
	o := fpdf.ImageOptions{ImageType: "JPG"}
	p.RegisterImageOptionsReader(name, o, bytes.NewReader(m.data))
	p.ImageOptions(name, box[0].X, box[0].Y, box[2].X-box[0].X, box[2].Y-box[0].Y, false, o, 0, "")
}

func (m mark) svgPicture(b *strings.Builder) {
	box := m.runs[0]
	fmt.Fprintf(b, `<g role="img" aria-label="%s"><path class="%s closed" d="`, html.EscapeString(m.text), m.name)
	for i, p := range box {
		b.WriteString(map[bool]string{true: "M", false: "L"}[i == 0] + num(p.X) + " " + num(p.Y))
	}
	b.WriteString(`Z"/></g>`)
}
