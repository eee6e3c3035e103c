package deck

import (
	"fmt"
	"math"

	"dogshore/figure"
	"dogshore/jackstay"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/rope"
)

// rules holds the figures on record against the clauses of racing rules and
// standards. Of what differs along the boat the worst counts.
func (d *reading) rules(a *Arrangement) {
	if len(a.Lines) == 0 && len(a.Case.Points) == 0 {
		return
	}
	g := given{}
	if b, ok := journal.Get[record.Build](d.r, "build/build"); ok {
		g.put(jackstay.HullLength, b.Length.Known, b.Length.SI)
		g.put(jackstay.Beam, b.Beam.Known, b.Beam.SI)
	}
	d.givenLines(a, g)
	for _, e := range d.a.Plan.Edges {
		if !e.Rail.Known || e.Rail.SI <= 0 {
			continue
		}
		g.least(jackstay.RailUpper, true, e.Rail.SI)
		if e.Gap.Known && e.Gap.SI > 0 && e.Gap.SI < e.Rail.SI {
			g.least(jackstay.RailMiddle, true, e.Gap.SI)
			g.most(jackstay.RailGap, true, max(e.Gap.SI, e.Rail.SI-e.Gap.SI))
		}
		g.most(jackstay.PostsApart, e.Stanchion.Known, e.Stanchion.SI)
		g.least(jackstay.FootStop, e.Footstop.Known, e.Footstop.SI)
	}
	for _, t := range d.tethers {
		g.most(jackstay.TetherLength, t.Long.Known, t.Long.SI)
	}
	a.Rules = jackstay.Rules(g.list())
}

func (d *reading) givenLines(a *Arrangement, g given) {
	sides := map[string]bool{}
	for _, l := range a.Lines {
		sides[l.Side] = true
		x, ok := d.ropes[l.Rope]
		if !ok {
			continue
		}
		g.least(jackstay.LineMBL, x.Breaking.Known, x.Breaking.SI)
		if x.Make == "wire 1x19" {
			g.put(jackstay.LineIsWire, true, 1)
			g.least(jackstay.WireDiameter, x.Size.Known, x.Size.SI)
		} else if x.Make != "" && g[jackstay.LineIsWire] == nil {
			g.put(jackstay.LineIsWire, true, 0)
		}
	}
	if len(a.Lines) > 0 {
		each := 0.0
		if sides["port"] && sides["starboard"] {
			each = 1
		}
		g.put(jackstay.LineEachSide, true, each)
	}
}

// given are the figures on record, by key; nil is not known.
type given map[jackstay.FigureKey]*float64

func (g given) put(k jackstay.FigureKey, known bool, v float64) {
	if known {
		g[k] = &v
	}
}

func (g given) least(k jackstay.FigureKey, known bool, v float64) {
	g.put(k, known && (g[k] == nil || v < *g[k]), v)
}

func (g given) most(k jackstay.FigureKey, known bool, v float64) {
	g.put(k, known && (g[k] == nil || v > *g[k]), v)
}

func (g given) list() []jackstay.Given {
	var out []jackstay.Given
	for k, v := range g {
		out = append(out, jackstay.Given{Key: k, Value: *v})
	}
	return out
}

// findRules says which clauses are not met.
func (d *reading) findRules(a *Arrangement) {
	for _, r := range a.Rules {
		if r.Kept == jackstay.NotMet {
			entered := inUnit(*r.Value, r.Unit)
			for _, asked := range []*float64{r.AtLeast, r.AtMost} {
				if asked != nil && inUnit(*asked, r.Unit) == entered || asked != nil && math.Abs(*r.Value-*asked) < 0.001*math.Abs(*asked) {
					entered = fmt.Sprintf("%.6g %s, asked for %.6g %s", *r.Value, r.Unit, *asked, r.Unit)
				}
			}
			a.add(Finding{Sort: RuleNot, Says: fmt.Sprintf("%s, edition %s: %s; entered is %s.", Where(r), r.Edition, r.Says, entered), Caution: rope.CautionEstimate.Text(),
				Figures: []figure.Figure{{Says: "the worst that is entered for: " + r.Says, Value: *r.Value, Unit: r.Unit, Text: entered, Source: r.Source}}})
		}
	}
}

// inUnit prints a value so that it can be told from a limit that it just
// misses.
func inUnit(v float64, unit string) string {
	switch unit {
	case "N":
		return fmt.Sprintf("%.2f kN", v/1000)
	case "m":
		return fmt.Sprintf("%.0f mm", v*1000)
	case "":
		return fmt.Sprintf("%.4g", v)
	}
	return fmt.Sprintf("%.4g %s", v, unit)
}

// Where names the book and the clause of a rule.
func Where(r jackstay.Answer) string {
	if r.Clause.Clause == "" {
		return r.Book
	}
	return r.Book + ", " + r.Clause.Clause
}
