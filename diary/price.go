package diary

import (
	"encoding/json"
	"math"
	"regexp"
	"strconv"
	"strings"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// prices takes amounts of money out of texts.
type prices struct {
	known  map[string]bool // digits of the amounts on record
	pounds bool            // the contract is in pounds: else a pound is a weight
}

// leftPrice stands where an amount stood.
const leftPrice = "(price left out)"

// leastKnown is the least amount that is looked for without a currency beside
// it: a 2 is a 2.
const leastKnown = 20

// An amount is one number or several with one currency: "1.250,00 €", "EUR 300
// to 400", "$2k", "200, 300 or 400 euros", "350,-".
const (
	plain    = `\d(?:[\d.,'’\x{00a0}\x{202f} ]*\d)?(?:\s?(?:k|m|thousand|million)\b)?`
	number   = plain + `(?:[.,][-–—])?`
	several  = number + `(?:\s*(?:-|–|to|and|or|plus|by|,|;|/|\+)\s*` + number + `)*`
	mark     = `(?:(?:A|NZ|US|C|R|HK|S)?\$|€|£|¥|₺|₽|₹|₩|₪|₫|฿|zł|kr\b\.?|\b(?:eur|usd|gbp|chf|sek|nok|dkk|pln|aud|nzd|cad)\b)`
	word     = `(?:euros?|cents?|dollars?|sterling|quid|francs?|crowns?|kron[ae]r?|kronor|zloty|lira|yen)\b`
	inPounds = `|pounds?\b`
)

var (
	codeBehind = regexp.MustCompile(`[-−]?(` + several + `)\s?([A-Z]{3})\b`)
	codeBefore = regexp.MustCompile(`\b([A-Z]{3})\s?[-−]?(` + several + `)`)
	wordBehind = regexp.MustCompile(`(?i)[-−]?` + several + `\s?(?:` + mark + `|` + word + `)`)
	poundToo   = regexp.MustCompile(`(?i)[-−]?` + several + `\s?(?:` + mark + `|` + word + inPounds + `)`)
	markBefore = regexp.MustCompile(`(?i)` + mark + `\s?[-−]?` + several + `(?:,-)?`)
	dashed     = regexp.MustCompile(`[-−]?` + plain + `\s?[.,][-–—]([^\p{L}\p{N}]|$)`)
	bare       = regexp.MustCompile(`\d(?:[\d.,'’\x{00a0}\x{202f}]*\d)?`)
	measure    = regexp.MustCompile(`^\s?(?:mm|cm|m|km|in|ft|kg|g|t|lb|oz|l|ml|mbar|bar|Pa|kPa|N|kN|kn|V|A|Ah|W|kW|h|min|s|d|wd|days?|weeks?|hours?|%|°|"|'|x|by)(?:[^\p{L}]|$)`)
)

// collectPrices gathers the amounts that the record knows: one that is
// repeated in a text without its currency is a price all the same.
func collectPrices(r *journal.Record) prices {
	p := prices{known: map[string]bool{}}
	b, _ := journal.Get[record.Build](r, record.R("build", "build"))
	p.pounds = b.Currency == "GBP"
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		for _, f := range k.Fields {
			if f.Type != record.MoneyType {
				continue
			}
			for _, self := range r.Refs(k.Name) {
				h, ok := r.Held(self, f.Name)
				var m unit.Money
				if !ok || json.Unmarshal([]byte(h.Value), &m) != nil {
					continue
				}
				p.add(m)
			}
		}
	}
	return p
}

func (p *prices) add(m unit.Money) {
	p.pounds = p.pounds || m.Currency == "GBP"
	e, _ := unit.Exponent(m.Currency)
	whole := math.Pow10(e)
	amount := math.Abs(float64(m.Minor)) / whole
	if amount < leastKnown {
		return
	}
	p.known[strconv.FormatFloat(amount, 'f', -1, 64)] = true
	p.known[strconv.FormatFloat(amount, 'f', e, 64)] = true
}

// leaveOut is s without amounts of money. An amount that is on no record and
// has no currency beside it can't be told from any other number.
func (p prices) leaveOut(s string) string {
	inCode := func(re *regexp.Regexp, group int) {
		s = re.ReplaceAllStringFunc(s, func(m string) string {
			if _, ok := unit.Exponent(re.FindStringSubmatch(m)[group]); !ok {
				return m
			}
			return leftPrice
		})
	}
	inCode(codeBefore, 1)
	inCode(codeBehind, 2)
	s = markBefore.ReplaceAllString(s, leftPrice)
	if p.pounds {
		s = poundToo.ReplaceAllString(s, leftPrice)
	} else {
		s = wordBehind.ReplaceAllString(s, leftPrice)
	}
	s = dashed.ReplaceAllString(s, leftPrice+"$1")
	return strings.TrimSpace(p.repeated(s))
}

// repeated takes out the amounts on record that stand without a currency.
func (p prices) repeated(s string) string {
	var b strings.Builder
	from := 0
	for _, at := range bare.FindAllStringIndex(s, -1) {
		if p.known[digits(s[at[0]:at[1]])] && !measure.MatchString(s[at[1]:]) {
			b.WriteString(s[from:at[0]] + leftPrice)
			from = at[1]
		}
	}
	return b.String() + s[from:]
}

// digits is a number without what groups its thousands, a point before its
// decimals: "1.250,00" is 1250.00, "1,250" is 1250.
func digits(s string) string {
	s = strings.NewReplacer("'", "", "’", "", "\u00a0", "", "\u202f", "", " ", "").Replace(s)
	i := strings.LastIndexAny(s, ".,")
	if i < 0 || len(s)-i-1 == 3 { // three digits behind: thousands
		return strings.NewReplacer(".", "", ",", "").Replace(s)
	}
	return strings.NewReplacer(".", "", ",", "").Replace(s[:i]) + "." + s[i+1:]
}
