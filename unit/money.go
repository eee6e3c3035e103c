package unit

import (
	"fmt"
	"math"
	"strings"
)

// exponents gives the number of decimals of a currency's minor unit where it
// is not two. Source: ISO 4217; JPY 0, BHD 3, CLP 0, CLF 4, BIF 0, DJF 0, KRW
// 0 read in published copies of its table, the rest from memory.
var exponents = map[string]int{
	"BHD": 3, "IQD": 3, "JOD": 3, "KWD": 3, "LYD": 3, "OMR": 3, "TND": 3,
	"BIF": 0, "CLP": 0, "DJF": 0, "GNF": 0, "ISK": 0, "JPY": 0, "KMF": 0, "KRW": 0, "PYG": 0, "RWF": 0,
	"UGX": 0, "UYI": 0, "VND": 0, "VUV": 0, "XAF": 0, "XOF": 0, "XPF": 0,
	"CLF": 4, "UYW": 4,
}

// currencies are the codes that are read. Source: ISO 4217, from memory.
const currencies = "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF CLF CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH UGX USD UYI UYU UYW UZS VED VES VND VUV WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG"

// Exponent returns the number of decimals of a currency's minor unit, and
// whether the code is a currency of ISO 4217.
func Exponent(currency string) (int, bool) {
	if len(currency) != 3 || !strings.Contains(" "+currencies+" ", " "+currency+" ") {
		return 2, false
	}
	if e, ok := exponents[currency]; ok {
		return e, true
	}
	return 2, true
}

// signs are the marks that stand for one currency, or for several.
var signs = []struct {
	mark string
	of   []string
}{
	{"A$", []string{"AUD"}}, {"NZ$", []string{"NZD"}}, {"US$", []string{"USD"}}, {"C$", []string{"CAD"}},
	{"€", []string{"EUR"}}, {"£", []string{"GBP"}}, {"zł", []string{"PLN"}}, {"₺", []string{"TRY"}},
	{"$", []string{"USD", "AUD", "CAD", "NZD"}}, {"¥", []string{"JPY", "CNY"}}, {"kr", []string{"DKK", "NOK", "SEK"}},
}

// ParseMoney reads an amount: "EUR 1.250,00", "1 200 €", "-350,- EUR". What
// the amount's currency is must be written, or known by h.
func ParseMoney(text string, h Habit) (Money, error) {
	if a := SaysNothing(text); a != nil {
		return Money{}, a
	}
	if len(text) > longestNumber {
		return Money{}, fmt.Errorf("an amount of money is asked for, not %d characters", len(text))
	}
	return settle(text, h, (*scanner).money, func(a, b Money) bool { return a.Minor == b.Minor })
}

func (s *scanner) money() (Money, error) {
	m := Money{As: strings.TrimSpace(s.text)}
	about := s.word(abouts...)
	minus := s.word("-") || s.word("(")
	cur, err := s.currency()
	if err != nil {
		return m, err
	}
	s.noParts = true
	_, digits, err := s.number()
	if err != nil {
		return m, fmt.Errorf("%q is no amount of money: write EUR 1250.00", s.text)
	}
	s.word(",--", ",-", ".--", ".-")
	s.word(")")
	if cur == "" {
		if cur, err = s.currency(); err != nil {
			return m, err
		}
	}
	s.word(")")
	if cur == "" {
		cur = s.h.Currency
		m.As = strings.TrimSpace(m.As + " " + cur)
		s.unit = cur
	}
	if !s.end() {
		return m, fmt.Errorf("%q: %q is neither an amount nor a currency: write EUR 1250.00", s.text, s.rest())
	}
	e, ok := Exponent(cur)
	switch {
	case cur == "":
		return m, fmt.Errorf("%q has no currency: write EUR %s", s.text, strings.TrimSpace(s.spelled()))
	case !ok:
		return m, fmt.Errorf("%q is no currency of ISO 4217", cur)
	case about:
		return m, &Ambiguous{Text: s.text, Readings: []string{cur + " " + digits}}
	}
	m.Currency = cur
	if m.Minor, err = minor(digits, e); err != nil {
		return m, fmt.Errorf("%q: %w of %s", s.text, err, cur)
	}
	if minus {
		m.Minor = -m.Minor
	}
	return m, nil
}

// currency takes a code or a mark; "" if there is none here.
func (s *scanner) currency() (string, error) {
	s.space()
	r := s.rest()
	for _, x := range signs {
		if !strings.HasPrefix(strings.ToLower(r), strings.ToLower(x.mark)) || !boundary("'", r[len(x.mark):]) {
			continue
		}
		s.i += len(x.mark)
		if len(x.of) == 1 {
			return x.of[0], nil
		}
		for _, c := range x.of {
			if c == s.h.Currency {
				return c, nil
			}
		}
		amb := &Ambiguous{Text: s.text}
		for _, c := range x.of {
			amb.Readings = append(amb.Readings, strings.Replace(s.s, r[:len(x.mark)], c, 1))
		}
		return "", amb
	}
	if len(r) < 3 || len(r) > 3 && !boundary("", r[3:]) && !isDigit(r[3]) {
		return "", nil
	}
	code := strings.ToUpper(r[:3])
	for _, c := range []byte(code) {
		if c < 'A' || c > 'Z' {
			return "", nil
		}
	}
	s.i += 3
	return code, nil
}

// minor turns decimal digits into minor units, exactly.
func minor(digits string, exponent int) (int64, error) {
	sign := int64(1)
	if strings.HasPrefix(digits, "-") {
		sign, digits = -1, digits[1:]
	}
	if strings.ContainsAny(digits, "eE") {
		return 0, fmt.Errorf("an amount is written without powers of ten: that is no amount")
	}
	whole, part, _ := strings.Cut(digits, ".")
	part = strings.TrimRight(part, "0")
	if len(part) > exponent {
		return 0, fmt.Errorf("%d decimals; there are %d", len(part), exponent)
	}
	n := int64(0)
	for _, c := range []byte(whole + part + strings.Repeat("0", exponent-len(part))) {
		if n > (math.MaxInt64-9)/10 {
			return 0, fmt.Errorf("more than can be counted in minor units")
		}
		n = 10*n + int64(c-'0')
	}
	return sign * n, nil
}

// Text prints m so that ParseMoney reads it back: "EUR 1250.00". It does not
// look at m.As. Not known prints as "".
func (m Money) Text() string {
	if !m.Known() {
		return ""
	}
	e, _ := Exponent(m.Currency)
	n, sign := uint64(m.Minor), ""
	if m.Minor < 0 {
		n, sign = -n, "-"
	}
	s := fmt.Sprintf("%0*d", e+1, n)
	if e > 0 {
		s = s[:len(s)-e] + "." + s[len(s)-e:]
	}
	if _, doubtful, _ := undo(s, 0); doubtful {
		s += "0" // 1.250 has two readings, 1.2500 one
	}
	return m.Currency + " " + sign + s
}
