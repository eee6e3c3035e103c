package deck

import (
	"fmt"
	"math"
	"strings"

	"dogshore/figure"
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/source"
)

// remarks says, with the numbers of the lines on record, what people often take
// to be the other way round: what the engine found of each line, then what the
// whole arrangement shows.
func (d *reading) remarks(a *Arrangement) {
	for i := range a.Result.Lines {
		l := &a.Result.Lines[i]
		for _, r := range l.Remarks {
			d.remark(a, record.Ref(l.ID), r)
		}
		d.remarkSides(a, l)
	}
	d.remarkWhole(a)
	a.Remarks = alikeSaid(a.Remarks, d.name)
}

func (a *Arrangement) remarked(of record.Ref, what, says string, figures ...figure.Figure) {
	a.Remarks = append(a.Remarks, Said{Of: of, What: what, Says: says, Figures: figures})
}

// remark puts one of the engine's remarks into words.
func (d *reading) remark(a *Arrangement, of record.Ref, r jackstay.Remark) {
	print := func(v float64) string {
		if r.Unit == "N" {
			return kN(v)
		}
		return fmt.Sprintf("%.2f m", v)
	}
	if strings.HasPrefix(r.Change, "hook ") {
		r.Change = "the " + r.Change
	}
	told := string(r.Told)
	switch {
	case r.Told == jackstay.First:
		told = "less, by more than the band"
	case r.Told == jackstay.Second:
		told = "more, by more than the band"
	}
	figures := []figure.Figure{
		{Symbol: "a", Says: r.What + ", as it is", Value: r.As, Unit: r.Unit, Text: print(r.As), Source: byDeck},
		{Symbol: "b", Says: r.What + ", with " + r.Change, Value: r.Then, Unit: r.Unit, Text: print(r.Then), Source: byDeck},
	}
	a.remarked(of, string(r.Key), fmt.Sprintf("%s: %s is %s; with %s it would be %s: %s.", d.name(of), r.What, print(r.As), r.Change, print(r.Then), told), figures...)
}

// remarkSides says where a line lets one over the far side, and where one goes
// under the lower wire instead of over the rail.
func (d *reading) remarkSides(a *Arrangement, l *jackstay.LineResult) {
	of := record.Ref(l.ID)
	y := 0.0
	for _, c := range a.Case.Lines {
		if c.ID == l.ID {
			for _, s := range c.Supports {
				y += s.At.Y / float64(len(c.Supports))
			}
		}
	}
	var far, under *jackstay.Side
	for i := range l.Sides {
		s := &l.Sides[i]
		if rank(s.Class) == 0 {
			continue
		}
		p := passing(*s)
		if math.Abs(y) > 0.1 && y*p.At.Y < 0 && math.Abs(p.At.Y) > 0.3 && (far == nil || greatest(p.By) > greatest(passing(*far).By)) {
			far = s
		}
		if s.Under != nil && s.Over != nil && greatest(s.Under.By) > greatest(s.Over.By)+0.05 && rank(s.Under.Class) > 0 && (under == nil || greatest(s.Under.By) > greatest(under.Under.By)) {
			under = s
		}
	}
	if far != nil {
		a.remarked(of, "a line lets one over the far side too", fmt.Sprintf("%s lies on the other side, and still: %s.", d.name(of), d.goes(a, *far)), d.w.over(*far)...)
	}
	if under != nil {
		a.remarked(of, "through under the lower wire one goes farther than over the rail", fmt.Sprintf("%s, on the %s leg at %s: under the wire there is %.1f m of tether left over, over the rail %.1f m.", d.name(of), metres(under.Leg), d.name(record.Ref(under.Edge)), greatest(under.Under.By), greatest(under.Over.By)), d.w.over(*under)...)
	}
}

// hookingApart is how far apart the standard lets hooking points be, m: ISO
// 15085, edition 2003, as told by a consultancy's page.
const hookingApart = 3.0

// remarkWhole says what the whole arrangement shows.
func (d *reading) remarkWhole(a *Arrangement) {
	r := &a.Result
	if len(r.Lines)+len(r.Points) == 0 {
		return
	}
	if len(r.Transfers) > 0 && r.Transfers[0].Bridge < hookingApart {
		a.remarked("", "the standard's spacing of hooking points cannot be bridged by reach", fmt.Sprintf("Hooking points may be %.0f m apart by the standard (ISO 15085, edition 2003, told second-hand); on the tethers entered %.1f m can be bridged without unclipping.", hookingApart, r.Transfers[0].Bridge), d.bridge(r.Transfers[0]))
	}
	dragged, unknown := 0, 0
	for _, f := range a.Findings {
		if f.Sort == Dragged {
			dragged += f.Count()
		}
	}
	for _, x := range a.Anchors {
		if x.Result.Verdict == rope.NotKnown {
			unknown++
		}
	}
	if dragged > 0 {
		a.remarked("", "attached and dragged is a fail", "Where somebody ends in the water, still attached, it counts as the gravest finding here, not as held: at speed one is towed under, and two cannot pull one in.")
	}
	if unknown > 0 {
		a.remarked("", "an unknown laminate is unknown", fmt.Sprintf("Of %d of %d fittings something is not on record that their strength rests on: they have no margin, and are not counted as holding.", unknown, len(a.Anchors)))
	}
	if len(r.Lines) > 0 {
		d.remarkBand(a)
	}
}

// remarkBand says what the band of stiffness is, and what a fall does to the
// person.
func (d *reading) remarkBand(a *Arrangement) {
	worst, body := jackstay.Band{}, jackstay.Band{}
	for _, l := range a.Result.Lines {
		if greatest(l.Tension) > greatest(worst) {
			worst = l.Tension
		}
		if greatest(l.Body) > greatest(body) {
			body = l.Body
		}
	}
	a.remarked("", "stiffness is known to half and double", fmt.Sprintf("Nobody knows what a line stretches better than to half and double: the greatest tension is %s over that band; the stiff end loads the anchors, the soft end says how far one goes.", kNs(worst)),
		figure.Figure{Says: "greatest tension of a line in a fall, at double stiffness", Value: worst.Stiff, Unit: "N", Text: kN(worst.Stiff), Source: byDeck})
	a.remarked("", "what holds the line may still hurt the person", fmt.Sprintf("A fall of 1 m puts %s on whoever falls; industrial rules allow 6 to 8 kN on a full-body harness (from memory), and a harness round the chest should see less.", kNs(body)),
		figure.Figure{Says: "greatest load of a fall on the person", Value: greatest(body), Unit: "N", Text: kN(greatest(body)), Source: source.Source{How: source.Derived, Text: "conservation of energy; docs/theory/jackstay.md"}})
}
