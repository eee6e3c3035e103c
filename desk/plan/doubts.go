package plan

import (
	"fmt"
	"strings"

	"dogshore/record"
)

// doubtNetwork tells the sightings that no course of the programme allows,
// with each side's last look.
func (d *reading) doubtNetwork() {
	for _, c := range d.a.Network.Contradictions {
		var about []record.Ref
		var names, sides []string
		for _, id := range c.Steps {
			ref := record.R("step", id)
			about = append(about, ref)
			names = append(names, the(d.name(ref)))
			for _, l := range d.looks[ref] {
				if l.firm() {
					sides = append(sides, fmt.Sprintf("%s: %s, %s on %s", d.name(ref), l.state, l.grounds, d.short(l.day)))
				}
			}
		}
		d.doubt(Sightings, "What was seen of "+strings.Join(names, " and ")+" does not fit together.", about, sides...)
	}
}
