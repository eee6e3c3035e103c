package web

import (
	"context"
	"fmt"
	"sync"
	"time"

	"dogshore/calendar"
	"dogshore/desk/plan"
	"dogshore/drawing"
	"dogshore/journal"
	"dogshore/review"
	"dogshore/store"
)

// launches remembers what was to be expected of the launch at each visit, and
// what moved it, until something new is written.
type launches struct {
	mu    sync.Mutex
	last  int64
	at    map[launchKey]*drawing.LaunchAt
	moved map[launchKey]*movedLaunchJob
}

type launchKey struct {
	day, to calendar.Day
	known   int64
}

// movedLaunchJob is one account of what moved the launch, made beside the
// page; done is closed when it is there.
type movedLaunchJob struct {
	done  chan struct{}
	moved *review.Moved
}

// Bounds of how long a page waits for launches that are not remembered, and
// of how long an account of what moved one may take.
const (
	longestWait = 3 * time.Second
	longestWork = 2 * time.Minute
	reviewWait  = 150 * time.Millisecond // the review itself is there: what moved the launch may come after
)

// forget drops what an entry since has made stale. The caller holds m.mu.
func (m *launches) forget(last int64) {
	if m.at == nil || m.last != last {
		m.at, m.moved, m.last = map[launchKey]*drawing.LaunchAt{}, map[launchKey]*movedLaunchJob{}, last
	}
}

// launchesAt returns the launch as of each of these days, and how many there
// was no time for. It goes from the latest back.
func (s *Site) launchesAt(ctx context.Context, v *view, days []calendar.Day, until time.Time) (out []drawing.LaunchAt, left int, err error) {
	for i := len(days) - 1; i >= 0; i-- {
		l := s.remembered(v, days[i])
		if l == nil && time.Now().After(until) {
			left++
			continue
		}
		if l == nil {
			if l, err = s.launchAt(ctx, v, days[i]); err != nil {
				return nil, 0, err
			}
		}
		out = append([]drawing.LaunchAt{*l}, out...)
	}
	return out, left, nil
}

func (s *Site) remembered(v *view, day calendar.Day) *drawing.LaunchAt {
	m := &s.launches
	m.mu.Lock()
	defer m.mu.Unlock()
	m.forget(v.Last)
	return m.at[launchKey{day: day, known: v.rec.Known}]
}

// launchAt reads the launch as of a day, and remembers it.
func (s *Site) launchAt(ctx context.Context, v *view, day calendar.Day) (*drawing.LaunchAt, error) {
	rec, answer := v.rec, v.rev.Plan
	if day != v.Day {
		var err error
		if rec, err = v.folder.As(ctx, day, v.rec.Known); err != nil {
			return nil, fmt.Errorf("read the record as of %s: %w", day, err)
		}
		answer = plan.Read(rec)
	}
	l := launchOf(rec, &answer)
	m := &s.launches
	m.mu.Lock()
	defer m.mu.Unlock()
	m.forget(v.Last)
	m.at[launchKey{day: day, known: v.rec.Known}] = &l
	return &l, nil
}

// launchOf reads the launch off an answer.
func launchOf(rec *journal.Record, a *plan.Answer) drawing.LaunchAt {
	l := drawing.LaunchAt{Visit: rec.Day, Said: a.Launch.Said.Day}
	if a.Launch.Done {
		l.Afloat = rec.Day
		if st := a.Step(a.Launch.Step); st != nil && st.Times.FinishBy.Known() {
			l.Afloat = st.Times.FinishBy
		}
		return l
	}
	if f := a.Forecast; f.Enough && f.Launch.Dated {
		l.Dated, l.Dates, l.P80, l.Even = true, f.Launch.Dates, f.Launch.P80, f.Launch.Even
	} else {
		l.Reckoned = a.Launch.Computed.Day
	}
	return l
}

// movedSince says what moved the launch since the last visit; nil where there was
// none before, or where it can't be said. It waits a little for the account;
// ready is false if that is still being made.
func (s *Site) movedSince(ctx context.Context, v *view, until time.Time) (moved *review.Moved, ready bool) {
	since := v.rev.Since.Visit
	if !v.rev.Plan.Forecast.Enough || since.Self == "" {
		return nil, true
	}
	m := &s.launches
	key := launchKey{day: since.Day, to: v.Day, known: v.rec.Known}
	m.mu.Lock()
	m.forget(v.Last)
	job := m.moved[key]
	if job == nil {
		job = &movedLaunchJob{done: make(chan struct{})}
		m.moved[key] = job
		go job.work(s, v.folder, v.rev)
	}
	m.mu.Unlock()
	select {
	case <-job.done:
	case <-ctx.Done():
	case <-time.After(time.Until(until)):
	}
	select { // also where there was no time left to wait
	case <-job.done:
		return job.moved, true
	default:
		return nil, false
	}
}

// work makes the account. It looks only at records, which stay as they are
// whatever becomes of the folder.
func (j *movedLaunchJob) work(s *Site, f *store.Folder, rev *review.Review) {
	ctx, stop := context.WithTimeout(context.Background(), longestWork)
	defer stop()
	defer close(j.done)
	moved, err := s.memory.memo.Moved(ctx, f, rev)
	if err != nil {
		s.log.Warn("what moved the launch can't be said", "since", rev.Since.Visit.Day, "err", err)
		return
	}
	j.moved = moved
}
