package demo

import (
	"bytes"
	"image/color"
	"image/jpeg"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
)

// Every picture of the full demo came in by the intake, most at the visit of
// its day; what is tricky among them is as photos.go says.
func TestPicturesOfTheFullDemo(t *testing.T) {
	f := made(t, Full)
	today, err := Today(Full)
	if err != nil {
		t.Fatal(err)
	}
	rec := asOf(t, f, today, journal.Now)
	files, lostOnes, doubtful, sideways, stripped := 0, 0, 0, 0, 0
	formats, names := map[picture.Format]int{}, map[string]bool{}
	content := map[string]string{}
	for _, p := range journal.All[record.Photo](rec) {
		if !p.File.Known() {
			lostOnes++
			continue
		}
		files++
		if was := content[p.File.SHA256]; was != "" {
			t.Errorf("%s and %s are the same picture", was, p.Name)
		}
		content[p.File.SHA256] = p.Name
		if names[p.Name] {
			t.Errorf("%s came in twice", p.Name)
		}
		names[p.Name] = true
		r, err := f.File(p.File)
		if err != nil {
			t.Fatal(err)
		}
		var b bytes.Buffer
		if _, err := b.ReadFrom(r); err != nil {
			t.Fatal(err)
		}
		_ = r.Close()
		got, err := picture.Read(bytes.NewReader(b.Bytes()), int64(b.Len()))
		if err != nil {
			t.Fatalf("%s: %v", p.Name, err)
		}
		formats[got.Format]++
		if got.Orientation == 6 {
			sideways++
		}
		if p.Doubt != "" {
			doubtful++
		}
		if !got.Taken.Known() {
			stripped++
			continue
		}
		v, _ := journal.Get[record.Visit](rec, p.Visit)
		if off := int(p.Day - v.Day); v.Day == 0 || off < 0 || off > 1 || (off == 1) != (p.Doubt != "") {
			t.Errorf("%s, taken on %s, is of the visit of %s (%s)", p.Name, p.Day, v.Day, p.Doubt)
		}
		if !strings.HasSuffix(p.Time, "+01:00") && !strings.HasSuffix(p.Time, "+02:00") {
			t.Errorf("%s: taken at %q, without the yard's zone", p.Name, p.Time)
		}
	}
	t.Logf("%d pictures, %d of them in doubt, %d stored sideways, %d without data; %d noted and never handed in", files, doubtful, sideways, stripped, lostOnes)
	if formats[picture.HEIC] != 1 || formats[picture.Film] != 1 {
		t.Errorf("by format: %v", formats)
	}
	if files < 150 || lostOnes != len(lost) || stripped != 6 || doubtful != stripped+2 || sideways < 10 {
		t.Errorf("%d pictures, %d in doubt, %d stripped, %d sideways, %d lost", files, doubtful, stripped, sideways, lostOnes)
	}
}

// The camera's clock was an hour behind in April; put right once for the
// batch, the pictures of the gauge carry the time that the gauge shows.
func TestTheCamerasClock(t *testing.T) {
	f := made(t, Full)
	rec := asOf(t, f, calendar.Date(2026, 11, 12), journal.Now)
	for key, want := range map[string]string{
		"photo/0318-02": "10:12:20 +01:00", // winter time, as its note says
		"photo/0722-01": "14:05:20 +02:00",
		"photo/0415-02": "09:41:14 +02:00", // the camera itself wrote 08:41:14
	} {
		p, ok := journal.Get[record.Photo](rec, record.Ref(key))
		if !ok || p.Time != want {
			t.Errorf("%s was taken at %q, want %q", key, p.Time, want)
		}
	}
}

// What is stored sideways comes out upright: the floor is below.
func TestUpright(t *testing.T) {
	s := shot{name: "a.jpg", taken: calendar.Date(2026, 3, 11).Time(), scene: scene{Part: "Deck", Says: "tape", Day: "a day", Density: 0.2, Seed: "a", Tall: true}}
	b, err := s.file(false)
	if err != nil {
		t.Fatal(err)
	}
	p, err := picture.Read(bytes.NewReader(b), int64(len(b)))
	if err != nil || p.Orientation != 6 || p.Width != sceneLong || p.Camera != "Invented Box 3" || p.HasPosition {
		t.Fatalf("%+v, %v", p, err)
	}
	made, err := picture.Make(t.Context(), bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	preview, err := picture.Preview(bytes.NewReader(b), int64(len(b)))
	if err != nil {
		t.Fatal(err)
	}
	for what, out := range map[string][]byte{"made": made.Screen, "preview": preview} {
		img, err := jpeg.Decode(bytes.NewReader(out))
		if err != nil {
			t.Fatal(err)
		}
		r := img.Bounds()
		up := color.GrayModel.Convert(img.At(r.Dx()*9/10, r.Dy()/3)).(color.Gray).Y
		down := color.GrayModel.Convert(img.At(r.Dx()*9/10, r.Dy()*4/5)).(color.Gray).Y
		if r.Dy() <= r.Dx() || up < down+15 {
			t.Errorf("%s: %v, %d above and %d below: the floor is not below", what, r, up, down)
		}
	}
}
