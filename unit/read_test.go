package unit_test

import (
	"errors"
	"math"
	"slices"
	"testing"

	"dogshore/internal/test"
	"dogshore/unit"
)

// sp811 is where the conversion factors stand. They were not read again.
const sp811 = "from memory: NIST Special Publication 811, 2008 edition, appendix B"

func TestConversions(t *testing.T) {
	const ulps = 4e-16 // the factors are exact, so only rounding may differ
	for _, c := range []struct {
		text string
		dim  unit.Dimension
		src  string
		want float64
	}{
		{"1 yd", unit.Length, "from memory: international yard and pound agreement, 1959: 1 yd = 0.9144 m exactly", 0.9144},
		{"1 ft", unit.Length, sp811 + " (0.3048 m exactly)", 0.3048},
		{"1 in", unit.Length, sp811 + " (25.4 mm exactly)", 0.0254},
		{"1 mil", unit.Length, sp811 + " (25.4 µm exactly)", 2.54e-5},
		{"1 lb", unit.Mass, "from memory: international yard and pound agreement, 1959: 1 lb = 0.45359237 kg exactly", 0.45359237},
		{"1 oz", unit.Mass, sp811 + " (avoirdupois ounce)", 2.8349523125e-2},
		{"1 long ton", unit.Mass, sp811, 1016.0469088},
		{"1 short ton", unit.Mass, sp811, 907.18474},
		{"1 lbf", unit.Force, sp811, 4.4482216152605},
		{"1 kgf", unit.Force, sp811 + " (standard gravity 9.80665 m/s² exactly)", 9.80665},
		{"1 psi", unit.Pressure, sp811 + " (lbf/in², to the 7 digits printed)", 6894.757},
		{"1 atm", unit.Pressure, sp811 + " (101 325 Pa exactly)", 101325},
		{"1 US gal", unit.Volume, sp811, 3.785411784e-3},
		{"1 imp gal", unit.Volume, sp811, 4.54609e-3},
		{"1 sq ft", unit.Area, sp811 + " (0.092 903 04 m² exactly)", 0.09290304},
		{"32 °F", unit.Temperature, "by definition: ice point, 273.15 K", 273.15},
		{"212 °F", unit.Temperature, "by definition of the scale: 180 °F above the ice point", 373.15},
		{"-40 °C", unit.Temperature, "exact: -40 °C = -40 °F = 233.15 K", 233.15},
		{"-40 °F", unit.Temperature, "exact: -40 °C = -40 °F = 233.15 K", 233.15},
		{"180°", unit.Angle, "by definition", math.Pi},
		{"6 weeks", unit.Time, "by definition: 6 · 604 800 s", 3628800},
		{`5' 9 1/2"`, unit.Length, "exact: 69.5 in · 25.4 mm", 1.7653},
		{"18 3/4 in", unit.Length, "exact: 18.75 in · 25.4 mm", 0.47625},
	} {
		q, err := unit.ParseQuantity(c.text, c.dim, unit.Habit{})
		if err != nil {
			t.Errorf("%s: %v", c.text, err)
			continue
		}
		allowed := ulps * math.Abs(c.want)
		if c.text == "1 psi" {
			allowed = 0.0005
		}
		test.Check(t, c.text+" as SI", c.src, c.want, q.SI, allowed)
	}
}

