package gybe

import (
	"fmt"

	"dogshore/figure"
	"dogshore/source"
)

var byRange = source.Source{How: source.Derived, Text: "greatest over both ends of the wind and of the slack, the line's stretch halved and doubled; docs/theory/gybe.md"}

func rangeText(r Range, unit string) string {
	if unit == "N" {
		return fmt.Sprintf("%.1f to %.1f kN", r.Least/1000, r.Most/1000)
	}
	return fmt.Sprintf("%.1f to %.1f k%s", r.Least/1000, r.Most/1000, unit)
}

// at says of which setting a load is the greatest.
func (s Setting) at() string {
	text := fmt.Sprintf("%.1f m/s of wind", s.Wind)
	if s.Stretch != 0 {
		text += fmt.Sprintf(", the line %g times as stiff as entered, %.2g m of slack", s.Stretch, s.Slack)
	}
	if s.How != "" {
		text = string(s.How) + ", " + text
	}
	return text
}

// Tension returns the working of the greatest tension that a preventer sees on
// a side: slowly, at once, and with the end of the boom in the water. ok is
// false where it does not hold.
func (w *Workings) Tension(l Lead, p Preventer) (f figure.Figure, ok bool) {
	f = figure.Figure{Symbol: "T", Says: "greatest tension of the line at the boom", Unit: "N", Rule: "T = max(", Source: byRange}
	all := Range{Least: -1}
	for i, x := range []struct {
		a    *Answer
		says string
	}{{&l.Settles, "the wind coming slowly"}, {&l.Stops, "the sail caught aback at once"}, {l.Dipped, "with the end of the boom in the water"}} {
		if x.a == nil || x.a.Outcome != Holds {
			continue
		}
		t := x.a.Tension
		if all.Least < 0 {
			all = t
		}
		all.Least, all.Most = min(all.Least, t.Least), max(all.Most, t.Most)
		one := figure.Figure{Symbol: fmt.Sprintf("T%d", i+1), Says: "tension, " + x.says + "; the most " + t.At.at(), Value: t.Most, Unit: "N", Text: rangeText(t, "N"), Source: byRange}
		one.Of = w.behind(p, l.Side, x.a)
		if len(f.Of) > 0 {
			f.Rule += ", "
		}
		f.Rule += one.Symbol
		f.Of = append(f.Of, one)
	}
	f.Rule += ")"
	f.Value, f.Text = all.Most, rangeText(all, "N")
	return f, len(f.Of) > 0
}

// behind is what an answer's greatest tension rests on: of a stop the balance
// of energy, where the lead has no friction; else the tension that would hold
// the boom where it was set up, the line not giving.
func (w *Workings) behind(p Preventer, side Side, a *Answer) []figure.Figure {
	for _, run := range a.Runs {
		if run.Setting == a.Tension.At && run.How == AtOnce {
			if f, ok := w.Stopped(p, side, run); ok {
				return []figure.Figure{f}
			}
		}
	}
	var out []figure.Figure
	if f, ok := w.Held(p, side, p.set(&w.r.c.Boom)); ok {
		f.Says = "for comparison, held where it is set up, the line not giving"
		out = append(out, f)
	} else {
		out = append(out, w.Moment(w.r.c.Wind.top()))
	}
	return out
}

// Part returns the working of the margin of a part of a preventer's way; of a
// part whose rating is not known that of its load alone.
func (w *Workings) Part(q Part, called string) figure.Figure {
	load := figure.Figure{Symbol: "F", Says: "greatest load on " + called + ": " + q.Load.At.at(), Value: q.Load.Most, Unit: q.Unit, Text: rangeText(q.Load, q.Unit), Source: byRange}
	if q.Margin == 0 {
		return load
	}
	fields := map[string]string{"line": "preventers.line.holds_n", "compression": "boom.compression_n", "bending": "boom.bending_nm"}
	field := fields[q.Sort]
	if field == "" {
		field = "preventers.turns.rated_n"
	}
	return worked("M", "rated load over greatest load of "+called+", factor taken off", "", q.Margin, "M = B / k / F", byRange,
		w.input("B", "what "+called+" is entered with", field, q.Unit, q.Rated),
		w.input("k", "factor on the greatest load", "factor", "", q.Factor), load)
}

// Swing returns the working of how fast the boom's end comes across without a
// preventer. ok is false where the masses are not known.
func (w *Workings) Swing(s Swing) (f figure.Figure, ok bool) {
	if s.End == 0 {
		return f, false
	}
	return worked("v", "speed of the boom's end as it comes amidships, held by nothing", "m/s", s.End, "v = w * L", byMast,
		worked("w", "rate of its swing there", "rad/s", s.Rate, "", byEnergy),
		w.input("L", "length of the boom that is level", "boom.length_m", "m", s.End/s.Rate)), true
}

// Dips returns the working of the heel at which the end of the boom touches the
// water, right out.
func (w *Workings) Dips(d DipLoad) figure.Figure {
	return figure.Figure{Symbol: "a", Says: "heel at which the end of the boom touches the water, right out", Value: d.Roll, Unit: "rad", Text: fmt.Sprintf("%.0f°", d.Roll*180/3.141592653589793), Source: byMast, Of: []figure.Figure{
		{Symbol: "F", Says: "drag of the water on it then", Value: d.Force.Most, Unit: "N", Text: rangeText(d.Force, "N"), Source: byRange},
	}}
}
