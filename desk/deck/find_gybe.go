package deck

import (
	"fmt"
	"slices"
	"strings"

	"dogshore/desk"
	"dogshore/figure"
	"dogshore/gybe"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/source"
)

// findLeads says which preventers do not hold, foul something, or are over
// their rating.
func (d *reading) findLeads(a *Arrangement) {
	for _, g := range a.Gybe {
		for _, l := range g.Result.Leads {
			d.findLead(a, g, l)
		}
	}
}

func (d *reading) findLead(a *Arrangement, g Gybe, l gybe.Lead) {
	of := record.Ref(l.Preventer)
	name := fmt.Sprintf("%s, boom out to %s", d.name(of), l.Side)
	for _, x := range []gybe.Answer{l.Settles, l.Stops} {
		if x.Outcome != gybe.Holds {
			a.add(Finding{Sort: Unheld, Of: of, Says: name + ": " + x.Says, Caution: rope.CautionAback.Text(), Figures: d.w.lead(g, l, "")})
			break
		}
	}
	for _, f := range l.Fouls {
		a.add(Finding{Sort: Crossed, Of: of, Says: fmt.Sprintf("%s: its lead comes foul of %s, with the boom between %s and %s out.", name, d.name(record.Ref(f.Obstacle)), degrees(min(f.From, f.To)), degrees(max(f.From, f.To))),
			Caution: rope.CautionAback.Text(), Figures: []figure.Figure{clearance(f)}})
	}
	var missing []string
	for _, p := range l.Parts {
		switch p.Verdict {
		case rope.MeetsNot:
			a.add(Finding{Sort: Weak, Of: of, Caution: rope.CautionEstimate.Text(), Figures: d.w.lead(g, l, p.Name+p.Sort),
				Says: fmt.Sprintf("%s: %s sees %s; with a factor of %.0f that asks for %s, and it is entered with %s.", name, d.part(p), d.loads(p), p.Factor, d.load(p.Factor*p.Load.Most, p.Unit), d.load(p.Rated, p.Unit))})
		case rope.NotKnown:
			missing = append(missing, d.part(p)+", which sees "+d.loads(p))
		}
	}
	if len(missing) > 0 {
		a.add(Finding{Sort: Unknown, Of: of, Caution: rope.CautionEstimate.Text(), Figures: d.w.lead(g, l, ""),
			Says: fmt.Sprintf("%s: nobody has said what is borne by %s.", name, list(missing))})
	}
}

// clearance is the figure of how near a lead comes to something.
func clearance(f gybe.Clearance) figure.Figure {
	return figure.Figure{
		Symbol: "c", Says: fmt.Sprintf("room between them, least with the boom %s out; less than 0: so deep inside", degrees(f.Angle)),
		Value: f.Least, Unit: "m", Text: fmt.Sprintf("%.2f m", f.Least), Source: source.Source{How: source.Derived, Text: "least distance over the boom's angles; docs/theory/gybe.md"},
	}
}

// part is what a part of a preventer's way is called: a fitting by its name,
// the line and the boom as they are.
func (d *reading) part(p gybe.Part) string {
	switch ref := record.Ref(p.Name); {
	case ref.Kind() == "fitting":
		return d.name(ref)
	case ref.Kind() == "turn":
		return "its end (a " + p.Sort + ")"
	case p.Sort == "bending" || p.Sort == "compression":
		return "the boom in " + p.Sort
	}
	return "the " + p.Sort
}

// loads prints the range that a part sees.
func (d *reading) loads(p gybe.Part) string {
	return fmt.Sprintf("%.1f to %s", p.Load.Least/1000, d.load(p.Load.Most, p.Unit))
}

func (d *reading) load(v float64, unit string) string {
	if unit == "N m" {
		return fmt.Sprintf("%.1f kN m", v/1000)
	}
	return kN(v)
}

// findSwept says which clip points and winches lie where the boom, the sheet or
// the traveller sweeps, each once with all that sweeps it. Winches belong to no
// arrangement: of these an option is told what its own preventers sweep.
func (d *reading) findSwept(a *Arrangement) {
	zones := map[record.Ref][]string{}
	figures := map[record.Ref][]figure.Figure{}
	var order []record.Ref
	for _, in := range a.Sweep.Inside {
		ref := record.Ref(in.Station)
		if ref.Kind() == "task" || ref.Kind() == "obstacle" && a.Option != "" && in.Sort != "preventer" && in.Sort != "recoil" {
			continue
		}
		zone := d.zone(in.Zone)
		if slices.Contains(zones[ref], zone) {
			continue
		}
		if zones[ref] == nil {
			order = append(order, ref)
		}
		zones[ref] = append(zones[ref], zone)
		figures[ref] = append(figures[ref], d.swept(in, zone))
	}
	for _, ref := range order {
		a.add(Finding{Sort: Swept, Of: ref, Caution: rope.CautionZones.Text(), Figures: figures[ref],
			Says: fmt.Sprintf("%s lies in what is swept by %s.", d.name(ref), list(zones[ref]))})
	}
}

// zone is what sweeps, as it stands inside a sentence.
func (d *reading) zone(name string) string {
	ref, side, _ := strings.Cut(name, ", ")
	if z := record.Ref(ref); z.Kind() == "sweep" || z.Kind() == "preventer" {
		if called, ok := strings.CutPrefix(d.name(z), "The "); ok {
			return "the " + called
		}
		return "the " + lowered(d.name(z))
	}
	if side != "" {
		return "the " + lowered(ref) + ", " + side
	}
	return "the " + lowered(name)
}

// swept is the figure of the room above somebody's head under the boom; of what
// sweeps flat there is only the place.
func (d *reading) swept(in gybe.Inside, zone string) figure.Figure {
	ref := record.Ref(in.Station)
	field := "spot"
	if ref.Kind() == "obstacle" {
		field = "plan"
	}
	at := desk.Typed(d.r, ref, field, "its place, as entered")
	if in.Sort != "boom" {
		at.Says = "its place, which lies in what is swept by " + zone
		return at
	}
	leaf := func(symbol, says string, v float64) figure.Figure {
		return figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: "m", Text: fmt.Sprintf("%.2f m", v), Source: source.Source{How: source.Derived}}
	}
	f := leaf("r", "room between a head and the underside of the boom; less than 0: it is struck", in.Room)
	f.Rule = "r = zb - zd - h"
	f.Of = []figure.Figure{leaf("zb", "underside of the boom there", in.Room+in.At.Z+stature), leaf("zd", "what one stands on", in.At.Z), leaf("h", "a tall person, with boots", stature), at}
	return f
}
