package programme

import (
	"context"
	"fmt"
	"runtime"
	"sync"
	"sync/atomic"

	"dogshore/calendar"
)

// Run says how a forecast is made.
type Run struct {
	Seed     uint64
	Trials   int                // 0 stands for 10,000
	Workers  int                // 0: one for each core. The result does not depend on it
	Progress func(done, of int) // called now and then, from one goroutine at a time

	// LaunchOnly leaves out the spreads and the criticality of steps, waits for
	// the owner, and points: for who asks for nothing but the launch, in less than
	// two thirds of the time.
	LaunchOnly bool
}

const (
	defaultTrials = 10000
	mostTrials    = 65280 // a worker counts in 16 bits
)

// Dates is a spread of moments: one chance in ten, in two, nine in ten that it
// lies at or before.
type Dates struct {
	P10 calendar.Moment `json:"p10"`
	P50 calendar.Moment `json:"p50"`
	P90 calendar.Moment `json:"p90"`
}

// Outlook is what Forecast computes.
type Outlook struct {
	Seed    uint64         `json:"seed"`
	Trials  int            `json:"trials"`
	Partial bool           `json:"partial,omitempty"` // it was broken off after Trials
	Steps   []StepOutlook  `json:"steps"`             // in the order of the case
	Launch  LaunchOutlook  `json:"launch"`
	Points  []PointOutlook `json:"points,omitempty"`
	Order   []Link         `json:"order,omitempty"`  // the order at stands: links that the case does not name
	Stands  []StandOutlook `json:"stands,omitempty"` // at which a part waits for another

	samples []int64 // of the launch, by trial, seconds from the data date
	zero    calendar.Moment
}

// StepOutlook is the spread of one step. What is done, or has a step without a
// length before it, is not Dated.
type StepOutlook struct {
	ID         string  `json:"id"`
	StartDated bool    `json:"start_dated"`
	Dated      bool    `json:"dated"` // both its dates
	Start      Dates   `json:"start"` // of what is under way: of the work that is left
	Finish     Dates   `json:"finish"`
	Critical   float64 `json:"criticality"`               // chance that it lies on the chain that drives the launch
	OwnerWait  float64 `json:"owner_wait_days,omitempty"` // mean wait for the owner's visit on that chain, days of 24 hours
}

// LaunchOutlook is the spread of the launch.
type LaunchOutlook struct {
	Dated bool `json:"dated"`
	Dates
	P80    calendar.Moment    `json:"p80"`
	Even   [2]calendar.Moment `json:"even"` // P50 as far as so many trials tell it, by two standard errors: the two are far apart where it lies beside a shutdown
	Mean   calendar.Moment    `json:"mean"`
	Actual calendar.Moment    `json:"actual,omitempty"`          // she is launched: the moment taken for it
	By     []ByDay            `json:"by,omitempty"`              // chances of the days that the case asks for
	Owner  float64            `json:"owner_wait_days,omitempty"` // mean wait for the owner on the chain that drives it
	Unmet  []string           `json:"unmet_holds,omitempty"`     // steps that wait for the owner beyond the last visit that is known of: no wait is counted
}

// ByDay is the chance that the launch comes by the end of a day.
type ByDay struct {
	Day    calendar.Day `json:"day"`
	Chance float64      `json:"chance"`
}

// TooFew is the error of a forecast that has learned too little to name chances.
type TooFew struct{ Visits, Chains int }

func (e *TooFew) Error() string {
	return fmt.Sprintf("programme: chances need %d visits and %d chains of steps seen from first to last; there are %d and %d",
		LeastVisits, LeastChains, e.Visits, e.Chains)
}

// Forecast plays the programme forward, trial by trial, each step from when it
// was last looked at: what was not, since the last visit, may have begun or be
// done on the data date.
//
// In each trial one draw of what was learned sets the pace of every step, each
// length is drawn from its law (of what is under way: on the condition of the
// time already spent; what was told to be left goes before that), each step of
// the yard waits a while though all has come, holds wait for the next visit,
// and parts have the stands in the order found beforehand. From the starts
// follow, in the same trial and without the waiting, the latest moments to
// decide.
//
// Draws are keyed by seed, trial, step and purpose, and everything is counted
// in whole numbers, so the result is the same bits on any number of workers,
// and one more step leaves the draws of the others alone. With spreads of
// nothing, and all looked at the day before, it is the result of
// Pass.
//
// When ctx is done, it returns what was counted so far, marked Partial, with
// the context's error. Other errors are *TooFew, and *Invalid with every
// problem of the case.
func Forecast(ctx context.Context, c ForecastCase, l Learned, run Run) (Outlook, error) {
	if !l.Enough() {
		return Outlook{}, &TooFew{Visits: l.Visits, Chains: l.Chains}
	}
	if run.Trials == 0 {
		run.Trials = defaultTrials
	}
	if run.Trials < 1 || run.Trials > mostTrials {
		return Outlook{}, fmt.Errorf("programme: %d trials: give 1 to %d", run.Trials, mostTrials)
	}
	m, err := newModel(&c, &l, run, nil)
	if err != nil {
		return Outlook{}, err
	}
	t, err := m.play(ctx, run)
	if t == nil {
		return Outlook{}, err
	}
	out := m.outlook(t, run.Seed)
	if err == nil {
		err = m.regret(ctx, &out, run.workers())
	}
	return out, err
}

// workers is how many goroutines a run may have.
func (r Run) workers() int {
	if r.Workers > 0 {
		return r.Workers
	}
	return runtime.GOMAXPROCS(0)
}

// play runs a pilot, which sets the bins, and then all blocks.
func (m *model) play(ctx context.Context, run Run) (*tally, error) {
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	m.last = make([]int64, m.trials)
	crew := make([]*worker, run.workers())
	if !m.launchOnly {
		if err := m.pilot(crew); err != nil {
			return nil, err
		}
	}
	crew = crew[:min(len(crew), m.blocks())]
	if err := m.playBlocks(ctx, run, crew); err != nil {
		return nil, err
	}
	all := crew[0].tally
	for _, w := range crew[1:] {
		all.add(w.tally)
	}
	if all.trials < run.Trials {
		return all, ctx.Err()
	}
	return all, nil
}

// playBlocks shares the blocks among the crew until all are played or ctx is
// done. What was taken up is played to its end, so that what is counted is the
// first trials.
func (m *model) playBlocks(ctx context.Context, run Run, crew []*worker) error {
	var next, done atomic.Int64
	var wait sync.WaitGroup
	var lock sync.Mutex
	errs := make([]error, len(crew))
	for i := range crew {
		wait.Go(func() {
			if crew[i] == nil { // the pilot had too little to do for it
				crew[i] = m.newWorker()
			}
			w := crew[i]
			w.tally = m.newTally()
			for ctx.Err() == nil && errs[i] == nil {
				b := int(next.Add(1)) - 1
				if b >= m.blocks() {
					break
				}
				errs[i] = w.run(b*m.block, min(m.block, m.trials-b*m.block))
				if n := int(done.Add(1)); run.Progress != nil {
					lock.Lock()
					run.Progress(min(n*m.block, m.trials), m.trials)
					lock.Unlock()
				}
			}
		})
	}
	wait.Wait()
	return firstError(errs)
}
