package demo

import (
	"bytes"
	"context"
	"crypto/sha256"
	"fmt"
	"io/fs"
	"path"
	"regexp"
	"runtime"
	"slices"
	"strconv"
	"sync"
	"time"

	"dogshore/calendar"
	"dogshore/intake"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
	"dogshore/store"
)

// The pictures of the full demo are drawn as the demo is made: no file holds
// them. Each says on itself that it is drawn. They come in by the ordinary
// intake on the evening of their visit: those whose names were noted, and
// those that the camera took between them. Some are tricky on purpose:
//
//   - from 15 April on the camera still showed winter time, until 6 May: both
//     batches come in with its clock put right by an hour
//   - every ninth was taken upright, and is stored sideways
//   - the yard's pictures of 3 June were sent by a messenger, which took all
//     data out: their names say which they are
//   - two of 20 May came the same way with no more than a day in their
//     names: the demo answers to which visit they belong
//   - one of 17 June came twice, under two names
//   - two were taken the day after a visit
//   - a film of a walk round the boat and a HEIC picture lie in the folder of
//     the last visit, since nothing here can make them (README.md)
//   - those in lost stayed on a card that nobody copied: they are noted, and
//     what they would show has no picture

// lost are pictures that were noted and never handed in.
var lost = []string{"0311-07", "0506-09", "0826-10", "0930-07", "1014-06", "1028-10", "1112-16"}

// behind are the visits at which the camera's clock was an hour behind.
var behind = []string{"2026-04-15", "2026-05-06"}

// shot is one picture to be drawn.
type shot struct {
	name     string
	scene    scene
	taken    time.Time // on the yard's clocks
	phone    bool      // a telephone's: it knows its zone
	stripped bool
}

// photograph draws the pictures of the visits of one day and brings them in.
func photograph(ctx context.Context, f *store.Folder, b Batch) error {
	rec, err := f.As(ctx, b.Day, journal.Now)
	if err != nil {
		return err
	}
	for _, v := range journal.All[record.Visit](rec) {
		if v.Day != b.Day || v.By == "call" || v.Planned == record.Yes {
			continue
		}
		if photographed(rec, v.Self) {
			continue // a later batch of the same day
		}
		files, err := shotsOf(rec, v)
		if err != nil {
			return err
		}
		given, err := b.given()
		if err != nil {
			return err
		}
		files = append(files, given...)
		opt := intake.Options{Today: b.Day, Author: "owner", Answers: map[string]string{
			"pictures without a time, " + b.Day.String() + " by name": "the visit of " + b.Day.Said(),
		}}
		p := intake.PhotoOptions{}
		if slices.Contains(behind, v.Self.Key()) {
			p.Clock.Add = time.Hour
		}
		r, err := intake.ReadPhotos(ctx, handed(f, files), rec, opt, p)
		if err != nil {
			return err
		}
		if err := settled(b, r.Reading); err != nil {
			return err
		}
		if _, err := r.Accept(ctx, f, b.Day, nil); err != nil {
			return err
		}
	}
	return nil
}

// photographed reports whether pictures of a visit came in already.
func photographed(rec *journal.Record, visit record.Ref) bool {
	return slices.ContainsFunc(journal.All[record.Photo](rec), func(p record.Photo) bool { return p.Visit == visit && p.File.Known() })
}

// given are the film and the picture that lie in a batch's folder.
func (b Batch) given() ([]drawn, error) {
	var out []drawn
	for _, ending := range []string{"*.mp4", "*.heic"} {
		names, err := fs.Glob(text, path.Join(string(Full), b.Name, ending))
		if err != nil {
			return nil, err
		}
		for _, name := range names {
			data, err := text.ReadFile(name)
			if err != nil {
				return nil, err
			}
			out = append(out, drawn{path.Base(name), data})
		}
	}
	return out, nil
}

// drawn is a picture as it is handed in.
type drawn struct {
	name string
	b    []byte
}

func handed(f *store.Folder, files []drawn) []intake.Photo {
	out := make([]intake.Photo, len(files))
	for i, x := range files {
		out[i] = intake.Photo{Name: x.name, Size: int64(len(x.b)), SHA256: fmt.Sprintf("%x", sha256.Sum256(x.b)),
			Open: func() (picture.ReaderAtCloser, error) { return inMemory{bytes.NewReader(x.b)}, nil },
			Keep: func(ctx context.Context) (record.File, error) {
				return f.Put(ctx, x.name, bytes.NewReader(x.b), int64(len(x.b)))
			},
		}
	}
	return out
}

type inMemory struct{ *bytes.Reader }

func (inMemory) Close() error { return nil }

