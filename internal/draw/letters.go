package draw

import (
	"slices"
	"strings"
	"sync"
	"unicode"

	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
)

// Two types share paper: Atkinson Hyperlegible Next, and for the letters that
// it has not got (Greek, Cyrillic, arrows) the Go type, BSD licence, which
// stands in the module of pictures anyway. What neither has is lacking.
const (
	own   = iota // Hyperlegible
	other        // Go
	none
)

var letters = sync.OnceValue(func() [2]*sfnt.Font {
	var out [2]*sfnt.Font
	for i, data := range [][]byte{regular, goregular.TTF} {
		f, err := sfnt.Parse(data)
		if err != nil {
			panic(err) // embedded
		}
		out[i] = f
	}
	return out
})

// otherType are the files of the Go type: regular, bold.
var otherType = [2][]byte{goregular.TTF, gobold.TTF}

// typeOf says which type has a letter that paper can carry.
func typeOf(r rune) int {
	if r > 0xffff {
		return none
	}
	for i, f := range letters() {
		if g, err := f.GlyphIndex(nil, r); err == nil && g != 0 {
			return i
		}
	}
	return none
}

// silent reports whether a letter takes no room and says nothing on paper:
// controls, and marks that turn the direction.
func silent(r rune) bool { return unicode.IsControl(r) || unicode.Is(unicode.Cf, r) }

// lacking stands on paper for a letter that no type has: an empty box, which
// nobody takes for something that was written.
const lacking = '□'

// Writes reports whether paper can carry every letter of text.
func Writes(text string) bool {
	return !strings.ContainsFunc(text, func(r rune) bool { return typeOf(r) == none })
}

// Lacks returns the letters in the texts of drawings that paper can't carry,
// each once, in the order in which they come. An empty box stands in their
// place, and a line at the head of their sheet says so.
func Lacks(sheets ...*Drawing) string {
	var out []rune
	for _, d := range sheets {
		for _, m := range d.marks {
			if m.kind != markText {
				continue
			}
			for _, r := range m.text {
				if !silent(r) && typeOf(r) == none && !slices.Contains(out, r) {
					out = append(out, r)
				}
			}
		}
	}
	return string(out)
}

// run is a piece of a text in one type.
type run struct {
	text string
	of   int
}

// runs is text as the types can write it, in pieces.
func runs(text string) []run {
	var out []run
	for _, r := range text {
		if silent(r) {
			continue
		}
		of := typeOf(r)
		if of == none {
			r, of = lacking, other
		}
		if n := len(out); n > 0 && out[n-1].of == of {
			out[n-1].text += string(r)
			continue
		}
		out = append(out, run{string(r), of})
	}
	return out
}
