package rope

import (
	"fmt"
	"math"

	"dogshore/figure"
	"dogshore/source"
)

// AnchorWorkings says how the numbers of an anchor follow from each other and
// from what was entered.
type AnchorWorkings struct {
	a *anchor

	// Entry says where an input comes from, by its field in the case
	// ("bolts.size_m"); without it inputs end in their values.
	Entry func(field string) *figure.Entered
}

// ExplainAnchor makes the workings of a case ready.
func ExplainAnchor(c AnchorCase) (*AnchorWorkings, error) {
	a, err := newAnchor(c)
	if err != nil {
		return nil, err
	}
	return &AnchorWorkings{a: a}, nil
}

var (
	byGroup   = source.Source{How: source.Derived, Text: "bolts of a stiff foot, in balance with the load; docs/theory/anchor.md"}
	byBolt    = source.Source{How: source.Published, Text: "EN 1993-1-8, table 3.4, from summaries; strengths of grades from memory of ISO 3506-1 and ISO 898-1"}
	byBearing = source.Source{How: source.Derived, Text: "force over the bolt's projected area; docs/theory/anchor.md"}
	byRim     = source.Source{How: source.Derived, Text: "shear round the rim; docs/theory/anchor.md"}
	byEntry   = source.Source{How: source.Entered}
)

func (w *AnchorWorkings) input(symbol, says, field, unit string, v float64) figure.Figure {
	f := figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: unit, Text: anchorText(v, unit), Source: byEntry}
	if w.Entry != nil {
		f.Entry = w.Entry(field)
	}
	return f
}

func anchorText(v float64, unit string) string {
	if unit == "" {
		return fmt.Sprintf("%.4g", v)
	}
	return fmt.Sprintf("%.4g %s", v, unit)
}

func worked(symbol, says, unit string, v float64, rule string, src source.Source, of ...figure.Figure) figure.Figure {
	return figure.Figure{Symbol: symbol, Says: says, Value: v, Unit: unit, Text: anchorText(v, unit), Rule: rule, Source: src, Of: of}
}

// Bolt returns the working of what share of its resistance a bolt uses under a
// load; both by their places in the case. ok is false if it is not known.
func (w *AnchorWorkings) Bolt(load, bolt int) (f figure.Figure, ok bool) {
	a := w.a
	if a.boltErr != nil || load >= len(a.result.Loads) || bolt >= len(a.result.Loads[load].Bolts) {
		return figure.Figure{}, false
	}
	b := a.result.Loads[load].Bolts[bolt]
	area, err := StressArea(a.c.Bolts.Size)
	if err != nil {
		return figure.Figure{}, false
	}
	g := grades[a.c.Bolts.Grade]
	k := 0.9
	if a.c.Bolts.Countersunk {
		k = 0.63
	}
	fub := worked("f_ub", "ultimate strength of the grade", "Pa", g.ultimate, "", byBolt)
	as := worked("A_s", "stress area of the thread", "m²", area, "", byBolt)
	gm := w.input("g", "partial factor", "factors.bolt", "", a.f.Bolt)
	ft := worked("FtRd", "what it resists in pull", "N", a.resistance.Pull, "FtRd = k * f_ub * A_s / g", byBolt, worked("k", "0.9, of a countersunk head 0.63", "", k, "", byBolt), fub, as, gm)
	fv := worked("FvRd", "what it resists in shear through the thread", "N", a.resistance.Shear, "FvRd = a_v * f_ub * A_s / g", byBolt, worked("a_v", "share of the ultimate in shear", "", g.shear, "", byBolt), fub, as, gm)
	pull := worked("F_t", "pull on it", "N", b.Pull, "F_t = max(Te, Tp, 0)", byGroup,
		worked("Te", "all bolts as springs about their middle", "N", b.Elastic, "", byGroup),
		worked("Tp", "the foot turning about its edge", "N", b.Pivot, "", byGroup))
	shear := worked("F_v", "shear on it", "N", b.Shear, "", byGroup)
	return worked("u", "share of the bolt's resistance that is used", "", b.Used, "u = max(F_v / FvRd + F_t / (1.4 * FtRd), F_t / FtRd)", byBolt, shear, pull, fv, ft), true
}

// Bearing returns the working of the margin of the laminate bearing on the
// bolts. ok is false if it is not known, or the bolts are too near to an edge.
func (w *AnchorWorkings) Bearing() (f figure.Figure, ok bool) {
	p, found := w.part(PartBearing)
	thick, _ := w.a.c.Under.skins()
	if !found || p.Holds != w.a.c.Under.Bearing {
		return figure.Figure{}, false
	}
	v, _ := w.a.worst(mostBolt(shearOf))
	sb := worked("s_b", "bearing stress", "Pa", p.Load, "s_b = V / (d * t)", byBearing,
		worked("V", "shear on the worst bolt", "N", v, "", byGroup), w.input("d", "bolt diameter", "bolts.size_m", "m", w.a.c.Bolts.Size),
		w.input("t", "thickness that it bears on", "under.solid_m", "m", thick))
	return w.margin(p, sb, w.input("f_b", "bearing strength of the laminate", "under.bearing_pa", "Pa", p.Holds), "s_b", "f_b"), true
}

