package web

import (
	"encoding/json"
	"fmt"
	"io"
	"math"
	"net/http"
	"strconv"
	"strings"

	"dogshore/picture"
	"dogshore/plane"
	"dogshore/record"
	"dogshore/unit"
)

// traceScale is the form of the two known points, with what it comes to.
type traceScale struct {
	Inputs  []traceInput
	Reading string // how far a mark may be off, pixels
	Off     string // typed by a person; "" is reckoned
	Over    map[string]string
	Known   bool
	Map     string // from pixels to metres: six factors
	Says    []string
	Check   string // how far the third point reads off
	Bad     string
}

// traceInput is one field of it.
type traceInput struct{ Name, Label, Value, Was, Over, Mark string }

// usualReading is how far off a mark may be that a person sets, in pixels of
// the picture as it is shown.
const usualReading = 2.0

// markedPlaces are the known points, the third as a check that is not kept.
var markedPlaces = []struct{ name, title string }{{"a", "First known point"}, {"b", "Second known point"}, {"c", "A third, as a check"}}

// scaleOf is the map from a picture's pixels (left, and down as negative) to
// the boat's plan, seen from above.
func scaleOf(x record.Tracing) (plane.Similarity, bool) {
	if !x.A.Known || !x.B.Known || !x.ALeft.Known || !x.ADown.Known || !x.BLeft.Known || !x.BDown.Known {
		return plane.Similarity{}, false
	}
	return plane.FromTwo(markA(x), markB(x), plane.Point{X: x.A.X, Y: x.A.Y}, plane.Point{X: x.B.X, Y: x.B.Y})
}

func markA(x record.Tracing) plane.Point { return plane.Point{X: x.ALeft.SI, Y: -x.ADown.SI} }

func markB(x record.Tracing) plane.Point { return plane.Point{X: x.BLeft.SI, Y: -x.BDown.SI} }

// readingOff is how far a traced point may be off, in metres, for a mark that
// may be off by px pixels: as far as the point's own mark, and as the two
// known points' marks let it swing, at the picture's farthest corner.
//
//	off = px scale (1 + (to the first + to the second) / from one to the other)
func readingOff(x record.Tracing, m plane.Similarity, pic tracePicture, px float64) (off, lever float64) {
	for _, corner := range []plane.Point{{}, {X: float64(pic.W)}, {Y: -float64(pic.H)}, {X: float64(pic.W), Y: -float64(pic.H)}} {
		lever = max(lever, plane.Lever(corner, markA(x), markB(x)))
	}
	return px * m.Scale() * (1 + lever), lever
}

// traceScale fills the form of the known points.
func (v *view) traceScale(r *http.Request, x record.Tracing, pic tracePicture) traceScale {
	texts, over := v.texts(x.Self)
	out := traceScale{Reading: r.FormValue("reading"), Over: over}
	px := readingPx(r, pic)
	if out.Reading == "" {
		out.Reading = unit.Plain(px)
	}
	if x.Off.Known && !x.Off.About {
		out.Off = texts["off"]
	}
	for _, p := range markedPlaces {
		for _, f := range []struct{ name, label string }{{p.name, p.title + " on the boat: x; y; z in metres"}, {p.name + "_left", "pixels from the left"}, {p.name + "_down", "pixels from the top"}} {
			in := traceInput{Name: f.name, Label: f.label, Value: texts[f.name], Was: texts[f.name], Over: over[f.name], Mark: p.name}
			if (r.Method == http.MethodPost || p.name == "c") && r.Form.Has(f.name) {
				in.Value = r.FormValue(f.name)
			}
			out.Inputs = append(out.Inputs, in)
		}
	}
	m, ok := scaleOf(x)
	if out.Known = ok; !ok {
		return out
	}
	out.Map = mapText(m)
	off, lever := readingOff(x, m, pic, px)
	out.Says = append(out.Says, fmt.Sprintf("One pixel is %s on the boat; the picture is %s by %s there.", length(m.Scale()), metres(m.Scale()*float64(pic.W)), metres(m.Scale()*float64(pic.H))))
	out.Says = append(out.Says, fmt.Sprintf("If each mark is off by %s px, a traced point may be off by %s: %s px × %s × (1 + %.2f), where %.2f is the farthest corner’s distance from the two known points together, over their distance from each other.",
		unit.Plain(px), length(off), unit.Plain(px), length(m.Scale()), lever, lever))
	if x.Off.Known {
		out.Says = append(out.Says, "On record: a traced point may be off by "+x.Off.Text()+".")
	}
	out.Check = v.thirdPoint(r, m, off)
	return out
}

