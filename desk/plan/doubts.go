package plan

import (
	"fmt"
	"strings"

	"dogshore/desk"
	"dogshore/programme"
	"dogshore/record"
)

// doubtNetwork tells the sightings that no course of the programme allows,
// once for each set of steps, with every sighting that stands against another.
func (d *reading) doubtNetwork() {
	together := map[string][]programme.Seen{}
	var order []string
	for _, c := range d.a.Network.Contradictions {
		key := strings.Join(c.Steps, " ")
		if together[key] == nil {
			order = append(order, key)
		}
		together[key] = append(together[key], c.Of...)
	}
	for _, key := range order {
		var about []record.Ref
		var names, sides []string
		told := map[programme.Seen]bool{}
		for _, id := range strings.Fields(key) {
			about = append(about, record.R("step", id))
			names = append(names, desk.The(d.name(record.R("step", id))))
		}
		for _, s := range together[key] {
			if !told[s] {
				told[s] = true
				sides = append(sides, d.sideOf(s))
			}
		}
		d.doubt(Sightings, "What was seen of "+strings.Join(names, " and of ")+" does not fit together.", about, sides...)
	}
}

// sideOf tells one sighting, with how it is known.
func (d *reading) sideOf(s programme.Seen) string {
	ref := record.R("step", s.Step)
	for _, l := range d.looks[ref] {
		if l.firm() && l.day == s.Day && l.state == string(s.State) {
			return fmt.Sprintf("%s %s, %s on %s", desk.The(d.name(ref)), s.State, l.grounds, d.short(s.Day))
		}
	}
	return fmt.Sprintf("%s %s on %s", desk.The(d.name(ref)), s.State, d.short(s.Day))
}