// Punch returns the working of the margin against the backing being pulled
// through the laminate. ok is false if it is not known.
func (w *AnchorWorkings) Punch() (f figure.Figure, ok bool) {
	p, found := w.part(PartPunch)
	if !found {
		return figure.Figure{}, false
	}
	round, _ := w.a.rim()
	_, thick := w.a.c.Under.skins()
	load := worked("F", "pull", "N", p.Load, "", byGroup)
	holds := worked("F_p", "what the laminate holds round the rim", "N", p.Holds, "F_p = c * t * tau", byRim,
		worked("c", "length round what is pulled through", "m", round, "", byRim), w.input("t", "thickness of the laminate", "under.solid_m", "m", thick),
		w.input("tau", "its strength in shear through the thickness", "under.shear_pa", "Pa", w.a.c.Under.Shear))
	return w.margin(p, load, holds, "F", "F_p"), true
}

// Core returns the working of the margin of the core round the solid laminate.
// ok is false if it is not known, or the bolts stand in a bare core.
func (w *AnchorWorkings) Core() (f figure.Figure, ok bool) {
	p, found := w.part(PartCore)
	u := w.a.c.Under
	if !found || u.cored() {
		return figure.Figure{}, false
	}
	for _, e := range w.a.result.Loads {
		if e.Name != p.Under {
			continue
		}
		q := w.a.about(e)
		long, wide := w.input("a", "length of the solid laminate", "under.long_m", "m", u.Long), w.input("b", "its width", "under.wide_m", "m", u.Wide)
		flow := worked("n", "shear for each length of its rim", "N/m", shearFlow(q, u.Long, u.Wide),
			"n = N / (2 * (a + b)) + Ma / (a * b + a * a / 3) + Mb / (a * b + b * b / 3)", byRim,
			worked("N", "force out of the deck", "N", q.out, "", byGroup), worked("Ma", "tilt along it", "N m", q.along, "", byGroup),
			worked("Mb", "tilt across it", "N m", q.across, "", byGroup), long, wide)
		deep, _ := u.deep()
		dd := worked("dd", "between the middles of the skins", "m", deep, "dd = tc + (t1 + t2) / 2", byRim, w.input("tc", "core", "under.core_m", "m", u.Core),
			w.input("t1", "outer skin", "under.outer_skin_m", "m", u.Outer), w.input("t2", "inner skin", "under.inner_skin_m", "m", u.Inner))
		tau := worked("tau", "shear in the core", "Pa", p.Load, "tau = n / dd", byRim, flow, dd)
		return w.margin(p, tau, w.input("tau_c", "shear strength of the core", "under.core_shear_pa", "Pa", u.CoreShear), "tau", "tau_c"), true
	}
	return figure.Figure{}, false
}

// Radius returns the working of the least radius of a round hard point in the
// core: the balance of the shear that it needs, which must not be less than 0.
// ok is false if the demand has none, or the foot alone is larger.
func (w *AnchorWorkings) Radius() (f figure.Figure, ok bool) {
	d := w.a.result.Demand
	deep, known := w.a.c.Under.deep()
	if d.Radius == 0 || !known {
		return figure.Figure{}, false
	}
	for _, e := range w.a.result.Loads {
		q := w.a.about(e)
		m := math.Hypot(q.along, q.across)
		tau := d.Rests[len(d.Rests)-2].Value
		has := tau / w.a.f.Core * deep
		needs := q.out/(2*math.Pi*d.Radius) + m/(math.Pi*d.Radius*d.Radius)
		if math.Abs(has-needs) > 1e-9*has {
			continue
		}
		f = worked("E", "shear for each length that the core may take, less what the radius needs; it must vanish", "N/m", has-needs,
			"E = tau / SF * dd - N / (2 * 3.141592653589793 * R) - M / (3.141592653589793 * R * R)", byRim,
			worked("tau", "shear strength of the core", "Pa", tau, "", byRim), w.input("SF", "factor on the core", "factors.core", "", w.a.f.Core),
			worked("dd", "between the middles of the skins", "m", deep, "", byRim), worked("N", "force out of the deck", "N", q.out, "", byGroup),
			worked("M", "tilt", "N m", m, "", byGroup), worked("R", "radius, found so that E vanishes", "m", d.Radius, "", byRim))
		if math.Abs(has-needs) < 0.001 {
			f.Text = "less than 0.001 N/m"
		}
		return f, true
	}
	return figure.Figure{}, false
}

func (w *AnchorWorkings) part(key PartKey) (ChainPart, bool) {
	for _, p := range w.a.result.Parts {
		if p.Key == key && p.Verdict != NotKnown {
			return p, true
		}
	}
	return ChainPart{}, false
}

// margin is the working of a part's margin.
func (w *AnchorWorkings) margin(p ChainPart, load, holds figure.Figure, symLoad, symHolds string) figure.Figure {
	return worked("m", "margin of "+p.Says, "", p.Margin, "m = "+symHolds+" / SF / "+symLoad, byRim, load, holds,
		worked("SF", "factor", "", p.Factor, "", byRim))
}
