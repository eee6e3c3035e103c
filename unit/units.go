package unit

import (
	"fmt"
	"sort"
	"strings"
	"sync"
)

// measure is one unit: how it is written, and how it becomes SI:
//
//	SI = (x + zero) · num / den
//
// num and den are whole or exact decimals, so that the result is the double
// nearest to the true value.
type measure struct {
	dim      Dimension
	names    []string // the first is how it is printed
	num, den float64
	zero     float64
}

// measures lists the units. International yard and pound: 1 yd = 0.9144 m and
// 1 lb = 0.45359237 kg exactly, standard gravity 9.80665 m/s² exactly, US
// gallon 231 in³, imperial gallon 4.54609 l, nautical mile 1852 m exactly. Source: NIST Special Publication
// 811, 2008 edition, appendix B, from memory.
var measures = []measure{
	{Number, []string{"%", "percent", "per cent"}, 1, 100, 0},
	{Number, []string{"pcs", "pc", "pieces", "piece", "off", "ea"}, 1, 1, 0},

	{Length, []string{"m", "metre", "metres", "meter", "meters", "mtr"}, 1, 1, 0},
	{Length, []string{"mm", "millimetre", "millimetres", "millimeter", "millimeters"}, 1, 1000, 0},
	{Length, []string{"cm", "centimetre", "centimetres", "centimeter", "centimeters"}, 1, 100, 0},
	{Length, []string{"km"}, 1000, 1, 0},
	{Length, []string{"um", "micron", "microns", "micrometre", "micrometres"}, 1, 1e6, 0},
	{Length, []string{"in", `"`, "inch", "inches"}, 254, 10000, 0},
	{Length, []string{"ft", "'", "foot", "feet"}, 3048, 10000, 0},
	{Length, []string{"yd", "yard", "yards"}, 9144, 10000, 0},
	{Length, []string{"mil", "mils", "thou"}, 254, 1e7, 0},

	{Area, []string{"m²", "m2", "sqm", "sq m", "square metres"}, 1, 1, 0},
	{Area, []string{"cm²", "cm2", "sq cm"}, 1, 1e4, 0},
	{Area, []string{"mm²", "mm2", "sq mm"}, 1, 1e6, 0},
	{Area, []string{"ft²", "ft2", "sq ft", "sqft"}, 9290304, 1e8, 0},
	{Area, []string{"in²", "in2", "sq in"}, 64516, 1e8, 0},

	{Volume, []string{"l", "ltr", "litre", "litres", "liter", "liters"}, 1, 1000, 0},
	{Volume, []string{"ml", "cc", "cm³", "cm3"}, 1, 1e6, 0},
	{Volume, []string{"m³", "m3", "cbm", "cubic metres"}, 1, 1, 0},
	{Volume, []string{"US gal", "us gallon", "us gallons"}, 3785411784, 1e12, 0},
	{Volume, []string{"imp gal", "uk gal", "imperial gallon", "imperial gallons"}, 454609, 1e8, 0},

	{Mass, []string{"kg", "kgs", "kilo", "kilos", "kilogram", "kilograms"}, 1, 1, 0},
	{Mass, []string{"g", "gram", "grams", "gr"}, 1, 1000, 0},
	{Mass, []string{"t", "tonne", "tonnes", "metric ton", "metric tons"}, 1000, 1, 0},
	{Mass, []string{"lb", "lbs", "pound", "pounds"}, 45359237, 1e8, 0},
	{Mass, []string{"oz", "ounce", "ounces"}, 45359237, 16e8, 0},
	{Mass, []string{"long tons", "long ton"}, 10160469088, 1e7, 0},
	{Mass, []string{"short tons", "short ton"}, 90718474, 1e5, 0},

	{Force, []string{"N", "newton", "newtons"}, 1, 1, 0},
	{Force, []string{"kN"}, 1000, 1, 0},
	{Force, []string{"daN"}, 10, 1, 0},
	{Force, []string{"kgf", "kp"}, 980665, 1e5, 0},
	{Force, []string{"tf"}, 980665, 100, 0},
	{Force, []string{"lbf"}, 44482216152605, 1e13, 0},

	{Pressure, []string{"Pa"}, 1, 1, 0},
	{Pressure, []string{"hPa"}, 100, 1, 0},
	{Pressure, []string{"kPa"}, 1000, 1, 0},
	{Pressure, []string{"MPa", "N/mm²", "N/mm2"}, 1e6, 1, 0},
	{Pressure, []string{"bar", "bars"}, 1e5, 1, 0},
	{Pressure, []string{"mbar", "mbars", "millibar"}, 100, 1, 0},
	{Pressure, []string{"psi"}, 44482216152605, 64516e5, 0},
	{Pressure, []string{"atm"}, 101325, 1, 0},

	{Angle, []string{"rad", "radians"}, 1, 1, 0},
	{Angle, []string{"°", "deg", "degree", "degrees"}, pi, 180, 0},

	{Temperature, []string{"K", "kelvin"}, 1, 1, 0},
	{Temperature, []string{"°C", "C", "deg C", "degC", "celsius", "° C"}, 1, 1, 273.15},
	{Temperature, []string{"°F", "F", "deg F", "degF", "fahrenheit", "° F"}, 5, 9, 459.67},

	{Speed, []string{"m/s", "metres per second"}, 1, 1, 0},
	{Speed, []string{"kn", "kt", "kts", "knot", "knots"}, 1852, 3600, 0},
	{Speed, []string{"km/h", "kph"}, 1000, 3600, 0},

	{Barcol, []string{"Barcol"}, 1, 1, 0},
	{ShoreD, []string{"Shore D", "ShoreD", "Shore-D", "D Shore"}, 1, 1, 0},

	{Work, []string{"wd", "working days", "working day", "workdays", "workday", "work days", "work day"}, 1, 1, 0},

	{Time, []string{"s", "sec", "secs", "second", "seconds"}, 1, 1, 0},
	{Time, []string{"min", "mins", "minute", "minutes"}, 60, 1, 0},
	{Time, []string{"h", "hr", "hrs", "hour", "hours"}, 3600, 1, 0},
	{Time, []string{"calendar days", "calendar day", "elapsed days", "elapsed day"}, 86400, 1, 0},
	{Time, []string{"weeks", "week", "wk", "wks"}, 604800, 1, 0},
}

