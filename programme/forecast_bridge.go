package programme

import "math"

// bridge tells how much is worked on one clock by the moment at which work on
// another ends, or goes on. Over each day of work that is a straight line, level
// where the first clock's day has not begun or is over.
type bridge struct {
	from  int64   // the work at which the tables begin
	guess []int32 // of the day, by work from there >> shift
	days  []bridgeDay
}

// bridgeDay takes work before end, and after that of the day before.
type bridgeDay struct{ end, add, lo, hi int64 }

// newBridge lays the tables from one clock to another, for where work ends or
// else for where it goes on.
func newBridge(a, b *clock, ends bool) *bridge {
	out := &bridge{}
	put := func(day, end, add int64) {
		d := bridgeDay{end: end, add: add, lo: math.MinInt64 / 2, hi: math.MaxInt64 / 2}
		if !b.by {
			i := day - b.first
			d.lo, d.hi = b.before[i], b.before[i+1]
			d.add += d.lo - day*secondsADay - b.opens
		}
		out.days = append(out.days, d)
	}
	if a.by {
		out.from = b.first * secondsADay
		for i := range len(b.before) - 1 {
			day := b.first + int64(i)
			put(day, (day+1)*secondsADay, 0)
		}
		return out.lay()
	}
	late := int64(0) // what ends a day of work is of that day, what goes on of the next
	if ends {
		late = 1
	}
	out.from = a.before[0] + late
	for i := range len(a.before) - 1 {
		if a.before[i+1] > a.before[i] {
			day := a.first + int64(i)
			put(day, a.before[i+1]+late, day*secondsADay+a.opens-a.before[i])
		}
	}
	return out.lay()
}

// lay lays the guesses.
func (b *bridge) lay() *bridge {
	if len(b.days) == 0 {
		return b
	}
	day := int32(0)
	for k := b.from; k+1<<guessShift <= b.days[len(b.days)-1].end; k += 1 << guessShift {
		for b.days[day].end <= k {
			day++
		}
		b.guess = append(b.guess, day)
	}
	return b
}

// cross crosses from x to out; beyond the tables it asks.
func (b *bridge) cross(x, out []int64, ask func(int64) int64) {
	out = out[:len(x)]
	for i, k := range x {
		g := uint64(k-b.from) >> guessShift
		if g >= uint64(len(b.guess)) {
			out[i] = ask(k)
			continue
		}
		at := b.guess[g]
		at += int32(uint64(b.days[at].end-1-k) >> 63) // one day on or none, which nobody can foresee
		for b.days[at].end <= k {
			at++
		}
		d := &b.days[at]
		out[i] = min(max(k+d.add, d.lo), d.hi)
	}
}

// layBridges gives the links between clocks theirs: those without a lag, whose
// need is no finish.
func (m *model) layBridges() {
	type between struct {
		from, to int32
		ends     bool
	}
	laid := make(map[between]*bridge)
	for _, j := range m.order {
		p := &m.places[j]
		for i := range p.in {
			l := &p.in[i]
			at := between{m.places[l.from].clock, p.clock, l.finish}
			if l.plain || l.lag != 0 || l.snap >= 0 || l.end && !p.at || m.clocks[at.from].by && m.clocks[at.to].by {
				continue
			}
			if laid[at] == nil {
				laid[at] = newBridge(m.clocks[at.from], m.clocks[at.to], at.ends)
			}
			l.bridge = laid[at]
		}
	}
}
