package visit

import (
	"testing"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/internal/test"
	"dogshore/record"
	"dogshore/unit"
)

// Yard practice's own tolerances: "yard-practice sheet, S02 and S04".
const (
	wetFilm = "gelcoat wet film 0.5-0.6 mm, from memory: a supplier's technical guide"
	coreTol = "core thickness +-0.5 mm, from memory: common practice, no source"
)

func mm(x float64) unit.Quantity { return unit.Q(x/1000, unit.Length) }

func tol(value, minus, plus float64) record.Tolerance {
	return record.Tolerance{Known: true, Value: value / 1000, Minus: minus / 1000, Plus: plus / 1000, Dim: unit.Length}
}

func TestMeasurements(t *testing.T) {
	for name, c := range map[string]struct {
		src     string
		got     []float64
		should  record.Tolerance
		out     bool
		by      float64 // mm
		scatter float64
		wide    bool
	}{
		"film within":           {wetFilm, []float64{0.55}, tol(0.55, 0.05, 0.05), false, 0, 0, false},
		"film at the limit":     {wetFilm, []float64{0.6}, tol(0.55, 0.05, 0.05), false, 0, 0, false},
		"film too thick":        {wetFilm, []float64{0.8}, tol(0.55, 0.05, 0.05), true, 0.2, 0, false},
		"film too thin":         {wetFilm, []float64{0.4}, tol(0.55, 0.05, 0.05), true, -0.1, 0, false},
		"core within":           {coreTol, []float64{25.4}, tol(25, 0.5, 0.5), false, 0, 0, false},
		"core too thin":         {coreTol, []float64{24, 24.4}, tol(25, 0.5, 0.5), true, -0.3, 0.4, false},
		"readings lie apart":    {coreTol, []float64{24.2, 25.9}, tol(25, 0.5, 0.5), false, 0, 1.7, true},
		"nothing said it ought": {"follows from the definition", []float64{24, 30}, record.Tolerance{}, false, 0, 6, false},
	} {
		t.Run(name, func(t *testing.T) {
			b := &build{t: t}
			v := b.visit("v", day(7), "owner")
			for i, g := range c.got {
				put(b, day(7), record.Measured, string(rune('a'+i)), record.Measurement{Visit: v, What: "Thickness  at frame 3", Got: mm(g), Should: c.should})
			}
			// An older reading is history, however far out.
			put(b, day(1), record.Measured, "old", record.Measurement{Visit: b.visit("v0", day(1), "owner"), What: "thickness at frame 3", Got: mm(99)})
			got := Read(b.as(day(8)), plan.Answer{})
			if len(got.Measurements) != 1 {
				t.Fatalf("measurements %+v, want one", got.Measurements)
			}
			m := got.Measurements[0]
			if m.Out != c.out || m.Wide() != c.wide || m.Times != len(c.got) {
				t.Errorf("out %v, wide %v, times %d; want %v, %v, %d", m.Out, m.Wide(), m.Times, c.out, c.wide, len(c.got))
			}
			test.Check(t, name+": out of tolerance by, mm", c.src, c.by, m.By*1000, 1e-6)
			test.Check(t, name+": scatter, mm", "follows from the definition", c.scatter, m.Scatter*1000, 1e-6)
			switch {
			case c.wide:
				a := find(t, got.Acts, "measure/measurement/b")
				if a.Where != desk.AtVisit {
					t.Errorf("act %+v", a)
				}
			case c.out:
				a := find(t, got.Acts, "tell/measurement/"+m.Key())
				f := a.Why[0]
				// off = m - limit, of the figures shown
				if shown := f.Of[0].Value - f.Of[1].Value; shown < f.Value-1e-9 || shown > f.Value+1e-9 {
					t.Errorf("the working gives %g, the figure says %g", shown, f.Value)
				}
			case len(got.Acts) != 0:
				t.Errorf("acts %v, want none", ids(got.Acts))
			}
		})
	}
}
