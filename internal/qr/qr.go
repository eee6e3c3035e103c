// Package qr draws an address as a QR code (ISO/IEC 18004): as a picture for a
// page, and as text for a terminal.
package qr

import (
	"fmt"
	"strings"

	goqr "github.com/piglig/go-qr"
)

// quiet is the width of the empty edge around a code, in modules; ISO/IEC
// 18004 asks for four.
const quiet = 4

// Code is an address as dark and light modules.
type Code struct{ q *goqr.QrCode }

// Of encodes text so that a reader still gets it when 15 % of the code can't
// be read. It returns an error if text is longer than a code can hold.
func Of(text string) (Code, error) {
	q, err := goqr.EncodeText(text, goqr.Medium)
	if err != nil {
		return Code{}, fmt.Errorf("draw %q as a QR code: %w", text, err)
	}
	return Code{q}, nil
}

// Width is the number of modules along a side, with the empty edge.
func (c Code) Width() int { return c.q.Size() + 2*quiet }

// Dark reports whether the module at x, y is dark, counted from the upper left
// corner of the empty edge.
func (c Code) Dark(x, y int) bool {
	x, y = x-quiet, y-quiet
	return x >= 0 && y >= 0 && x < c.q.Size() && y < c.q.Size() && c.q.Module(x, y)
}

// SVG is the code as a picture, black on white whatever the page's colours
// are: a camera has to read it.
func (c Code) SVG() []byte {
	var b strings.Builder
	n := c.Width()
	fmt.Fprintf(&b, `<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 %d %[1]d" shape-rendering="crispEdges"><rect width="%[1]d" height="%[1]d" fill="#fff"/><path fill="#000" d="`, n)
	for y := range n {
		for x := 0; x < n; x++ {
			from := x
			for x < n && c.Dark(x, y) {
				x++
			}
			if x > from {
				fmt.Fprintf(&b, "M%d %dh%dv1h-%[3]dz", from, y, x-from)
			}
		}
	}
	b.WriteString(`"/></svg>`)
	return []byte(b.String())
}

// Text is the code in half blocks, two modules to a character. Coloured, it
// sets black on white itself; else what is light is drawn, as suits a
// terminal with light letters on a dark ground.
func (c Code) Text(coloured bool) string {
	begin, end := "", "\n"
	blocks := [4]string{"█", "▄", "▀", " "} // both light, upper dark, lower dark, both dark
	if coloured {
		begin, end = "\x1b[30;107m", "\x1b[0m\n"
		blocks = [4]string{" ", "▀", "▄", "█"}
	}
	var b strings.Builder
	for y := 0; y < c.Width(); y += 2 {
		b.WriteString(begin)
		for x := range c.Width() {
			i := 0
			if c.Dark(x, y) {
				i = 1
			}
			if c.Dark(x, y+1) {
				i += 2
			}
			b.WriteString(blocks[i])
		}
		b.WriteString(end)
	}
	return b.String()
}