// shotsOf draws the pictures of a visit, on all cores.
func shotsOf(rec *journal.Record, v record.Visit) ([]drawn, error) {
	shots := shoot(rec, v)
	out := make([]drawn, len(shots))
	errs := make([]error, len(shots))
	var wait sync.WaitGroup
	slots := make(chan struct{}, runtime.NumCPU())
	for i, s := range shots {
		slots <- struct{}{}
		wait.Go(func() {
			out[i].name = s.name
			out[i].b, errs[i] = s.file(slices.Contains(behind, v.Self.Key()))
			<-slots
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return nil, err
		}
	}
	if v.Self.Key() == "2026-06-17" { // came twice
		out = append(out, drawn{"copy of " + out[0].name, out[0].b})
	}
	return out, nil
}

// shoot lists the pictures of a visit: those noted by name, and those that the
// camera took between and after them, each of a step that was seen.
func shoot(rec *journal.Record, v record.Visit) []shot {
	seen := steps(rec, v.Self)
	var noted []record.Photo
	last := 0
	for _, p := range journal.All[record.Photo](rec) {
		if p.Visit == v.Self && !p.File.Known() {
			noted = append(noted, p)
			last = max(last, numberOf(p.Name))
		}
	}
	var out []shot
	have := map[int]bool{}
	for i, p := range noted {
		n := numberOf(p.Name)
		have[n] = true
		if slices.Contains(lost, p.Self.Key()) {
			continue
		}
		s := shot{name: p.Name, taken: hour(v.Day, n, p.Note), stripped: v.By == "pictures",
			scene: scene{Part: rec.Name(p.Part), Says: p.Note, Day: v.Day.Said(), Density: density(seen, p.Part), Seed: p.Name, Tall: i%9 == 4}}
		if p.Part == "" {
			s.scene.Part = "in the shed"
		}
		out = append(out, s)
	}
	if v.By == "pictures" || len(seen) == 0 {
		return out
	}
	after := v.Self.Key() == "2026-07-01" || v.Self.Key() == "2026-09-30"
	if after {
		last++
	}
	for n := 1; n <= last; n++ {
		if have[n] {
			continue
		}
		x := seen[n%len(seen)]
		s := shot{name: fmt.Sprintf("%s-%02d.jpg", v.Day.Time().Format("0102"), n), taken: hour(v.Day, n, ""), phone: n%5 == 0,
			scene: scene{Part: rec.Name(x.Part), Says: x.Name, Day: v.Day.Said(), Density: x.density, Seed: fmt.Sprint(v.Day, n), Tall: n%9 == 4}}
		if v.Self.Key() == "2026-05-20" && n > last-3 {
			s.name, s.stripped = fmt.Sprintf("%s_%02d.jpg", v.Day.Time().Format("20060102"), n), true
		}
		if n == last && after { // on the way home
			s.taken = s.taken.AddDate(0, 0, 1)
			s.scene.Says, s.scene.Day = "the yard from the road", (v.Day + 1).Said()
		}
		out = append(out, s)
	}
	return out
}

// seenStep is a step that was seen at a visit.
type seenStep struct {
	record.Step
	density float64
}

func steps(rec *journal.Record, visit record.Ref) []seenStep {
	var out []seenStep
	for _, g := range journal.All[record.Sighting](rec) {
		if st, ok := journal.Get[record.Step](rec, g.Step); ok && g.Visit == visit && (g.State == "done" || g.State == "under way") {
			out = append(out, seenStep{st, densityOf(st.Stage)})
		}
	}
	return out
}

func densityOf(stage string) float64 {
	for _, s := range record.Stages {
		if s.Slug == stage || s.Name == stage {
			return s.Density
		}
	}
	return 0.1
}

// density is that of the furthest stage that was seen of a part.
func density(seen []seenStep, part record.Ref) float64 {
	d := 0.1
	for _, s := range seen {
		if s.Part == part {
			d = max(d, s.density)
		}
	}
	return d
}

var (
	lastDigits = regexp.MustCompile(`-(\d+)\.jpg$`)
	gaugeAt    = regexp.MustCompile(`\bat (\d\d):(\d\d)$`)
)

func numberOf(name string) int {
	if m := lastDigits.FindStringSubmatch(name); m != nil {
		return digits(m[1])
	}
	return 0
}

// hour is when the nth picture of a day was taken: that of the gauge in it, if
// it names one, else one after the other from half past nine.
func hour(d calendar.Day, n int, says string) time.Time {
	t := d.Time().Add(9*time.Hour + 30*time.Minute + time.Duration(n)*337*time.Second)
	if m := gaugeAt.FindStringSubmatch(says); m != nil {
		t = d.Time().Add(time.Duration(digits(m[1]))*time.Hour + time.Duration(digits(m[2]))*time.Minute + 20*time.Second)
	}
	return t
}

// digits reads a few digits; a regular expression saw that they are.
func digits(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}

// file is a shot as its camera stores it.
func (s shot) file(late bool) ([]byte, error) {
	whole, preview, img, err := s.scene.draw()
	if err != nil || s.stripped {
		return whole, err
	}
	w := wrote{Camera: "Box 3", Taken: s.taken.Format("2006:01:02 15:04:05"), Orientation: 1, Preview: preview}
	switch {
	case s.phone: // its zone is that of the yard
		w.Camera, w.Offset = "Slab 9", summer(s.taken)
		if late {
			// The batch is put right by an hour as a whole; only the camera was
			// wrong, so the telephone was left at home that day.
			w.Camera, w.Offset, w.Taken = "Box 3", "", s.taken.Add(-time.Hour).Format("2006:01:02 15:04:05")
		}
	case late:
		w.Taken = s.taken.Add(-time.Hour).Format("2006:01:02 15:04:05")
	}
	if s.scene.Tall {
		sideways := left(img)
		if whole, err = packed(sideways, 72); err != nil {
			return nil, err
		}
		if w.Preview, err = packed(reduced(sideways), 50); err != nil {
			return nil, err
		}
		w.Orientation = 6
	}
	return exif(whole, w), nil
}

// summer is the offset of the invented yard's zone: an hour ahead of UTC, two
// in summer.
func summer(t time.Time) string {
	z, err := time.LoadLocation("CET")
	if err != nil {
		return ""
	}
	return time.Date(t.Year(), t.Month(), t.Day(), t.Hour(), t.Minute(), 0, 0, z).Format("-07:00")
}
