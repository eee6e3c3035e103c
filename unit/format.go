package unit

import "strings"

// shown lists the units that a dimension is printed in, the first that suits.
var shown = map[Dimension][]string{
	Number: {""}, Length: {"mm", "m"}, Area: {"m²"}, Volume: {"l"}, Mass: {"kg"}, Force: {"kN", "N"},
	Pressure: {"bar", "mbar", "Pa"}, Angle: {"°", "rad"}, Temperature: {"°C", "K"}, Speed: {"kn", "m/s"}, Barcol: {"Barcol"}, ShoreD: {"Shore D"}, Work: {"wd"},
	Time: {"weeks", "calendar days", "h", "min", "s"},
}

// Text prints q in a unit of its dimension so that ParseQuantity reads the
// same value back, to the last bit: "12.5 mm", "ca. 20 °C", "3 to 4 weeks".
// It does not look at q.As. Not known prints as "".
func (q Quantity) Text() string {
	if !q.Known {
		return ""
	}
	body := func(u string, in func(float64) float64) string {
		s := Decimal(in(q.SI))
		switch {
		case q.Low == q.SI && q.SI == q.High:
		case q.SI == q.Low+(q.High-q.Low)/2:
			s = Decimal(in(q.Low)) + " to " + Decimal(in(q.High))
		default:
			s += " (" + Decimal(in(q.Low)) + " to " + Decimal(in(q.High)) + ")"
		}
		if q.About {
			s = "ca. " + s
		}
		return strings.TrimSpace(s + " " + u)
	}
	return inUnit(q.Dim, q.SI, body, func(text string) bool {
		r, err := ParseQuantity(text, q.Dim, Habit{})
		r.As = q.As
		return err == nil && r == q
	})
}

// GuessesText prints three guesses so that ParseGuesses reads them back.
func GuessesText(low, mode, high float64, dim Dimension) string {
	body := func(u string, in func(float64) float64) string {
		return strings.TrimSpace(Decimal(in(low)) + "/" + Decimal(in(mode)) + "/" + Decimal(in(high)) + " " + u)
	}
	return inUnit(dim, mode, body, func(text string) bool {
		l, m, h, err := ParseGuesses(text, dim, Habit{})
		return err == nil && l.SI == low && m.SI == mode && h.SI == high
	})
}

// ToleranceText prints a value and its tolerance so that ParseTolerance reads
// them back.
func ToleranceText(value, minus, plus float64, dim Dimension) string {
	body := func(u string, in func(float64) float64) string {
		zero := in(0)
		s, up, down := Decimal(in(value)), Decimal(in(plus)-zero), Decimal(in(minus)-zero)
		switch {
		case minus == 0 && plus == 0:
		case minus == plus:
			s += " ±" + up
		default:
			s += " +" + up + "/-" + down
		}
		return strings.TrimSpace(s + " " + u)
	}
	return inUnit(dim, value, body, func(text string) bool {
		v, m, p, err := ParseTolerance(text, dim, Habit{})
		return err == nil && v.SI == value && m == minus && p == plus
	})
}

// inUnit prints body in the first unit of dim in which the number is neither
// tiny nor long and that reads back exactly, else in the unit that SI holds.
func inUnit(dim Dimension, about float64, body func(u string, in func(float64) float64) string, exact func(string) bool) string {
	best := ""
	for _, name := range shown[dim] {
		m := &measure{num: 1, den: 1}
		if name != "" {
			m = measureOf(name)
		}
		text := body(name, func(x float64) float64 { return x*m.den/m.num - m.zero })
		if !exact(text) {
			continue
		}
		if best == "" || len(text) < len(best) && !(name == "m" && about < 1) {
			best = text
		}
	}
	if best != "" {
		return best
	}
	base := ""
	for i := range measures {
		if m := &measures[i]; m.dim == dim && m.num == 1 && m.den == 1 && m.zero == 0 && dim != Number {
			base = m.names[0]
			break
		}
	}
	return body(base, func(x float64) float64 { return x })
}
