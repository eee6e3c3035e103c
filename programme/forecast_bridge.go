package programme

import (
	"math"
	"math/bits"
)

// bridge tells how much is worked on one clock by the moment at which work on
// another ends, or goes on. Over each day of work that is a straight line, level
// where the first clock's day has not begun or is over. The other's days are laid
// out in slots that all of them are made of, so that nothing is sought.
type bridge struct {
	from  int64  // the work at which the slots begin
	per   uint64 // 1 / slot in 1<<64
	slots []line
}

// line is worth what comes in, and add, but within bounds.
type line struct{ add, lo, hi int64 }

// mostSlots bounds a bridge. Days of work that have little in common would ask
// for more; there the calendars are asked.
const mostSlots = 1 << 18

// newBridge lays the slots from one clock to another, for where work ends or else
// for where it goes on; nil if they are too many.
func newBridge(a, b *clock, ends bool) *bridge {
	out := &bridge{}
	n := max(len(a.before), len(b.before))
	until := make([]int64, 0, n) // of each day, the work at which it is over
	days := make([]line, 0, n)
	put := func(day, end, add int64) {
		d := line{add, math.MinInt64 / 2, math.MaxInt64 / 2}
		if !b.by {
			i := day - b.first
			d.lo, d.hi = b.before[i], b.before[i+1]
			d.add += d.lo - day*secondsADay - b.opens
		}
		until, days = append(until, end), append(days, d)
	}
	if a.by {
		out.from = b.first * secondsADay
		for i := range len(b.before) - 1 {
			day := b.first + int64(i)
			put(day, (day+1)*secondsADay, 0)
		}
	} else {
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
	}
	if !out.lay(until, days) {
		return nil
	}
	return out
}

// lay cuts days into slots.
func (b *bridge) lay(until []int64, days []line) bool {
	slot, from := int64(0), b.from
	for _, end := range until {
		slot, from = gcd(end-from, slot), end
	}
	if slot == 0 || (from-b.from)/slot > mostSlots {
		return false
	}
	b.per = math.MaxUint64/uint64(slot) + 1
	b.slots = make([]line, 0, (from-b.from)/slot)
	at := b.from
	for i, d := range days {
		for ; at < until[i]; at += slot {
			b.slots = append(b.slots, d)
		}
	}
	return true
}

func gcd(a, b int64) int64 {
	for b != 0 {
		a, b = b, a%b
	}
	return a
}

// cross crosses from x to out; beyond the slots it asks.
func (b *bridge) cross(x, out []int64, ask func(int64) int64) {
	if b.within(x, out) == len(x) {
		return
	}
	for i, k := range x {
		if b.slot(k) >= uint64(len(b.slots)) {
			out[i] = ask(k)
		}
	}
}

// slot is the number of the slot of work k, exact where there is one: the product
// is off by less than 1/slot as long as it is below 1<<47.
func (b *bridge) slot(k int64) uint64 {
	at, _ := bits.Mul64(uint64(k-b.from), b.per)
	return at
}

// within crosses what lies within the slots, and says how many that are.
func (b *bridge) within(x, out []int64) (n int) {
	slots, from, per := b.slots, b.from, b.per
	out = out[:len(x)]
	for i, k := range x {
		if at, _ := bits.Mul64(uint64(k-from), per); at < uint64(len(slots)) {
			d := &slots[at]
			out[i] = min(max(k+d.add, d.lo), d.hi)
			n++
		}
	}
	return n
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
			if _, has := laid[at]; !has {
				laid[at] = newBridge(m.clocks[at.from], m.clocks[at.to], at.ends)
			}
			l.bridge = laid[at]
		}
	}
}