const pi = 3.14159265358979323846

// days is written for working days and for days that run through the night:
// which, only the field can tell.
var days = []string{"days", "day", "d"}

// doubtful units stand for several.
var doubtful = map[string][]string{
	"gal": {"US gal", "imp gal"}, "gallon": {"US gal", "imp gal"}, "gallons": {"US gal", "imp gal"},
	"ton": {"t", "long tons", "short tons"}, "tons": {"t", "long tons", "short tons"},
}

// usual lists, for each dimension, the units that a number without one is
// asked about in. A number of working days or of things needs none.
var usual = map[Dimension][]string{
	Length: {"m", "mm", "ft"}, Area: {"m²", "ft²"}, Volume: {"l", "m³", "US gal"},
	Mass: {"kg", "lb"}, Force: {"N", "kN", "kgf"}, Pressure: {"bar", "kPa", "psi"},
	Angle: {"°", "rad"}, Temperature: {"°C", "°F"}, Speed: {"kn", "m/s"}, Barcol: {"Barcol"}, ShoreD: {"Shore D"}, Time: {"h", "calendar days", "weeks"},
}

type alias struct {
	name string
	of   *measure
}

// aliases returns every way of writing a unit, the longest first.
var aliases = sync.OnceValue(func() []alias {
	var out []alias
	for i := range measures {
		for _, n := range measures[i].names {
			out = append(out, alias{n, &measures[i]})
		}
	}
	for _, n := range days {
		out = append(out, alias{n, nil})
	}
	for n := range doubtful {
		out = append(out, alias{n, nil})
	}
	for _, n := range []string{"months", "month"} {
		out = append(out, alias{n, nil})
	}
	sort.Slice(out, func(i, k int) bool {
		if len(out[i].name) != len(out[k].name) {
			return len(out[i].name) > len(out[k].name)
		}
		return out[i].name < out[k].name
	})
	return out
})

