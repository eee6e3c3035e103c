package deck

import (
	"fmt"
	"math"

	"dogshore/jackstay"
	"dogshore/record"
)

// Comparison sets two arrangements of one open point beside each other.
type Comparison struct {
	Point        record.Ref
	A, B         record.Ref // the options
	AName, BName string
	Rows         []Compared // what differs first, then what does not
}

// Compared is one quantity of two arrangements, and whether they differ by more
// than is known of them.
type Compared struct {
	What string
	A, B string // as printed, with their bands
	Told jackstay.Told
	Says string // in words
}

// Differs reports whether the difference can be told.
func (c Compared) Differs() bool { return c.Told != jackstay.NoDifference }

// compare compares each two arrangements of each open point.
func (d *reading) compare() {
	all := d.a.Arrangements
	for i := range all {
		for k := i + 1; k < len(all); k++ {
			if all[i].Point == "" || all[i].Point != all[k].Point {
				continue
			}
			c := Comparison{Point: all[i].Point, A: all[i].Option, B: all[k].Option, AName: all[i].Name, BName: all[k].Name}
			rows := compared(&all[i], &all[k])
			for _, differs := range []bool{true, false} {
				for _, r := range rows {
					if r.Differs() == differs {
						c.Rows = append(c.Rows, r)
					}
				}
			}
			if len(c.Rows) > 0 {
				d.a.Compared = append(d.a.Compared, c)
			}
		}
	}
}

// measure is one quantity of an arrangement, with its band.
type measure struct {
	what  string
	err   float64 // what is open of it besides the band
	print func(jackstay.Band) string
	of    func(*Arrangement) (jackstay.Band, bool)
}

func compared(a, b *Arrangement) []Compared {
	var out []Compared
	for _, m := range measures() {
		x, okA := m.of(a)
		y, okB := m.of(b)
		if !okA || !okB {
			continue
		}
		c := Compared{What: m.what, A: m.print(x), B: m.print(y), Told: jackstay.Tell(x, y, m.err)}
		switch c.Told {
		case jackstay.First:
			c.Says = fmt.Sprintf("%s: %s against %s, so the first has more", m.what, c.A, c.B)
		case jackstay.Second:
			c.Says = fmt.Sprintf("%s: %s against %s, so the second has more", m.what, c.A, c.B)
		default:
			c.Says = fmt.Sprintf("%s: %s against %s, no difference that can be told", m.what, c.A, c.B)
		}
		out = append(out, c)
	}
	return out
}

func measures() []measure {
	exact := func(v float64) jackstay.Band { return jackstay.Band{Soft: v, As: v, Stiff: v} }
	metre := func(b jackstay.Band) string {
		if low, high := least(b), greatest(b); math.Abs(high-low) >= 0.05 {
			return fmt.Sprintf("%.1f to %.1f m", low, high)
		}
		return fmt.Sprintf("%.1f m", greatest(b))
	}
	whole := func(b jackstay.Band) string { return fmt.Sprintf("%.0f", b.As) }
	tasks := func(of func(Task) float64) func(*Arrangement) (jackstay.Band, bool) {
		return func(a *Arrangement) (jackstay.Band, bool) {
			sum := 0.0
			for _, t := range a.Tasks {
				sum += of(t)
			}
			return exact(sum), len(a.Tasks) > 0
		}
	}
	return []measure{
		{what: "way on no hook, all tasks together", err: 0.1, print: metre, of: tasks(Task.Bare)},
		{what: "changes at which the only hook is let go first", print: whole, of: tasks(func(t Task) float64 { return float64(t.Walked.Moments) })},
		{what: "tether left over beyond an edge, at the worst", err: 0.1, print: metre, of: farthestOver},
		{what: "height of the ring above the water, at the worst", err: 0.1, print: metre, of: lowestRing},
		{what: "tension of a line in a fall", print: kNs, of: overLines(func(l jackstay.LineResult) jackstay.Band { return l.Tension })},
		{what: "load of a fall on the person", print: kNs, of: overLines(func(l jackstay.LineResult) jackstay.Band { return l.Body })},
		{what: "load on one fitting", print: kNs, of: overFittings},
		{what: "tension of a preventer", print: kNs, of: overLeads("")},
		{what: "load on a turn of a preventer", print: kNs, of: overLeads("turn")},
		{what: "compression of the boom", print: kNs, of: overLeads("compression")},
		{what: "bending of the boom, in kN at 1 m", print: kNs, of: overLeads("bending")},
	}
}

func least(b jackstay.Band) float64 { return math.Min(b.Soft, math.Min(b.As, b.Stiff)) }

// greater is the greater of two bands, at each stiffness.
func greater(a, b jackstay.Band) jackstay.Band {
	return jackstay.Band{Soft: math.Max(a.Soft, b.Soft), As: math.Max(a.As, b.As), Stiff: math.Max(a.Stiff, b.Stiff)}
}

func overLines(of func(jackstay.LineResult) jackstay.Band) func(*Arrangement) (jackstay.Band, bool) {
	return func(a *Arrangement) (out jackstay.Band, ok bool) {
		for _, l := range a.Result.Lines {
			out, ok = greater(out, of(l)), true
		}
		return out, ok
	}
}

func overFittings(a *Arrangement) (out jackstay.Band, ok bool) {
	for _, l := range a.Result.Lines {
		for _, s := range l.Supports {
			out, ok = greater(out, s.Load), true
		}
	}
	for _, p := range a.Result.Points {
		out, ok = greater(out, p.Arrest), true
	}
	return out, ok
}

// sidesOf are all passings of an arrangement over edges with water below.
func sidesOf(a *Arrangement) []jackstay.Passing {
	var out []jackstay.Passing
	take := func(sides []jackstay.Side) {
		for _, s := range sides {
			out = append(out, passing(s))
		}
	}
	for _, l := range a.Result.Lines {
		take(l.Sides)
	}
	for _, p := range a.Result.Points {
		take(p.Sides)
	}
	return out
}

func farthestOver(a *Arrangement) (out jackstay.Band, ok bool) {
	out = jackstay.Band{Soft: math.Inf(-1), As: math.Inf(-1), Stiff: math.Inf(-1)}
	for _, p := range sidesOf(a) {
		out, ok = greater(out, p.By), true
	}
	return out, ok
}

func lowestRing(a *Arrangement) (out jackstay.Band, ok bool) {
	out = jackstay.Band{Soft: math.Inf(1), As: math.Inf(1), Stiff: math.Inf(1)}
	for _, p := range sidesOf(a) {
		r := p.Ring
		out, ok = jackstay.Band{Soft: math.Min(out.Soft, r.Soft), As: math.Min(out.As, r.As), Stiff: math.Min(out.Stiff, r.Stiff)}, true
	}
	return out, ok
}

// overLeads is the range of a part over all preventers: of the line, of a turn,
// of the boom.
func overLeads(part string) func(*Arrangement) (jackstay.Band, bool) {
	return func(a *Arrangement) (out jackstay.Band, ok bool) {
		for _, g := range a.Gybe {
			for _, l := range g.Result.Leads {
				for _, p := range l.Parts {
					kind := p.Sort
					switch kind {
					case "line":
						kind = ""
					case "block", "eye", "clutch", "cleat", "winch":
						kind = "turn"
					}
					if kind == part {
						out, ok = greater(out, jackstay.Band{Soft: p.Load.Least, As: p.Load.Least, Stiff: p.Load.Most}), true
					}
				}
			}
		}
		return out, ok
	}
}