func TestParseQuantity(t *testing.T) {
	type q = unit.Quantity
	exact := func(si float64, d unit.Dimension) q { return unit.Q(si, d) }
	about := func(si float64, d unit.Dimension) q { v := unit.Q(si, d); v.About = true; return v }
	between := func(l, m, h float64, d unit.Dimension) q { return q{Known: true, SI: m, Low: l, High: h, Dim: d} }
	for _, c := range []struct {
		text string
		dim  unit.Dimension
		want q
	}{
		{"12,5 kg", unit.Mass, exact(12.5, unit.Mass)},
		{"12.5kg", unit.Mass, exact(12.5, unit.Mass)},
		{"2 t", unit.Mass, exact(2000, unit.Mass)},
		{"1\u202f200 kg", unit.Mass, exact(1200, unit.Mass)},
		{"1\u00a0200,5 kg", unit.Mass, exact(1200.5, unit.Mass)},
		{"1 250 300 kg", unit.Mass, exact(1250300, unit.Mass)},
		{"1'200 kg", unit.Mass, exact(1200, unit.Mass)},
		{"1.250,75 kg", unit.Mass, exact(1250.75, unit.Mass)},
		{"1,250.75 kg", unit.Mass, exact(1250.75, unit.Mass)},
		{"1.250.300 kg", unit.Mass, exact(1250300, unit.Mass)},
		{"0,125 t", unit.Mass, exact(125, unit.Mass)},
		{"1234.567 kg", unit.Mass, exact(1234.567, unit.Mass)},
		{"0.500 kg", unit.Mass, exact(0.5, unit.Mass)},
		{"5′ 9½″", unit.Length, exact(1.7653, unit.Length)},
		{"5’ 9 1/2”", unit.Length, exact(1.7653, unit.Length)},
		{"5'9\"", unit.Length, exact(1.7526, unit.Length)},
		{"5' 9", unit.Length, exact(1.7526, unit.Length)},
		{"5 ft 9 in", unit.Length, exact(1.7526, unit.Length)},
		{"-5' 6\"", unit.Length, exact(-1.6764, unit.Length)},
		{"18-3/4 in.", unit.Length, exact(0.47625, unit.Length)},
		{"3/4\"", unit.Length, exact(0.01905, unit.Length)},
		{"25mm", unit.Length, exact(0.025, unit.Length)},
		{"−4 mm", unit.Length, exact(-0.004, unit.Length)},
		{"20 °C", unit.Temperature, exact(293.15, unit.Temperature)},
		{"0,8 bar", unit.Pressure, exact(80000, unit.Pressure)},
		{"10", unit.Work, exact(10, unit.Work)},
		{"10 wd", unit.Work, exact(10, unit.Work)},
		{"10 working days", unit.Work, exact(10, unit.Work)},
		{"2 days", unit.Work, exact(2, unit.Work)},
		{"2 days", unit.Time, exact(172800, unit.Time)},
		{"1 h 30 min", unit.Time, exact(5400, unit.Time)},
		{"8h", unit.Time, exact(28800, unit.Time)},
		{"4", unit.Number, exact(4, unit.Number)},
		{"50 %", unit.Number, exact(0.5, unit.Number)},
		{"1.5e3 kg", unit.Mass, exact(1500, unit.Mass)},
		{"ca. 12 mm", unit.Length, about(0.012, unit.Length)},
		{"~12 mm", unit.Length, about(0.012, unit.Length)},
		{"12 mm?", unit.Length, about(0.012, unit.Length)},
		{"12-14 mm", unit.Length, between(0.012, 0.013, 0.014, unit.Length)},
		{"12 – 14 mm", unit.Length, between(0.012, 0.013, 0.014, unit.Length)},
		{"12 mm to 14 mm", unit.Length, between(0.012, 0.013, 0.014, unit.Length)},
		{"10 wd..12 wd", unit.Work, between(10, 11, 12, unit.Work)},
		{"25 ±1 mm", unit.Length, between(0.024, 0.025, 0.026, unit.Length)},
		{"12 (11 to 14) kg", unit.Mass, between(11, 12, 14, unit.Mass)},
		{"12,5 mm", unit.Any, exact(0.0125, unit.Length)},
		{"12", unit.Any, exact(12, unit.Number)},
		{"36 Barcol", unit.Any, exact(36, unit.Barcol)},
		{"82 shore d", unit.Any, exact(82, unit.ShoreD)},
		{"34-38 Barcol", unit.Any, between(34, 36, 38, unit.Barcol)},
		{"-5 - -3 °C", unit.Temperature, between(268.15, 269.15, 270.15, unit.Temperature)},
	} {
		got, err := unit.ParseQuantity(c.text, c.dim, unit.Habit{})
		if err != nil {
			t.Errorf("%q: %v", c.text, err)
			continue
		}
		if got.As != c.text {
			t.Errorf("%q is kept as %q", c.text, got.As)
		}
		got.As = ""
		if !near(got.SI, c.want.SI) || !near(got.Low, c.want.Low) || !near(got.High, c.want.High) ||
			got.About != c.want.About || got.Dim != c.want.Dim || !got.Known {
			t.Errorf("%q = %+v, want %+v", c.text, got, c.want)
		}
	}
}

