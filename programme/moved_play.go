package programme

import (
	"context"
	"math"
	"math/bits"
	"reflect"
	"slices"
	"sync"

	"dogshore/calendar"
)

// mover plays mixtures of two states.
type mover struct {
	before, after *Known
	run           Run
	same          int                // groups that do not differ
	model         [bitAll + 1]*model // of each mixture that is played, with its launches
	settings      []*setting
}

// setting is a set of other groups that are taken from the later state, and what
// the later sightings do in it.
type setting struct {
	later  int
	weight float64
	blend  *blend // nil where they do nothing, or a launch has no date
	parts  []shares
	idle   sync.Pool // of workers of the blend
}

// findSame finds the groups that make no difference, whose part is nothing.
func (x *mover) findSame() {
	for g := range groups {
		bit := 1 << g
		switch {
		case bit == bitTime && x.before.Case.DataDate == x.after.Case.DataDate,
			bit == bitPace && reflect.DeepEqual(x.before.Learned, x.after.Learned),
			bit != bitTime && bit != bitPace && reflect.DeepEqual(x.mix(0), x.mix(bit)) && reflect.DeepEqual(x.mix(bitAll), x.mix(bitAll&^bit)):
			x.same |= bit
		}
	}
}

// weigh returns the Shapley weight of a set of the other four groups: how many
// orders put it, and no other, before the fifth.
func weigh(set int) float64 {
	const n = len(groups)
	return [n]float64{1. / 5, 1. / 20, 1. / 30, 1. / 20, 1. / 5}[bits.OnesCount(uint(set))] // |S|! (n-1-|S|)! / n!
}

// play plays every mixture that differs from the others for its launch alone.
func (x *mover) play(ctx context.Context) error {
	for s := range bitAll + 1 {
		switch at := s &^ x.same; {
		case s&bitSightings != 0:
		case s == at:
			x.settings = append(x.settings, &setting{later: s, weight: weigh(s)})
		default:
			i := slices.IndexFunc(x.settings, func(o *setting) bool { return o.later == at })
			x.settings[i].weight += weigh(s)
		}
	}
	if err := each(ctx, x.run.workers(), len(x.settings), x.lay); err != nil {
		return err
	}
	blocks := (x.run.Trials + lanes - 1) / lanes
	for i := range x.settings {
		x.settings[i].parts = make([]shares, blocks)
	}
	return each(ctx, x.run.workers(), len(x.settings)*blocks, func(k int) error {
		return x.playBlock(x.settings[k/blocks], k%blocks)
	})
}

// lay makes the mixtures of a setting ready.
func (x *mover) lay(i int) error {
	s := x.settings[i]
	first, err := x.make(s.later, nil)
	if err != nil {
		return err
	}
	x.model[s.later] = first
	if x.same&bitSightings != 0 {
		return nil
	}
	last, err := x.make(s.later|bitSightings, nil)
	if err != nil {
		return err
	}
	x.model[s.later|bitSightings] = last
	if !slices.Equal(first.stands, last.stands) { // the blend keeps one order
		if first, err = x.make(s.later, append([]Link{}, last.stands...)); err != nil {
			return err
		}
	}
	if s.blend = newBlend(first, last); s.blend != nil {
		s.idle.New = func() any { return s.blend.newWorker() }
	}
	return nil
}

// make makes a mixture ready; order, if given, is that at its stands.
func (x *mover) make(later int, order []Link) (*model, error) {
	c, l := x.mix(later), &x.before.Learned
	if later&bitPace != 0 {
		l = &x.after.Learned
	}
	m, err := newModel(&c, l, x.run, order)
	if m != nil {
		m.block = lanes
	}
	if err == nil && m.launch >= 0 && !m.afloat() {
		m.last = make([]int64, x.run.Trials)
	}
	return m, err
}

// playBlock plays a block of trials of a setting.
func (x *mover) playBlock(s *setting, k int) error {
	from := k * lanes
	n := min(lanes, x.run.Trials-from)
	played := [2]*model{}
	if s.blend != nil && from < sharedTrials {
		w := s.idle.Get().(*blendWorker)
		var err error
		if s.parts[k], err = w.run(from, n); err != nil {
			return err
		}
		s.idle.Put(w)
		played = s.blend.m
	}
	for _, m := range []*model{x.model[s.later], x.model[s.later|bitSightings]} {
		if m == nil || m.last == nil || m == played[0] || m == played[1] {
			continue
		}
		w := m.newWorker()
		if err := w.pass(from, n, w.add); err != nil {
			return err
		}
		w.countLaunch(from)
	}
	return nil
}

// at returns the mixture that takes groups from the later state.
func (x *mover) at(later int) *model { return x.model[later&^x.same] }

// launch is the launch of a mixture: its moment or its even chance, 0 if it has
// neither.
func (x *mover) launch(later int) calendar.Moment {
	m := x.at(later)
	switch {
	case m.afloat():
		return m.net.nodes[m.byID[m.c.Launch]].to
	case m.last == nil:
		return 0
	}
	return m.zero + calendar.Moment(sample(slices.Sorted(slices.Values(m.last)), 0.5))
}

// part is the Shapley value of group g.
func (x *mover) part(g int) float64 {
	bit, sum := 1<<g, 0.0
	if x.same&bit != 0 {
		return 0
	}
	for s := range bitAll + 1 {
		if s&bit == 0 {
			sum += weigh(s) * x.between(x.launch(s), x.launch(s|bit))
		}
	}
	return sum
}

// steps shares out what sightings did, step by step.
func (x *mover) steps(out *Movement) {
	out.Rest = out.Parts[1].Days
	var sum shares
	var b *blend
	for _, s := range x.settings {
		if b = s.blend; b == nil {
			return
		}
		for _, p := range s.parts {
			sum.add(p, s.weight/float64(min(x.run.Trials, sharedTrials))/b.unit)
		}
	}
	scale := 1.0
	if ratio := out.Rest / sum.whole; ratio > 0.5 && ratio < 2 {
		scale = ratio
	}
	out.Mean, out.Missed = sum.whole, sum.whole
	news := x.news()
	for i := range x.after.Case.Steps {
		id := x.after.Case.Steps[i].ID
		work := sum.step[id]
		if math.Abs(work) < leastShare && !news[id] {
			continue
		}
		out.Steps = append(out.Steps, MovedStep{ID: id, Mean: work, Days: scale * work})
		out.Missed -= work
		out.Rest -= scale * work
	}
}

// sharedTrials are those of which the parts of steps are the mean: two whole
// blocks, so that each draw of the pace counts as often as the others. A part is
// a mean of differences with common draws and needs fewer than a chance does.
const sharedTrials = 2 * lanes

// leastShare is the least part of a step that nobody looked at anew that is
// told, in working days.
const leastShare = 0.01

// news are the steps of which something was seen, or told to be left, since.
func (x *mover) news() map[string]bool {
	was, out := stepsByID(&x.before.Case), make(map[string]bool)
	for i := range x.after.Case.Steps {
		s := &x.after.Case.Steps[i]
		b := was[s.ID]
		out[s.ID] = b != nil && !s.Supplier && !(reflect.DeepEqual(b.Seen, s.Seen) && reflect.DeepEqual(b.Left, s.Left))
	}
	return out
}

func stepsByID(c *ForecastCase) map[string]*ForecastStep {
	out := make(map[string]*ForecastStep, len(c.Steps))
	for i := range c.Steps {
		out[c.Steps[i].ID] = &c.Steps[i]
	}
	return out
}
