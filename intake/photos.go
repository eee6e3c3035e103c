package intake

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"io"
	"path"
	"runtime"
	"sort"
	"strings"
	"sync"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/picture"
	"dogshore/record"
)

// Photo is a picture or film that is handed in. Open and Keep may be called
// from any goroutine.
type Photo struct {
	Name   string // with the folders that it lay in, parted by /
	Size   int64
	SHA256 string // if it is known
	Open   func() (picture.ReaderAtCloser, error)
	Keep   func(ctx context.Context) (record.File, error) // puts it into the build's files, untouched
}

// PhotoOptions are what sorting pictures has to know beside Options.
type PhotoOptions struct {
	Clock picture.Clock
	Zone  string              // of the visits; "" takes the build's
	Tell  func(done, all int) // called as files are read, from any goroutine; may be nil
}

// PhotoReading is what was made of pictures. Its Reads are the pictures that
// would be written; nothing of it is written yet, and no picture is moved.
type PhotoReading struct {
	*Reading
	Groups  []PhotoGroup           // by visit, in the order of their days; at the end those of none
	Known   []PhotoLine            // whose content is here already, or comes twice
	Cameras []CameraCount          // with how many pictures each took, most first
	Zone    string                 // by which times without one were read; "" if none is known
	Asked   map[string][]PhotoLine // the first pictures that each of Asks is about, by Ask.ID
	Placed  int                    // pictures whose original says where they were taken

	photos map[record.Ref]*looked
}

// PhotoGroup is the pictures of one visit.
type PhotoGroup struct {
	Visit  record.Ref // "" for those of none
	Day    calendar.Day
	Photos []PhotoLine
}

// Last is the name of the last of its pictures.
func (g PhotoGroup) Last() string { return g.Photos[len(g.Photos)-1].Name }

// PhotoLine is one picture and what is to be said of it.
type PhotoLine struct {
	Name   string
	SHA256 string
	Self   record.Ref
	Says   string // what is doubtful; of those that are known, as what
	Film   bool
	New    bool // the record has not even its name
}

// CameraCount says how many of the pictures a camera took.
type CameraCount struct {
	Camera string
	Count  int
}

// looked is a picture that was looked into.
type looked struct {
	Photo
	pic picture.Picture
	sha string
	err error
}

// ReadPhotos looks into pictures and sorts them to the visits of a record,
// which is best that of Options.Today. It returns an error only if ctx ends.
func ReadPhotos(ctx context.Context, photos []Photo, rec *journal.Record, opt Options, p PhotoOptions) (*PhotoReading, error) {
	if opt.Author == "" {
		opt.Author = "owner"
	}
	all, err := lookInto(ctx, photos, p.Tell)
	if err != nil {
		return nil, err
	}
	out := &PhotoReading{Reading: &Reading{author: opt.Author}, Asked: map[string][]PhotoLine{}, photos: map[record.Ref]*looked{}}
	s := &photoSorter{out: out, rec: rec, opt: opt, visits: map[string]record.Visit{}}
	zone := s.zone(p.Zone)
	kept := s.distinct(all)
	s.remember(kept)
	var shots []picture.Shot
	for _, l := range kept {
		shots = append(shots, picture.Shot{Name: l.Name, Taken: l.pic.Taken, Film: l.pic.Format == picture.Film, Camera: l.pic.Camera})
	}
	sorted := picture.Sort(shots, s.known(), p.Clock, zone)
	s.named(kept, sorted)
	s.answered(kept, sorted)
	for i, l := range kept {
		if !sorted[i].Asks {
			s.add(l, sorted[i])
		}
	}
	s.group()
	return out, nil
}

// lookInto reads the head of every file, and its hash, on all cores.
func lookInto(ctx context.Context, photos []Photo, tell func(done, all int)) ([]*looked, error) {
	out := make([]*looked, len(photos))
	next := make(chan int)
	var wait sync.WaitGroup
	var mu sync.Mutex
	done := 0
	for range min(runtime.NumCPU(), len(photos)) {
		wait.Go(func() {
			for i := range next {
				out[i] = look(ctx, photos[i])
				if tell != nil {
					mu.Lock()
					done++
					tell(done, len(photos))
					mu.Unlock()
				}
			}
		})
	}
	for i := range photos {
		if ctx.Err() != nil {
			break
		}
		next <- i
	}
	close(next)
	wait.Wait()
	return out, ctx.Err()
}

