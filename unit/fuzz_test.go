package unit_test

import (
	"errors"
	"math"
	"testing"

	"dogshore/unit"
)

var dims = []unit.Dimension{unit.Number, unit.Length, unit.Area, unit.Volume, unit.Mass, unit.Force, unit.Pressure, unit.Angle, unit.Temperature, unit.Work, unit.Time, unit.Any}

// Whatever is read prints so that it is read back; whatever is offered can be
// read without another question about its mark.
func FuzzQuantity(f *testing.F) {
	for _, s := range []string{"12,5 kg", `5' 9 1/2"`, "18 3/4 in", "ca. 12", "12-14 mm", "1.200", "25 ±0,5 mm", "3/5/9", "25 +0,5/-0", "12 (11 to 14) kg", "1 h 30 min", "-40 °F", "1e300", "1'200", "2 tons", "½ in", "--", "1,,2", "5' 5' 5'", "12 (", "0x1p3", "١٢"} {
		for i := range 3 {
			f.Add(s, i*4)
		}
	}
	f.Fuzz(func(t *testing.T, text string, n int) {
		dim := dims[(n%len(dims)+len(dims))%len(dims)]
		var two *unit.Ambiguous
		if q, err := unit.ParseQuantity(text, dim, unit.Habit{}); err == nil {
			if math.IsNaN(q.SI) || math.IsInf(q.SI, 0) || q.Low > q.SI || q.SI > q.High {
				t.Fatalf("%q = %+v", text, q)
			}
			back, err := unit.ParseQuantity(q.Text(), q.Dim, unit.Habit{})
			back.As, q.As = "", ""
			if err != nil || back != q {
				t.Fatalf("%q prints as %q, which reads as %+v, %v; want %+v", text, q.Text(), back, err, q)
			}
		} else if errors.As(err, &two) && len(two.Readings) < 2 {
			t.Fatalf("%q has two readings: %q", text, two.Readings)
		}
		if l, m, h, err := unit.ParseGuesses(text, dim, unit.Habit{}); err == nil && (l.SI > m.SI || m.SI > h.SI) {
			t.Fatalf("%q: %v, %v, %v do not grow", text, l.SI, m.SI, h.SI)
		}
		if v, minus, plus, err := unit.ParseTolerance(text, dim, unit.Habit{}); err == nil && (minus < 0 || plus < 0 || math.IsNaN(v.SI+minus+plus)) {
			t.Fatalf("%q: %v -%v +%v", text, v.SI, minus, plus)
		}
	})
}

func FuzzMoney(f *testing.F) {
	for _, s := range []string{"EUR 1.250,00", "1 200 €", "-350,- EUR", "(1,250.00) USD", "$ 4", "¥ 300", "BHD 1.2345", "9223372036854775807 JPY", "1e5 EUR", "€", "CHF 1'250.–"} {
		f.Add(s)
	}
	f.Fuzz(func(t *testing.T, text string) {
		m, err := unit.ParseMoney(text, unit.Habit{Currency: "EUR"})
		if err != nil {
			return
		}
		back, err := unit.ParseMoney(m.Text(), unit.Habit{})
		if err != nil || back.Minor != m.Minor || back.Currency != m.Currency {
			t.Fatalf("%q prints as %q, which reads as %+v, %v", text, m.Text(), back, err)
		}
	})
}
