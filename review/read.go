package review

import (
	"context"
	"sync"

	"dogshore/calendar"
	"dogshore/desk/deck"
	"dogshore/desk/visit"
	"dogshore/journal"
	"dogshore/record"
)

// Records gives records as of a day, known by an arrival: a build folder, or
// a journal in memory.
type Records interface {
	As(ctx context.Context, day calendar.Day, known int64) (*journal.Record, error)
	// Arrived returns the highest arrival number received by the end of day.
	Arrived(ctx context.Context, day calendar.Day) (int64, error)
}

// Read reviews a build as of a day, known by an arrival (journal.Now for all),
// fetching the records of earlier visits that it needs: at most four in all. It
// says too what moved the launch since the last visit, which takes longer than
// all the rest.
func Read(ctx context.Context, from Records, day calendar.Day, known int64) (Review, error) {
	m := new(Memo)
	v, past, err := m.read(ctx, from, day, known)
	if err == nil && past.Then != nil && v.Plan.Forecast.Enough {
		v.Since.Launch, err = m.movedFrom(ctx, past.Then, &v)
	}
	return v, err
}

// Memo keeps what stood going into past visits, for a program that reviews one
// build again and again: what had arrived by then does not change. It keeps,
// too, what moved the launch. The zero Memo is empty and ready, and safe for use
// from any goroutine.
type Memo struct {
	mu      sync.Mutex
	stood   map[going]map[string]bool
	account account
	deck    deck.Memo
}

// going is a day, and what had arrived by then.
type going struct {
	day   calendar.Day
	known int64
}

// Read is Read, with what the memo holds, and without what moved the launch: ask
// Moved for that.
func (m *Memo) Read(ctx context.Context, from Records, day calendar.Day, known int64) (Review, error) {
	v, _, err := m.read(ctx, from, day, known)
	return v, err
}

func (m *Memo) read(ctx context.Context, from Records, day calendar.Day, known int64) (Review, Past, error) {
	now, err := from.As(ctx, day, known)
	if err != nil {
		return Review{}, Past{}, err
	}
	past, err := before(ctx, from, now)
	if err != nil {
		return Review{}, Past{}, err
	}
	runs := 0
	if past.Going != nil {
		past.Stood, runs = m.standing(past.Going)
	}
	past.Deck = &m.deck
	v := Of(now, past)
	v.Runs += runs
	return v, past, nil
}

// standing is Standing, worked out once for each day and arrival, and how often
// the desks ran for it.
func (m *Memo) standing(r *journal.Record) (out map[string]bool, runs int) {
	m.mu.Lock()
	defer m.mu.Unlock()
	at := going{r.Day, r.Known}
	out, ok := m.stood[at]
	if !ok {
		if m.stood == nil {
			m.stood = map[going]map[string]bool{}
		}
		out, runs = Standing(r, &m.deck), 1
		m.stood[at] = out
	}
	return out, runs
}

// before fetches the past of a record.
func before(ctx context.Context, from Records, now *journal.Record) (Past, error) {
	var p Past
	var err error
	var own []record.Visit
	for _, v := range visit.Held(now) {
		if v.Day < now.Day && visit.Looks(v) {
			p.Visit = v
		}
		if v.By != "call" && v.By != "pictures" {
			own = append(own, v)
		}
	}
	if p.Visit.Self != "" {
		if p.Then, err = from.As(ctx, p.Visit.Day, now.Known); err != nil {
			return Past{}, err
		}
		knew, err := knewAt(ctx, from, now, p.Visit)
		if err != nil {
			return Past{}, err
		}
		if p.Knew, err = from.As(ctx, p.Visit.Day, knew); err != nil {
			return Past{}, err
		}
	}
	if len(own) >= 2 {
		p.Two = [2]record.Visit(own[len(own)-2:])
		eve := p.Two[0].Day - 1
		knew, err := from.Arrived(ctx, eve)
		if err != nil {
			return Past{}, err
		}
		if p.Going, err = from.As(ctx, eve, min(knew, now.Known)); err != nil {
			return Past{}, err
		}
	}
	return p, nil
}

// knewAt is the arrival that parts what was known at a visit from what was
// learned after: all that had arrived by the end of its day, and, when it was
// written down later, by the entry that closed it.
func knewAt(ctx context.Context, from Records, now *journal.Record, v record.Visit) (int64, error) {
	knew, err := from.Arrived(ctx, v.Day)
	if err != nil {
		return 0, err
	}
	if h, ok := now.Held(v.Self, "closed"); ok && v.Closed == record.Yes {
		knew = max(knew, h.Entry.Arrival)
	}
	return min(knew, now.Known), nil
}
