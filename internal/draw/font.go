package draw

import (
	_ "embed"
	"strings"
	"sync"
	"unicode/utf8"

	"codeberg.org/go-pdf/fpdf"
)

// Atkinson Hyperlegible Next, SIL Open Font License 1.1 (font/LICENSE.txt).
var (
	//go:embed font/regular.ttf
	regular []byte
	//go:embed font/bold.ttf
	bold []byte
)

const mmPerPt = 25.4 / 72

// families are how a document calls the types.
var families = [...]string{own: "hyperlegible", other: "go"}

// addFonts brings the types into a document; the second one only where it is
// written in, for a document carries what it has been given.
func addFonts(p *fpdf.Fpdf, both bool) {
	p.AddUTF8FontFromBytes(families[own], "", regular)
	p.AddUTF8FontFromBytes(families[own], "B", bold)
	if both {
		p.AddUTF8FontFromBytes(families[other], "", otherType[0])
		p.AddUTF8FontFromBytes(families[other], "B", otherType[1])
	}
}

// ruler measures texts. The table of widths, of each letter in the type that
// has it, is made once: looking a width up in it is all that Width does.
var ruler = sync.OnceValue(func() [2]map[rune]float64 {
	p := fpdf.New("P", "mm", "A4", "")
	addFonts(p, true)
	var out [2]map[rune]float64
	for i, style := range []string{"", "B"} {
		out[i] = map[rune]float64{}
		for of, family := range families {
			p.SetFont(family, style, 100)
			for r := rune(32); r < beyond; r++ {
				if typeOf(r) == of {
					out[i][r] = p.GetStringWidth(string(r)) / (100 * mmPerPt)
				}
			}
		}
	}
	return out
})

// beyond is the first letter behind all that the types have, but for a few
// ligatures that nobody types.
const beyond = 0x2700

// Width returns the width of a text in millimetres, in type of that height.
func Width(text string, size float64, strong bool) float64 {
	table := ruler()[0]
	if strong {
		table = ruler()[1]
	}
	w := 0.0
	for _, r := range text {
		x, ok := table[r]
		switch {
		case ok:
			w += x
		case !silent(r):
			w += table[lacking]
		}
	}
	return w * size
}

// Wrap breaks a text into lines no wider than width. A word that is wider
// than the line is broken.
func Wrap(text string, size float64, strong bool, width float64) []string {
	var out []string
	line := ""
	for _, word := range strings.Fields(strings.ToValidUTF8(text, string(lacking))) {
		try := strings.TrimPrefix(line+" "+word, " ")
		if Width(try, size, strong) <= width {
			line = try
			continue
		}
		if line != "" {
			out = append(out, line)
		}
		line = word
		for Width(line, size, strong) > width && utf8.RuneCountInString(line) > 1 {
			head := cut(line, size, strong, width)
			out = append(out, head)
			line = line[len(head):]
		}
	}
	if line != "" {
		out = append(out, line)
	}
	return out
}

// Clip shortens a text to width, ending it in an ellipsis.
func Clip(text string, size float64, strong bool, width float64) string {
	text = strings.ToValidUTF8(text, string(lacking))
	if Width(text, size, strong) <= width {
		return text
	}
	return strings.TrimRight(cut(text, size, strong, width-Width("…", size, strong)), " ,;") + "…"
}

// cut returns the longest beginning of text, of at least one letter, that is
// no wider than width.
func cut(text string, size float64, strong bool, width float64) string {
	for i, r := range text {
		if end := i + utf8.RuneLen(r); Width(text[:end], size, strong) > width {
			return text[:max(i, utf8.RuneLen([]rune(text)[0]))]
		}
	}
	return text
}