// named finds the unit that s begins with: as it is written, else in any case.
func named(s string) (a alias, n int, ok bool) {
	for _, fold := range []bool{false, true} {
		for _, a := range aliases() {
			if len(s) < len(a.name) {
				continue
			}
			head := s[:len(a.name)]
			if head != a.name && (!fold || !strings.EqualFold(head, a.name)) {
				continue
			}
			if boundary(a.name, s[len(a.name):]) {
				return a, len(a.name), true
			}
		}
	}
	return alias{}, 0, false
}

// boundary reports whether a unit may end before rest.
func boundary(name, rest string) bool {
	if rest == "" || name == "'" || name == `"` {
		return true
	}
	c := rest[0]
	letter := c >= 'a' && c <= 'z' || c >= 'A' && c <= 'Z' || c >= 0x80
	return !letter && !isDigit(c)
}

// unitIn takes a unit that a field of dimension dim can have. It returns nil
// if there is none at this place.
func (s *scanner) unitIn(dim Dimension) (*measure, error) {
	at := s.i
	s.space()
	a, n, ok := named(s.rest())
	if !ok {
		s.i = at
		return nil, nil
	}
	head := s.s[:s.i]
	s.i += n
	if s.i < len(s.s) && s.s[s.i] == '.' && !strings.HasPrefix(s.rest(), "..") {
		s.i++
	}
	m, err := resolve(a, dim, strings.TrimSpace(head))
	if err != nil {
		return nil, err
	}
	return m, nil
}

// resolve makes a measure of a written unit for a field of dimension dim;
// head is the number before it, for the readings offered.
func resolve(a alias, dim Dimension, head string) (*measure, error) {
	lower := strings.ToLower(a.name)
	switch {
	case a.of == nil && strings.HasPrefix(lower, "month"):
		return nil, fmt.Errorf("a month is no fixed time: write weeks, as in 6 weeks")
	case a.of == nil && doubtful[lower] != nil:
		amb := &Ambiguous{Text: head + " " + a.name}
		for _, u := range doubtful[lower] {
			amb.Readings = append(amb.Readings, head+" "+u)
		}
		return nil, amb
	case a.of == nil && dim == Work:
		return measureOf("wd"), nil
	case a.of == nil && dim == Any:
		return nil, &Ambiguous{Text: head + " " + a.name, Readings: []string{head + " wd", head + " calendar days"}}
	case a.of == nil:
		a.of = measureOf("calendar days")
	}
	if dim != Any && a.of.dim != dim {
		return nil, fmt.Errorf("%q is a unit of %s; %s is asked for: %s", a.name, a.of.dim, dim, unitsOf(dim))
	}
	return a.of, nil
}

func measureOf(name string) *measure {
	for i := range measures {
		if measures[i].names[0] == name {
			return &measures[i]
		}
	}
	panic("unit: internal error: no unit " + name)
}

// unitsOf lists the units of a dimension for an error.
func unitsOf(dim Dimension) string {
	var out []string
	for i := range measures {
		if measures[i].dim == dim {
			out = append(out, measures[i].names[0])
		}
	}
	if dim == Number {
		return "a number without a unit"
	}
	return join(out)
}

// si turns x of unit m into SI.
func (m *measure) si(x float64) float64 { return (x + m.zero) * m.num / m.den }

// wide turns a difference of x of unit m into SI.
func (m *measure) wide(x float64) float64 { return x * m.num / m.den }

// HeaderUnit returns the unit that a column's header carries in brackets or
// behind a comma, "weight [kg]", "length (mm)", "beam, m", and the header
// without it. Of other headers it returns "" and the header itself.
func HeaderUnit(header string) (name, unit string) {
	h := strings.TrimSpace(header)
	for _, b := range []struct{ open, shut string }{{"[", "]"}, {"(", ")"}, {",", ""}, {" in ", ""}} {
		i := strings.LastIndex(h, b.open)
		if i <= 0 || !strings.HasSuffix(h, b.shut) {
			continue
		}
		u := plain(strings.TrimSuffix(h[i+len(b.open):], b.shut))
		if a, n, ok := named(u); ok && n == len(u) && (a.of != nil || doubtful[strings.ToLower(a.name)] == nil) {
			return strings.TrimSpace(h[:i]), u
		}
	}
	return h, ""
}
