package record_test

import (
	"errors"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"dogshore/calendar"
	"dogshore/record"
	"dogshore/unit"
)

var today = calendar.Date(2027, 4, 1)

func TestFieldsReadWhatPeopleWrite(t *testing.T) {
	for _, c := range []struct{ kind, field, text, want string }{
		{"build", "length", "14,9 m", "14,9 m"},
		{"build", "contract_day", "12.4.2027", "2027-04-12"},
		{"build", "way", "Infused  Sandwich", "infused sandwich"},
		{"person", "may_release", "Y", "yes"},
		{"step", "work", "3/5/9 wd", "3/5/9 wd"},
		{"step", "work", "3-5-9", "3-5-9"},
		{"step", "work", "5", "5"},
		{"step", "lasts", "16 h", "16 h"},
		{"statement", "when", "W34", "2027-W34"},
		{"statement", "when", "2027-W34", "2027-W34"},
		{"statement", "when", "end of May", "2027-05-21/2027-05-31"},
		{"statement", "when", "May 2027", "May 2027"},
		{"measurement", "got", "24,6 mm", "24,6 mm"},
		{"measurement", "should", "25 mm +-0,5", "25 mm +-0,5"},
		{"measurement", "should", "25 +0,5/-0 mm", "25 +0,5/-0 mm"},
		{"measurement", "should", "24-26 mm", "24-26 mm"},
		{"option", "price", "EUR 1.250,00", "EUR 1.250,00"},
		{"option", "price", "-1 200 €", "-1 200 €"},
		{"place", "plan", "0 0; 4,2 0; 4.2 1.234", "0 0; 4.2 0; 4.2 1.234"},
		{"part", "within", "part/deck", "part/deck"},
		{"part", "within", "", ""},
	} {
		f := record.KindOf(c.kind).Field(c.field)
		v, err := f.Parse(c.text, today)
		if err != nil {
			t.Errorf("%s of %s: %q: %v", c.field, c.kind, c.text, err)
			continue
		}
		if got := f.Format(v); got != c.want {
			t.Errorf("%s of %s: %q prints as %q, want %q", c.field, c.kind, c.text, got, c.want)
		}
	}
}

func TestFieldsAskAndRefuse(t *testing.T) {
	for _, c := range []struct{ kind, field, text, asked, says string }{
		{"option", "weight", "1.200 kg", "1.2 kg|1200 kg", ""},
		{"build", "contract_day", "03/04/2026", "3 April 2026|4 March 2026", ""},
		{"step", "work", "4-6 wd", "4/5/6 wd|4/4/6 wd|4/6/6 wd", ""},
		{"option", "price", "$ 1200", "USD 1200|AUD 1200|CAD 1200|NZD 1200", ""},
		{"option", "price", "1.200 EUR", "1.2 EUR|1200 EUR", ""},
		{"build", "way", "carbon", "", "none of infused sandwich, hand-laid"},
		{"step", "work", "9/5/3", "", "must grow"},
		{"option", "price", "1200", "", "EUR 1200"},
		{"option", "price", "12,345 EUR", "", ""}, // three decimals: a euro has two, so thousands
		{"part", "within", "deck", "", "names no part"},
		{"statement", "when", "soon", "", "2027-W34"},
		{"photo", "file", "picture.jpg", "", "picture's page"},
		{"place", "plan", "0 0; 1 1", "", "three corners"},
	} {
		f := record.KindOf(c.kind).Field(c.field)
		v, err := f.Parse(c.text, today)
		if c.asked == "" && c.says == "" {
			if err != nil {
				t.Errorf("%q: %v", c.text, err)
			}
			continue
		}
		if err == nil {
			t.Errorf("%s of %s: %q was read as %s", c.field, c.kind, c.text, v)
			continue
		}
		var a *unit.Ambiguous
		if errors.As(err, &a) != (c.asked != "") || a != nil && strings.Join(a.Readings, "|") != c.asked {
			t.Errorf("%s of %s: %q: %v; want it asked as %s", c.field, c.kind, c.text, err, c.asked)
		}
		if !strings.Contains(err.Error(), c.says) {
			t.Errorf("%s of %s: %q: %q does not say %q", c.field, c.kind, c.text, err, c.says)
		}
	}
}

