package web

import (
	"context"
	"fmt"
	"net/http"
	"sync"
	"sync/atomic"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/review"
	"dogshore/store"
)

// view is the build as one request looks at it.
type view struct {
	Sheet
	folder *store.Folder
	rec    *journal.Record
	rev    *review.Review
	number int64 // of the newest entry that it knows of
}

// memory keeps the last few reviews: one is computed once for a day and a
// state of knowledge, whatever number of pages ask for it.
type memory struct {
	mu       sync.Mutex
	memo     review.Memo
	kept     []remembered
	computed atomic.Int64 // how often a review was computed; tests count it
}

type remembered struct {
	day         calendar.Day
	known, last int64
	rec         *journal.Record
	rev         *review.Review
}

const reviewsKept = 6

// view reads the build as of the day that the request asks for.
func (s *Site) view(r *http.Request, name string) (*view, error) {
	f := s.folder.Load()
	if f == nil {
		return nil, errNoBuild
	}
	ctx := r.Context()
	v := &view{Sheet: s.bareSheet(r, name), folder: f}
	var err error
	if v.Last, err = f.Last(ctx); err != nil {
		return nil, err
	}
	known, err := s.asked(r, v)
	if err != nil {
		return nil, err
	}
	if v.rec, v.rev, err = s.look(ctx, f, v.Day, known, v.Last); err != nil {
		return nil, err
	}
	v.number = min(v.Last, known)
	v.fill(r)
	return v, nil
}

// asked reads the day from the address: ?as-of=2027-03-14, and ?knew=then for
// what had arrived by then.
func (s *Site) asked(r *http.Request, v *view) (known int64, err error) {
	q := r.URL.Query()
	known = journal.Now
	day, err := calendar.ParseISO(q.Get("as-of"))
	if err != nil {
		return 0, problem{http.StatusBadRequest, err.Error(), "Take the day away from the address to see today."}
	}
	if day.Known() {
		v.Day = day
	}
	v.KnewThen = day.Known() && q.Get("knew") == "then"
	v.Past = v.Day != v.Today || v.KnewThen
	if v.KnewThen {
		known, err = v.folder.Arrived(r.Context(), day)
	}
	return known, err
}

// look returns record and review, from memory if nothing new has arrived.
func (s *Site) look(ctx context.Context, f *store.Folder, day calendar.Day, known, last int64) (*journal.Record, *review.Review, error) {
	m := &s.memory
	m.mu.Lock()
	defer m.mu.Unlock()
	for _, k := range m.kept {
		if k.day == day && k.known == known && k.last == last {
			return k.rec, k.rev, nil
		}
	}
	rec, err := f.As(ctx, day, known)
	if err != nil {
		return nil, nil, fmt.Errorf("read the record as of %s: %w", day, err)
	}
	rev, err := s.memory.memo.Read(ctx, f, day, known)
	if err != nil {
		return nil, nil, fmt.Errorf("review as of %s: %w", day, err)
	}
	m.computed.Add(1)
	if len(m.kept) == reviewsKept {
		m.kept = m.kept[1:]
	}
	m.kept = append(m.kept, remembered{day, known, last, rec, &rev})
	return rec, &rev, nil
}

// fill writes the title block from record and review.
func (v *view) fill(r *http.Request) {
	v.record = v.rec
	b, _ := journal.Get[record.Build](v.rec, "build/build")
	v.Build, v.Notice, v.Level = b.Name, b.Notice, v.rev.Level
	if v.Level == "" {
		v.Level = desk.ByOrder
	}
	for _, x := range journal.All[record.Visit](v.rec) {
		if x.Planned != record.Yes && x.Day.Known() {
			v.Visits = append(v.Visits, VisitDay{x.Self, x.Day, x.By})
		}
	}
	sortVisits(v.Visits)
	for i := range v.Visits {
		if v.Visits[i].Day <= v.Day {
			v.Visit = &v.Visits[i]
			break
		}
	}
	if id := r.URL.Query().Get("wrote"); id != "" {
		v.Wrote = id
	}
}
