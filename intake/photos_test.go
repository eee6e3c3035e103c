package intake_test

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
	"dogshore/store"
)

// photoBuild is a build with two visits and one picture noted by name.
func photoBuild(t *testing.T) *store.Folder {
	t.Helper()
	f, err := store.Create(t.Context(), t.TempDir(), func() time.Time { return time.Date(2026, 7, 2, 9, 0, 0, 0, time.UTC) })
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { _ = f.Close() })
	csv := map[string]string{
		"build.csv":  "name,zone\nExample,CET\n",
		"visits.csv": "key,day,by\nmarch,2026-03-11,owner\njuly,2026-07-01,owner\n",
		"photos.csv": "key,name,visit,note\nnoted,Stripped,march,the core\n",
	}
	for _, name := range []string{"build.csv", "visits.csv", "photos.csv"} {
		r := intake.Read([]intake.File{{Name: name, Data: strings.NewReader(csv[name]), Size: int64(len(csv[name]))}}, photoRecord(t, f), intake.Options{Today: photoDay(), Since: photoDay()})
		if len(r.Asks)+len(r.Refuses) > 0 {
			t.Fatalf("%s: %+v %+v", name, r.Asks, r.Refuses)
		}
		if _, err := r.Accept(t.Context(), f, photoDay()); err != nil {
			t.Fatal(err)
		}
	}
	return f
}

func photoDay() calendar.Day { return calendar.Date(2026, 7, 2) }

func photoRecord(t *testing.T, f *store.Folder) *journal.Record {
	t.Helper()
	rec, err := f.As(t.Context(), photoDay(), journal.Now)
	if err != nil {
		t.Fatal(err)
	}
	return rec
}

type closing struct{ io.ReaderAt }

func (closing) Close() error { return nil }

func photo(f *store.Folder, name string, b []byte) intake.Photo {
	return intake.Photo{Name: name, Size: int64(len(b)),
		Open: func() (picture.ReaderAtCloser, error) { return closing{bytes.NewReader(b)}, nil },
		Keep: func(ctx context.Context) (record.File, error) {
			return f.Put(ctx, name, bytes.NewReader(b), int64(len(b)))
		}}
}

func otherMade(t *testing.T, name string) []byte {
	t.Helper()
	b, err := os.ReadFile(filepath.Join("..", "picture", "testdata", "made", name))
	if err != nil {
		t.Fatal(err)
	}
	return b
}

// another makes a picture of the same kind with other content.
func another(b []byte, n int) []byte {
	return append(bytes.Clone(b), fmt.Sprint("after the end ", n)...)
}

func readPhotos(t *testing.T, f *store.Folder, opt intake.Options, p intake.PhotoOptions, photos ...intake.Photo) *intake.PhotoReading {
	t.Helper()
	opt.Today = photoDay()
	r, err := intake.ReadPhotos(t.Context(), photos, photoRecord(t, f), opt, p)
	if err != nil {
		t.Fatal(err)
	}
	return r
}