func look(ctx context.Context, p Photo) *looked {
	l := &looked{Photo: p, sha: p.SHA256}
	r, err := p.Open()
	if err != nil {
		l.err = err
		return l
	}
	defer func() { _ = r.Close() }() // only read
	if l.pic, l.err = picture.Read(r, p.Size); l.err != nil || l.sha != "" {
		return l
	}
	h := sha256.New()
	if _, l.err = io.Copy(h, &untilEnd{ctx, io.NewSectionReader(r, 0, p.Size)}); l.err == nil {
		l.sha = hex.EncodeToString(h.Sum(nil))
	}
	return l
}

// untilEnd reads until a context ends.
type untilEnd struct {
	ctx context.Context
	r   io.Reader
}

func (u *untilEnd) Read(b []byte) (int, error) {
	if err := u.ctx.Err(); err != nil {
		return 0, err
	}
	return u.r.Read(b)
}

// photoSorter is one ReadPhotos under way.
type photoSorter struct {
	out    *PhotoReading
	rec    *journal.Record
	opt    Options
	visits map[string]record.Visit // by key
	byName map[string][]record.Photo
}

func (s *photoSorter) zone(name string) picture.Zone {
	if name == "" {
		b, _ := journal.Get[record.Build](s.rec, record.R("build", "build"))
		name = b.Zone
	}
	z, err := picture.ParseZone(strings.TrimSpace(name))
	if err != nil {
		s.out.refuse(Cell{File: "time zone"}, "", "%v; times without a zone are shown as the cameras have them", err)
		return z
	}
	s.out.Zone = strings.TrimSpace(name)
	return z
}

// distinct leaves out what can't be read, and what is here already by its
// content, whatever its name.
func (s *photoSorter) distinct(all []*looked) []*looked {
	here := map[string]record.Photo{}
	s.byName = map[string][]record.Photo{}
	for _, p := range journal.All[record.Photo](s.rec) {
		if p.File.Known() {
			here[p.File.SHA256] = p
		} else {
			s.byName[stem(p.Name)] = append(s.byName[stem(p.Name)], p)
		}
	}
	first := map[string]string{}
	var out []*looked
	for _, l := range all {
		switch p, known := here[l.sha]; {
		case l.err != nil:
			s.out.refuse(Cell{File: l.Name}, "", "%v", l.err)
		case known:
			s.out.Known = append(s.out.Known, PhotoLine{Name: l.Name, Self: p.Self, Says: "is on record as " + p.Name})
		case first[l.sha] != "":
			s.out.Known = append(s.out.Known, PhotoLine{Name: l.Name, Says: "is the same picture as " + first[l.sha]})
		default:
			first[l.sha] = l.Name
			out = append(out, l)
		}
	}
	return out
}

// stem is a file's name as people note it at a visit: without folders, ending
// or the difference between large and small letters.
func stem(name string) string {
	name = path.Base(strings.ReplaceAll(name, "\\", "/"))
	return strings.ToLower(strings.TrimSuffix(name, path.Ext(name)))
}

func (s *photoSorter) remember(kept []*looked) {
	cameras := map[string]int{}
	for _, l := range kept {
		if l.pic.Camera != "" {
			cameras[l.pic.Camera]++
		}
		if l.pic.HasPosition {
			s.out.Placed++
		}
	}
	for c, n := range cameras {
		s.out.Cameras = append(s.out.Cameras, CameraCount{c, n})
	}
	sort.Slice(s.out.Cameras, func(i, k int) bool {
		a, b := s.out.Cameras[i], s.out.Cameras[k]
		if a.Count != b.Count {
			return a.Count > b.Count
		}
		return a.Camera < b.Camera
	})
}

