package unit_test

import (
	"errors"
	"strings"
	"testing"

	"dogshore/internal/test"
	"dogshore/unit"
)

// Minor units, as published copies of the table of ISO 4217 have them.
func TestExponents(t *testing.T) {
	const read = "ISO 4217 minor units, schedule sheet section 6.5 [read: S41-S43]"
	const memory = "from memory: ISO 4217 minor units, schedule sheet section 6.5 [memory]"
	for _, c := range []struct {
		codes, src string
		want       int
	}{
		{"EUR USD GBP AUD INR", read, 2}, {"JPY KRW CLP BIF DJF", read, 0}, {"BHD", read, 3}, {"CLF", read, 4},
		{"KWD TND OMR JOD", memory, 3}, {"ISK VND", memory, 0},
	} {
		for code := range strings.FieldsSeq(c.codes) {
			e, ok := unit.Exponent(code)
			if !ok {
				t.Errorf("%s is no currency", code)
			}
			test.Check(t, "decimals of "+code, c.src, float64(c.want), float64(e), 0)
		}
	}
}

func TestParseMoney(t *testing.T) {
	for _, c := range []struct {
		text, currency string
		want           int64
	}{
		{"EUR 1.250,00", "EUR", 125000}, {"1,250.00 EUR", "EUR", 125000}, {"1 200 €", "EUR", 120000}, {"€1200", "EUR", 120000},
		{"1\u202f200,50 €", "EUR", 120050}, {"-350,- EUR", "EUR", -35000}, {"EUR -350", "EUR", -35000}, {"(1,250.00) USD", "USD", -125000},
		{"CHF 1'250.–", "CHF", 125000}, {"US$ 12.5", "USD", 1250}, {"A$ 3", "AUD", 300}, {"£0.05", "GBP", 5}, {"300 JPY", "JPY", 300},
		{"BHD 1.5", "BHD", 1500}, {"12 eur", "EUR", 1200}, {"1.234.567,89 EUR", "EUR", 123456789}, {"12.345 EUR", "EUR", 1234500},
		{"90000000000000 EUR", "EUR", 9000000000000000},
	} {
		m, err := unit.ParseMoney(c.text, unit.Habit{})
		if err != nil || m.Minor != c.want || m.Currency != c.currency {
			t.Errorf("%q = %d %s, %v; want %d %s", c.text, m.Minor, m.Currency, err, c.want, c.currency)
		}
	}
	if m, err := unit.ParseMoney("1200", unit.Habit{Currency: "SEK"}); err != nil || m.Currency != "SEK" || m.As != "1200 SEK" {
		t.Errorf("the contract's currency: %+v, %v", m, err)
	}
	if m, err := unit.ParseMoney("$ 3", unit.Habit{Currency: "CAD"}); err != nil || m.Currency != "CAD" {
		t.Errorf("a sign that the contract settles: %+v, %v", m, err)
	}
}

func TestMoneyAskedAndRefused(t *testing.T) {
	for _, text := range []string{"1.250 EUR", "$ 3", "¥ 300", "kr 12", "ca. 1200 EUR"} {
		m, err := unit.ParseMoney(text, unit.Habit{})
		var two *unit.Ambiguous
		if !errors.As(err, &two) {
			t.Errorf("%q = %+v, %v; want it asked about", text, m, err)
			continue
		}
		for _, r := range two.Readings {
			if _, err := unit.ParseMoney(r, unit.Habit{}); err != nil {
				t.Errorf("%q offers %q, which is not read: %v", text, r, err)
			}
		}
	}
	for _, text := range []string{"1200", "12 XYZ", "12,3456 EUR", "1.5 JPY", "EUR", "EUR twelve", "1e5 EUR", "99999999999999999999 EUR", "12 EUR USD"} {
		if m, err := unit.ParseMoney(text, unit.Habit{}); err == nil {
			t.Errorf("%q was read as %+v", text, m)
		}
	}
}
