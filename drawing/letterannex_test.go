package drawing_test

import (
	"bytes"
	"image"
	"image/jpeg"
	"image/png"
	"os"
	"os/exec"
	"path/filepath"
	"testing"

	"dogshore/drawing"
	"dogshore/internal/draw"
)

// printed is the second sheet of a letter with one black picture, as Poppler
// (Debian: poppler-utils) shows it.
func printed(t *testing.T, ph drawing.LetterPhoto) image.Image {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.NewGray(image.Rect(0, 0, 980, 700)), nil); err != nil {
		t.Fatal(err)
	}
	ph.JPEG, ph.Says = b.Bytes(), "black"
	sheets, err := drawing.Letter(drawing.LetterPaper{Build: "Test", Title: "Letter", Points: []drawing.LetterPoint{{Number: 3, Text: "A gap.", Photos: []drawing.LetterPhoto{ph}}}})
	if err != nil || len(sheets) != 2 {
		t.Fatalf("%d sheets, %v", len(sheets), err)
	}
	pdf, err := draw.PDF("Letter", sheets...)
	if err != nil {
		t.Fatal(err)
	}
	at := filepath.Join(t.TempDir(), "letter")
	if err := os.WriteFile(at+".pdf", pdf, 0o644); err != nil {
		t.Fatal(err)
	}
	if out, err := exec.Command("pdftoppm", "-r", "254", "-f", "2", "-l", "2", "-singlefile", "-png", at+".pdf", at).CombinedOutput(); err != nil {
		t.Skipf("no pdftoppm here: %v %s", err, out)
	}
	in, err := os.Open(at + ".png")
	if err != nil {
		t.Fatal(err)
	}
	defer func() { _ = in.Close() }() // only read
	img, err := png.Decode(in)
	if err != nil {
		t.Fatal(err)
	}
	return img
}

// The arrow leads from the point's number to the mark, white on whatever the
// picture is; without a mark there is none.
func TestArrowPointsIntoThePicture(t *testing.T) {
	black := func(img image.Image, x, y int) bool { r, _, _, _ := img.At(x, y).RGBA(); return r < 0x4000 }
	plain := printed(t, drawing.LetterPhoto{})
	var left, top int // of the picture: black, 98 x 70 mm, 10 pixels to a millimetre
find:
	for y := range plain.Bounds().Dy() {
		for x := range plain.Bounds().Dx() - 400 {
			if black(plain, x, y) && black(plain, x+400, y) && black(plain, x+200, y+100) && black(plain, x+700, y+500) {
				left, top = x, y
				break find
			}
		}
	}
	if left == 0 {
		t.Fatal("the picture was not found on the sheet")
	}
	whites := func(img image.Image) (n, farX, farY int) {
		for y := top + 80; y < top+690; y++ { // below the number's circle
			for x := left + 80; x < left+970; x++ {
				if !black(img, x, y) {
					n++
					farX, farY = max(farX, x-left), max(farY, y-top)
				}
			}
		}
		return n, farX, farY
	}
	if n, _, _ := whites(plain); n != 0 {
		t.Errorf("%d white dots on a picture without a mark", n)
	}
	n, x, y := whites(printed(t, drawing.LetterPhoto{Marked: true, Left: 0.8, Down: 0.6}))
	if n < 500 || x < 784-25 || x > 784 || y < 420-25 || y > 420+12 {
		t.Errorf("%d white dots, the farthest at %d, %d tenths of a millimetre; the mark is at 784, 420", n, x, y)
	}
}