func (s *photoSorter) known() []picture.Visit {
	var out []picture.Visit
	for _, v := range journal.All[record.Visit](s.rec) {
		if v.Day.Known() {
			s.visits[v.Self.Key()] = v
			out = append(out, picture.Visit{Key: v.Self.Key(), Day: v.Day, By: v.By, Planned: v.Planned == record.Yes})
		}
	}
	return out
}

// named settles those without a time whose name somebody wrote down at a
// visit.
func (s *photoSorter) named(kept []*looked, sorted []picture.Sorted) {
	for i, l := range kept {
		if !sorted[i].Asks {
			continue
		}
		var at []record.Photo
		for _, p := range s.byName[stem(l.Name)] {
			if p.Visit != "" {
				at = append(at, p)
			}
		}
		if len(at) == 1 {
			sorted[i] = picture.Sorted{Visit: at[0].Visit.Key(), Doubt: "nothing in the file says when it was taken; its name was noted at this visit"}
		}
	}
}

// add makes the entry of one picture.
func (s *photoSorter) add(l *looked, at picture.Sorted) {
	visit := s.visits[at.Visit]
	values := map[string]record.Value{"file": record.Encode(record.File{SHA256: l.sha, Name: path.Base(l.Name)})}
	say := func(field string, v any, known bool) {
		if known {
			values[field] = record.Encode(v)
		}
	}
	if at.Day > s.opt.Today {
		at.Doubt = strings.TrimPrefix(at.Doubt+"; its clock says a day that has not come", "; ")
	}
	say("day", at.Day, at.Day.Known())
	say("time", at.Time, at.Time != "")
	say("doubt", at.Doubt, at.Doubt != "")
	say("visit", record.R("visit", at.Visit), at.Visit != "")
	self, isNew := s.self(l, at)
	say("name", path.Base(l.Name), isNew)
	k := record.KindOf("photo")
	n := News{At: Cell{File: l.Name}, Self: self, Name: path.Base(l.Name), New: isNew, By: s.out.author, Grounds: journal.Grounds(k, visit.By)}
	day := at.Day
	if !day.Known() {
		day = visit.Day
	}
	n.Since = journal.Since(k, day, s.opt.Today)
	for i := range k.Fields {
		f := &k.Fields[i]
		v, ok := values[f.Name]
		if _, held := s.rec.Held(self, f.Name); ok && !held {
			n.Facts = append(n.Facts, Fact{At: n.At, Field: f, Value: v, Over: s.rec.Over(self, f.Name)})
		}
	}
	s.out.Reads = append(s.out.Reads, n)
	s.out.photos[self] = l
	s.line(visit, PhotoLine{Name: l.Name, SHA256: l.sha, Self: self, Says: at.Doubt, Film: l.pic.Format == picture.Film, New: isNew})
}

// self finds the subject: the picture whose name was noted at this visit
// without the file, else one of its own, named by its content.
func (s *photoSorter) self(l *looked, at picture.Sorted) (self record.Ref, isNew bool) {
	for _, p := range s.byName[stem(l.Name)] {
		if s.out.photos[p.Self] == nil && at.Visit != "" && p.Visit.Key() == at.Visit {
			return p.Self, false
		}
	}
	return record.R("photo", "p-"+l.sha[:20]), true
}

func (s *photoSorter) line(visit record.Visit, l PhotoLine) {
	for i := range s.out.Groups {
		if s.out.Groups[i].Visit == visit.Self {
			s.out.Groups[i].Photos = append(s.out.Groups[i].Photos, l)
			return
		}
	}
	s.out.Groups = append(s.out.Groups, PhotoGroup{Visit: visit.Self, Day: visit.Day, Photos: []PhotoLine{l}})
}

func (s *photoSorter) group() {
	sort.SliceStable(s.out.Groups, func(i, k int) bool {
		a, b := s.out.Groups[i], s.out.Groups[k]
		if (a.Visit == "") != (b.Visit == "") {
			return b.Visit == ""
		}
		return a.Day < b.Day
	})
}
