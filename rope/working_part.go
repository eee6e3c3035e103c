package rope

import (
	"fmt"
	"math"

	"dogshore/figure"
)

// Used returns the working of what share a load takes of what a part of the
// anchor carries, factors in it: 1 is all of it. Of a part of which something
// is not known it is the load alone, without a share. It unfolds to bolts,
// bearing, punching and core where these have workings.
func (w *AnchorWorkings) Used(p ChainPart) figure.Figure {
	says := "load on " + p.Says
	if p.Under != "" {
		says += ", by " + p.Under
	}
	load := worked("F", says, p.Unit, p.Load, "", byGroup)
	load.Text = partText(p.Load, p.Unit)
	if deep, ok := w.deep(p); ok {
		load.Of = []figure.Figure{deep}
	}
	if p.Verdict == NotKnown || p.Holds == 0 {
		return load
	}
	holds := w.input("H", "what it carries", fieldOf[p.Key], p.Unit, p.Holds)
	holds.Text = partText(p.Holds, p.Unit)
	f := worked("u", p.Says+": share of what it carries that the load takes, factor in it", "", p.Load*p.Factor/p.Holds, "u = F * k / H", byRim,
		load, w.input("k", "factor on what it carries", "factors."+string(p.Key), "", p.Factor), holds)
	f.Text = fmt.Sprintf("%.2f", f.Value)
	return f
}

var fieldOf = map[PartKey]string{
	PartLine: "ending.holds_n", PartEye: "rated_n", PartBearing: "under.bearing_pa", PartPunch: "under.shear_pa", PartClamp: "under.core_crush_pa", PartCore: "under.core_shear_pa",
}

func partText(v float64, unit string) string {
	switch unit {
	case "N":
		return fmt.Sprintf("%.1f kN", v/1e3)
	case "Pa":
		return fmt.Sprintf("%.3g MPa", v/1e6)
	}
	return anchorText(v, unit)
}

// deep is the working of a part's own mechanics.
func (w *AnchorWorkings) deep(p ChainPart) (figure.Figure, bool) {
	switch p.Key {
	case PartBolts:
		return w.worstBolt()
	case PartBearing:
		return w.Bearing()
	case PartPunch:
		return w.Punch()
	case PartCore:
		return w.Core()
	}
	return figure.Figure{}, false
}

// worstBolt is the working of the bolt that uses most of what it resists.
func (w *AnchorWorkings) worstBolt() (figure.Figure, bool) {
	load, bolt, most := -1, -1, math.Inf(-1)
	for i, l := range w.a.result.Loads {
		for k, b := range l.Bolts {
			if b.Used > most {
				load, bolt, most = i, k, b.Used
			}
		}
	}
	if load < 0 {
		return figure.Figure{}, false
	}
	return w.Bolt(load, bolt)
}