// Whatever value a field can hold prints so that it is read back the same.
func TestFormatReadsBack(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		k := rapid.SampledFrom(record.Kinds()).Draw(t, "kind")
		f := rapid.SampledFrom(k.Fields).Draw(t, "field")
		v, err := f.Check(record.Encode(anyValue(t, &f)))
		if err != nil {
			t.Skip("not a value that the door lets in")
		}
		text := f.Format(v)
		back, err := f.Parse(text, 0)
		if err != nil {
			t.Fatalf("%s of %s: %s prints as %q, which is not read: %v", f.Name, k.Name, v, text, err)
		}
		if text == "" {
			return // not known, or nothing said
		}
		if !f.Same(back, v) {
			t.Fatalf("%s of %s: %s prints as %q, which reads as %s", f.Name, k.Name, v, text, back)
		}
	})
}

func anyValue(t *rapid.T, f *record.Field) any {
	number := func(name string) float64 {
		if rapid.Bool().Draw(t, name+" round") {
			return float64(rapid.IntRange(-200000, 200000).Draw(t, name)) / 1000
		}
		return rapid.Float64Range(-1e9, 1e9).Draw(t, name) + 0 // no minus nothing
	}
	dim := f.Dim
	if dim == unit.Any {
		dim = rapid.SampledFrom([]unit.Dimension{unit.Number, unit.Length, unit.Mass, unit.Pressure, unit.Temperature, unit.Work, unit.Time, unit.Angle, unit.Barcol, unit.ShoreD}).Draw(t, "dim")
	}
	day := func(name string) calendar.Day {
		return calendar.Date(1950, 1, 1) + calendar.Day(rapid.IntRange(0, 91000).Draw(t, name))
	}
	switch f.Type {
	case record.DayType:
		return day("day")
	case record.SpanType:
		first := day("first")
		return calendar.Span{First: first, Last: first + calendar.Day(rapid.IntRange(0, 40).Draw(t, "length"))}
	case record.FlagType:
		return rapid.SampledFrom([]record.Flag{record.Yes, record.No}).Draw(t, "flag")
	case record.ChoiceType:
		return rapid.SampledFrom(f.Of).Draw(t, "word")
	case record.RefType:
		return record.R(rapid.SampledFrom(f.Of).Draw(t, "kind"), rapid.StringMatching(`[a-z0-9-]{1,20}`).Draw(t, "key"))
	case record.QuantityType:
		q := unit.Quantity{Known: true, SI: number("si"), Dim: dim, About: rapid.Bool().Draw(t, "about")}
		q.Low, q.High = q.SI, q.SI
		if rapid.Bool().Draw(t, "wide") {
			q.Low -= rapid.Float64Range(0, 10).Draw(t, "below")
			q.High += rapid.Float64Range(0, 10).Draw(t, "above")
		}
		return q
	case record.MoneyType:
		return unit.Money{Minor: rapid.Int64Range(-1e15, 1e15).Draw(t, "minor"), Currency: rapid.SampledFrom([]string{"EUR", "JPY", "BHD", "CLF", "USD"}).Draw(t, "currency")}
	case record.ThreePointType:
		low := rapid.Float64Range(0, 1000).Draw(t, "low")
		mode := low + rapid.Float64Range(0, 10).Draw(t, "more")
		return record.ThreePoint{Known: true, Low: low, Mode: mode, High: mode + float64(rapid.IntRange(0, 9).Draw(t, "high")), Dim: dim}
	case record.ToleranceType:
		return record.Tolerance{Known: true, Value: number("value"), Minus: rapid.Float64Range(0, 9).Draw(t, "minus"), Plus: rapid.Float64Range(0, 9).Draw(t, "plus"), Dim: dim}
	case record.SpotType:
		return record.Spot{Known: true, X: number("x"), Y: number("y"), Z: number("z")}
	case record.OutlineType:
		var o record.Outline
		for i := range rapid.IntRange(3, 6).Draw(t, "corners") {
			o = append(o, [2]float64{number("x") + float64(i), number("y")})
		}
		return o
	case record.FileType:
		return record.File{SHA256: rapid.StringMatching(`[0-9a-f]{64}`).Draw(t, "hash"), Name: rapid.StringMatching(`[a-z]{1,8}\.jpg`).Draw(t, "name")}
	}
	return rapid.StringMatching(`[A-Za-z0-9?,.;'"-]([A-Za-z0-9 ?,.;'"-]{0,30}[A-Za-z0-9?,.;'"-])?`).Draw(t, "text")
}