func near(a, b float64) bool { return math.Abs(a-b) <= 1e-12*max(1, math.Abs(b)) }

func TestAsked(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  unit.Dimension
		h    unit.Habit
		want []string
	}{
		{"1.200 kg", unit.Mass, unit.Habit{}, []string{"1.2 kg", "1200 kg"}},
		{"1,200 kg", unit.Mass, unit.Habit{}, []string{"1200 kg", "1.2 kg"}},
		{"1.234", unit.Number, unit.Habit{}, []string{"1.2340", "1234"}},
		{"1,200", unit.Mass, unit.Habit{Unit: "kg"}, []string{"1200 kg", "1.2 kg"}},
		{"12", unit.Length, unit.Habit{}, []string{"12 m", "12 mm", "12 ft"}},
		{"3 tons", unit.Mass, unit.Habit{}, []string{"3 t", "3 long tons", "3 short tons"}},
		{"3 days", unit.Any, unit.Habit{}, []string{"3 wd", "3 calendar days"}},
		{"40 gal", unit.Volume, unit.Habit{}, []string{"40 US gal", "40 imp gal"}},
	} {
		_, err := unit.ParseQuantity(c.text, c.dim, c.h)
		var a *unit.Ambiguous
		if !errors.As(err, &a) {
			t.Errorf("%q: %v, want it asked about", c.text, err)
			continue
		}
		if !slices.Equal(a.Readings, c.want) {
			t.Errorf("%q is offered as %q, want %q", c.text, a.Readings, c.want)
		}
		for _, r := range a.Readings {
			if _, err := unit.ParseQuantity(r, c.dim, c.h); err != nil {
				t.Errorf("%q offers %q, which is not read: %v", c.text, r, err)
			}
		}
	}
}

func TestHabitSettles(t *testing.T) {
	for _, c := range []struct {
		text string
		mark rune
		want float64
	}{
		{"1.200", ',', 1200}, {"1.200", '.', 1.2}, {"1,200", ',', 1.2}, {"1,200", '.', 1200},
		{"12.5", ',', 12.5}, {"12,5", '.', 12.5},
	} {
		q, err := unit.ParseQuantity(c.text, unit.Mass, unit.Habit{Decimal: c.mark, Unit: "kg"})
		if err != nil || q.SI != c.want || q.As != c.text+" kg" {
			t.Errorf("%q with %q as decimal mark = %v as %q, %v; want %v", c.text, c.mark, q.SI, q.As, err, c.want)
		}
	}
}

func TestSaysNothing(t *testing.T) {
	for text, due := range map[string]bool{
		"n/a": false, "N/A": false, "-": false, "–": false, "?": false, " tbc ": true, "TBC": true, "to be told": true, "tbd": true,
	} {
		_, err := unit.ParseQuantity(text, unit.Mass, unit.Habit{})
		var a *unit.Absent
		if !errors.As(err, &a) || a.Due != due {
			t.Errorf("%q: %v, want absent, due %v", text, err, due)
		}
	}
}

func TestRefused(t *testing.T) {
	for _, c := range []struct {
		text string
		dim  unit.Dimension
	}{
		{"heavy", unit.Mass}, {"12 furlongs", unit.Length}, {"12 kg", unit.Length}, {"8 h", unit.Work}, {"14-12 mm", unit.Length},
		{"3 months", unit.Time}, {"1.2.3 kg", unit.Mass}, {"max 12 mm", unit.Length}, {"1/0 in", unit.Length}, {"12 13 mm", unit.Length},
		{"1e999 kg", unit.Mass}, {"12 mm - 3 kg", unit.Any}, {"5 mm 3 m", unit.Length}, {"NaN kg", unit.Mass}, {"36 Barcol", unit.ShoreD}, {"36 Barcol - 38 Shore D", unit.Any}, {"Inf", unit.Number},
	} {
		if q, err := unit.ParseQuantity(c.text, c.dim, unit.Habit{}); err == nil {
			t.Errorf("%q as %s was read as %+v", c.text, c.dim, q)
		}
	}
}