func TestPhotosAreSortedAndTakenIn(t *testing.T) {
	f := photoBuild(t)
	zone := otherMade(t, "zone.jpg")
	photos := []intake.Photo{
		photo(f, "DCIM/zone.jpg", zone), photo(f, "DCIM/zone (1).jpg", zone),
		photo(f, "nozone.jpg", otherMade(t, "nozone.jpg")),
		photo(f, "STRIPPED.JPG", otherMade(t, "stripped.jpg")),
		photo(f, "20260312_101500.png", otherMade(t, "deep.png")),
		photo(f, "cut.jpg", zone[:3000]),
	}
	r := readPhotos(t, f, intake.Options{}, intake.PhotoOptions{}, photos...)
	if len(r.Reads) != 3 || len(r.Known) != 1 || len(r.Refuses) != 1 || len(r.Asks) != 1 || r.Placed != 1 || r.Zone != "CET" {
		t.Fatalf("%d read, %d known, %d refused, %d asked, %d placed, zone %q", len(r.Reads), len(r.Known), len(r.Refuses), len(r.Asks), r.Placed, r.Zone)
	}
	ask := r.Asks[0]
	if ask.ID != "pictures without a time, 2026-03-12 by name" || ask.Readings[0] != "the visit of Wed 11 March 2026" {
		t.Errorf("%+v", ask)
	}
	r = readPhotos(t, f, intake.Options{Answers: map[string]string{ask.ID: ask.Readings[0]}}, intake.PhotoOptions{}, photos...)
	done, err := r.Accept(t.Context(), f, photoDay(), nil)
	if err != nil || done.Entries != 4 {
		t.Fatalf("%+v, %v", done, err)
	}
	rec := photoRecord(t, f)
	got := map[string]string{}
	for _, p := range journal.All[record.Photo](rec) {
		day := ""
		if p.Day.Known() {
			day = p.Day.String()
		}
		got[p.Name] = strings.TrimSpace(fmt.Sprintf("%s %s %s %v", p.Visit.Key(), day, p.Time, p.Doubt != ""))
	}
	for name, want := range map[string]string{
		"zone.jpg": "march 2026-03-11 14:05:31 +01:00 false", "nozone.jpg": "july 2026-07-01 09:30:00 +02:00 false",
		"Stripped": "march   true", "20260312_101500.png": "march 2026-03-12  true",
	} {
		if got[name] != want {
			t.Errorf("%s: %q, want %q", name, got[name], want)
		}
	}
	noted, _ := journal.Get[record.Photo](rec, "photo/noted")
	in, err := f.File(noted.File)
	if err != nil {
		t.Fatal("the one noted by name has no file:", err)
	}
	b, err := io.ReadAll(in)
	if err != nil || !bytes.Equal(b, otherMade(t, "stripped.jpg")) {
		t.Errorf("its original was altered: %v", err)
	}
	_ = in.Close()
	again := readPhotos(t, f, intake.Options{Answers: map[string]string{ask.ID: ask.Readings[0]}}, intake.PhotoOptions{}, photos...)
	if len(again.Reads) != 0 || len(again.Known) != 5 {
		t.Errorf("the second time %d are read and %d known", len(again.Reads), len(again.Known))
	}
}

func TestPhotosClockAndCamera(t *testing.T) {
	f := photoBuild(t)
	zone, box := photo(f, "zone.jpg", otherMade(t, "zone.jpg")), photo(f, "nozone.jpg", otherMade(t, "nozone.jpg"))
	r := readPhotos(t, f, intake.Options{}, intake.PhotoOptions{Clock: picture.Clock{Add: 24 * time.Hour, Of: "Box 3"}}, zone, box)
	doubts := 0
	for _, g := range r.Groups {
		for _, l := range g.Photos {
			if l.Says != "" {
				doubts++
			}
			if l.Name == "nozone.jpg" && !strings.Contains(l.Says, "the day after the visit") {
				t.Errorf("moved by a day: %q", l.Says)
			}
		}
	}
	if doubts != 1 || len(r.Cameras) != 2 {
		t.Errorf("%d doubtful, cameras %+v", doubts, r.Cameras)
	}
	ahead := readPhotos(t, f, intake.Options{}, intake.PhotoOptions{Clock: picture.Clock{Add: 9000 * time.Hour}}, box)
	if says := ahead.Groups[0].Photos[0].Says; !strings.Contains(says, "has not come") {
		t.Errorf("a clock that is ahead: %q", says)
	}
}

// Stopped in the middle, what was taken in stays; the same intake goes on from
// there, and the pictures count once.
func TestPhotosGoOnWhereTheyStopped(t *testing.T) {
	f := photoBuild(t)
	zone := otherMade(t, "zone.jpg")
	var photos []intake.Photo
	for i := range 100 {
		photos = append(photos, photo(f, fmt.Sprintf("IMG_%04d.jpg", i), another(zone, i)))
	}
	ctx, stop := context.WithCancel(t.Context())
	defer stop()
	r := readPhotos(t, f, intake.Options{}, intake.PhotoOptions{}, photos...)
	done, err := r.Accept(ctx, f, photoDay(), func(done, all int) {
		if done == 55 {
			stop()
		}
	})
	if !errors.Is(err, context.Canceled) || done.Entries != 40 || done.Batch == "" {
		t.Fatalf("%+v, %v", done, err)
	}
	if n := len(photoRecord(t, f).Refs("photo")); n != 41 {
		t.Errorf("%d on record after it was stopped, want 40 and the noted one", n)
	}
	r = readPhotos(t, f, intake.Options{}, intake.PhotoOptions{}, photos...)
	if len(r.Known) != 40 || len(r.Reads) != 60 {
		t.Errorf("%d known, %d to read", len(r.Known), len(r.Reads))
	}
	if _, err := r.Accept(t.Context(), f, photoDay(), nil); err != nil {
		t.Fatal(err)
	}
	if n := len(photoRecord(t, f).Refs("photo")); n != 101 {
		t.Errorf("%d on record, want 101", n)
	}
}