// mapText writes a similarity as a script takes it: metres forward and to port
// are three factors each, of pixels from the left, from the top, and of one.
func mapText(m plane.Similarity) string {
	zero, left, down := m.Of(plane.Point{}), m.Of(plane.Point{X: 1}), m.Of(plane.Point{Y: -1})
	return fmt.Sprintf("%.12g %.12g %.12g %.12g %.12g %.12g", left.X-zero.X, down.X-zero.X, zero.X, left.Y-zero.Y, down.Y-zero.Y, zero.Y)
}

// thirdPoint says how far off a third known point reads.
func (v *view) thirdPoint(r *http.Request, m plane.Similarity, off float64) string {
	text := strings.TrimSpace(r.FormValue("c"))
	if text == "" {
		return ""
	}
	f := record.KindFor[record.Tracing]()
	value, err := f.Field("a").Parse(text, v.Today)
	if err != nil {
		return "The third point: " + reason(f.Field("a"), err)
	}
	spot, err := decodeSpot(value)
	left, errL := number(r.FormValue("c_left"))
	down, errD := number(r.FormValue("c_down"))
	if err != nil || errL != nil || errD != nil {
		return "The third point is not marked on the picture yet."
	}
	at := m.Of(plane.Point{X: left, Y: -down})
	miss := plane.Point{X: spot.X, Y: spot.Y}.Sub(at)
	says := fmt.Sprintf("The third point reads x %s, y %s: %s off (%s along, %s across).", metres(round3(at.X)), metres(round3(at.Y)), length(miss.Norm()), length(math.Abs(miss.X)), length(math.Abs(miss.Y)))
	if miss.Norm() > off {
		return says + " That is more than the marks explain: the picture is not to one scale in both directions, is seen askew, lies at another height there, or a place is typed wrong."
	}
	return says + " That is within what the marks explain."
}

// readingPx is how far a mark may be off, in pixels of the picture.
func readingPx(r *http.Request, pic tracePicture) float64 {
	if px, err := number(r.FormValue("reading")); err == nil && px > 0 && px < 1e4 {
		return px
	}
	if !pic.Fine && pic.W > 0 { // shown smaller than it is
		return math.Round(10*usualReading*max(1, float64(max(pic.W, pic.H))/float64(picture.Screen))) / 10
	}
	return usualReading
}

func number(text string) (float64, error) {
	x, err := strconv.ParseFloat(strings.ReplaceAll(strings.TrimSpace(text), ",", "."), 64)
	if err == nil && (math.IsNaN(x) || math.IsInf(x, 0)) {
		err = strconv.ErrRange
	}
	return x, err
}

// length is a length as people say it: 12 mm, 1.2 m.
func length(m float64) string {
	if m < 0.0995 {
		return strconv.FormatFloat(1000*m, 'g', 2, 64) + " mm"
	}
	return metres(m)
}

// pictureIn reads what a file of the build is, without decoding it.
func pictureIn(v *view, file record.File) (picture.Picture, error) {
	in, err := v.folder.File(file)
	if err != nil {
		return picture.Picture{}, fmt.Errorf("its file is not in the build folder")
	}
	defer func() { _ = in.Close() }() // only read
	size, err := in.Seek(0, io.SeekEnd)
	if err != nil {
		return picture.Picture{}, err
	}
	at, ok := in.(io.ReaderAt)
	if !ok {
		return picture.Picture{}, fmt.Errorf("its file can't be read in pieces")
	}
	return picture.Read(at, size)
}

func decodeOutline(v record.Value) (record.Outline, error) {
	var o record.Outline
	err := json.Unmarshal([]byte(v), &o)
	return o, err
}
