package deck

import (
	"fmt"
	"slices"

	"dogshore/gybe"
	"dogshore/record"
	"dogshore/rope"
)

// findLeads says which preventers do not hold, foul something, or are over
// their rating.
func (d *reading) findLeads(a *Arrangement) {
	for _, g := range a.Gybe {
		for _, l := range g.Result.Leads {
			d.findLead(a, l)
		}
	}
}

func (d *reading) findLead(a *Arrangement, l gybe.Lead) {
	of := record.Ref(l.Preventer)
	name := fmt.Sprintf("%s, boom out to %s", d.name(of), l.Side)
	for _, x := range []gybe.Answer{l.Settles, l.Stops} {
		if x.Outcome != gybe.Holds {
			a.add(Finding{Sort: Unheld, Of: of, Says: name + ": " + x.Says, Caution: rope.CautionAback.Text()})
			break
		}
	}
	for _, f := range l.Fouls {
		a.add(Finding{Sort: Crossed, Of: of, Says: fmt.Sprintf("%s: its lead comes foul of %s.", name, d.name(record.Ref(f.Obstacle)))})
	}
	for _, p := range l.Parts {
		if p.Verdict == rope.MeetsNot {
			a.add(Finding{Sort: Weak, Of: of, Caution: rope.CautionEstimate.Text(),
				Says: fmt.Sprintf("%s: %s sees up to %s; it is entered with %s.", name, d.part(p), d.load(p.Load.Most, p.Unit), d.load(p.Rated, p.Unit))})
		}
	}
}

// part is what a part of a preventer's way is called: a fitting by its name,
// the line and the boom as they are.
func (d *reading) part(p gybe.Part) string {
	if ref := record.Ref(p.Name); ref.Kind() == "fitting" || ref.Kind() == "turn" {
		return d.name(ref)
	}
	return "the " + p.Sort
}

func (d *reading) load(v float64, unit string) string {
	if unit == "N m" {
		return fmt.Sprintf("%.1f kN m", v/1000)
	}
	return kN(v)
}

// findSwept says which clip points and winches lie where the boom, the sheet or
// the traveller sweeps.
func (d *reading) findSwept(a *Arrangement) {
	var said []string
	for _, in := range a.Sweep.Inside {
		ref := record.Ref(in.Station)
		if ref.Kind() == "task" || slices.Contains(said, in.Station+in.Sort) {
			continue
		}
		said = append(said, in.Station+in.Sort)
		zone := in.Zone
		if z := record.Ref(in.Zone); z.Kind() == "sweep" {
			zone = d.name(z)
		}
		a.add(Finding{Sort: Swept, Of: ref, Caution: rope.CautionZones.Text(),
			Says: fmt.Sprintf("%s lies in what is swept by the %s.", d.name(ref), lowered(zone))})
	}
}