func TestPhotoChangedAfterItWasListed(t *testing.T) {
	f := photoBuild(t)
	p := photo(f, "zone.jpg", otherMade(t, "zone.jpg"))
	r := readPhotos(t, f, intake.Options{}, intake.PhotoOptions{}, p, intake.Photo{Name: "gone.jpg", Open: func() (picture.ReaderAtCloser, error) { return nil, os.ErrNotExist }})
	if len(r.Refuses) != 1 {
		t.Errorf("a file that can't be opened: %+v", r.Refuses)
	}
	p.Keep = photo(f, "zone.jpg", otherMade(t, "stripped.jpg")).Keep
	r = readPhotos(t, f, intake.Options{}, intake.PhotoOptions{}, p)
	if _, err := r.Accept(t.Context(), f, photoDay(), nil); err == nil || !strings.Contains(err.Error(), "changed after it was listed") {
		t.Errorf("%v", err)
	}
	if n := len(photoRecord(t, f).Refs("photo")); n != 1 {
		t.Errorf("%d on record", n)
	}
}

func TestPrintPhotos(t *testing.T) {
	f := photoBuild(t)
	r := readPhotos(t, f, intake.Options{}, intake.PhotoOptions{Zone: "Atlantis"}, photo(f, "a/zone.jpg", otherMade(t, "zone.jpg")), photo(f, "scan.png", otherMade(t, "deep.png")), photo(f, "webp.jpg", otherMade(t, "webp.jpg")))
	var b bytes.Buffer
	if err := intake.PrintPhotos(&b, r); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{"visit of Wed 11 March 2026: 1 picture, zone.jpg", "Asks: 1 question", "to none of the visits", "webp.jpg: this is no JPEG", `"Atlantis" is no time zone`, "times without one are shown as the cameras have them", "1 file says where it was taken"} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("it does not say %q:\n%s", want, b.String())
		}
	}
}

// A folder with everything that can be wrong: each file is listed by name with
// what was found and, where it helps, what to do; the good one among them
// comes in.
func TestHostileFolder(t *testing.T) {
	f := photoBuild(t)
	huge := bytes.Clone(otherMade(t, "time.png"))
	copy(huge[16:], []byte{0, 0, 0xea, 0x60, 0, 0, 0xea, 0x60}) // 60,000 x 60,000
	bad := map[string]struct{ data, says string }{
		"cut.jpg":      {string(otherMade(t, "zone.jpg")[:3000]), "cut off"},
		"cut.heic":     {string(otherMade(t, "time.heic")[:700]), "cut off"},
		"cut.mp4":      {string(otherMade(t, "film.mp4")[:2000]), "cut off"},
		"huge.png":     {string(huge), "60000 x 60000 pixels; at most 200 million are taken in"},
		"webp.jpg":     {string(otherMade(t, "webp.jpg")), "WebP picture: save it as JPEG"},
		"page.jpg":     {"<!doctype html><script>alert(1)</script>", "a page or a drawing in text"},
		"program.png":  {"\x7fELF\x02\x01\x01", "nothing in it says what it is"},
		"empty.heic":   {"", "it is empty"},
		"document.jpg": {"%PDF-1.7", "it is a PDF"},
	}
	photos := []intake.Photo{photo(f, "good.jpg", otherMade(t, "zone.jpg"))}
	for name, x := range bad {
		photos = append(photos, photo(f, name, []byte(x.data)))
	}
	r, err := intake.ReadPhotos(t.Context(), photos, photoRecord(t, f), intake.Options{Today: photoDay()}, intake.PhotoOptions{})
	if err != nil {
		t.Fatal(err)
	}
	if len(r.Reads) != 1 || len(r.Refuses) != len(bad) {
		t.Fatalf("%d read, %d refused of %d", len(r.Reads), len(r.Refuses), len(bad))
	}
	for _, x := range r.Refuses {
		if want := bad[x.At.File].says; want == "" || !strings.Contains(x.Why, want) {
			t.Errorf("%s: %s; want %q", x.At.File, x.Why, want)
		}
	}
	if _, err := r.Accept(t.Context(), f, photoDay(), nil); err != nil {
		t.Fatal(err)
	}
	if n := len(journal.All[record.Photo](photoRecord(t, f))); n != 2 { // the one noted, and the good one
		t.Errorf("%d on record", n)
	}
}
