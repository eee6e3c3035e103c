package diary

import (
	"strings"
	"testing"
)

// Amounts as people write them; and what is no amount of money.
func TestPricesLeftOut(t *testing.T) {
	p := prices{known: map[string]bool{"780": true, "1250.5": true, "1250.50": true}}
	for _, text := range []string{
		"EUR 1.250,00", "1 250 €", "€1,250.00", "-350,- EUR", "350,-", "12k €", "$2k", "US$ 40", "200, 300 or 400 euros", "EUR 300 to 400", "300–400 EUR", "780 extra", "1.250,50 more", "kr 40", "40 eur", "1.2 million CHF", "£12",
	} {
		got := p.leaveOut("It costs " + text + ", says the letter")
		if strings.ContainsAny(got, "0123456789€$£") || !strings.Contains(got, leftPrice) || !strings.HasPrefix(got, "It costs ") || !strings.HasSuffix(got, "says the letter") {
			t.Errorf("%q became %q", text, got)
		}
	}
	for _, text := range []string{
		"25 mm", "780 mm by 300", "16 °C", "3 of 4 eyes", "drawing 12, revision C", "week 50", "hull 07", "at 14:30", "10 pounds of lead", "M10 bolts", "780 kg",
	} {
		if got := p.leaveOut("Seen: " + text); got != "Seen: "+text {
			t.Errorf("%q became %q", text, got)
		}
	}
	if got := (prices{pounds: true}).leaveOut("for 10 pounds"); strings.Contains(got, "10") {
		t.Errorf("in a contract in pounds: %q", got)
	}
}

// Names as whole words, whatever letters around them, in any case.
func TestNamesLeftOut(t *testing.T) {
	for _, c := range []struct{ text, want string }{
		{"Bo's pads", "the yard hand's pads"}, {"(BO)", "(the yard hand)"}, {"Boat, bobbin, Ubo", "Boat, bobbin, Ubo"}, {"bo", "the yard hand"}, {"bo_1.jpg", "the yard hand_1.jpg"},
		{"Søren and SØREN", "somebody and somebody"}, {"İstanbul Bo", "İstanbul the yard hand"}, {"İlker, ilker and ILKER", "somebody, somebody and somebody"}, {"Re\u0301my", "somebody"}, {"\xffBo", "\ufffdthe yard hand"}, {"", ""},
	} {
		cl := &cleaner{leave: Leave{Names: true}, names: []alias{{folded("Rémy"), "somebody", false}, {"søren", "somebody", false}, {folded("İlker"), "somebody", false}, {"bo", "the yard hand", false}}}
		if got := cl.text(c.text); got != c.want {
			t.Errorf("%q became %q, want %q", c.text, got, c.want)
		}
	}
}

// Whatever is typed, what was found once is found no more.
func FuzzLeaveOut(f *testing.F) {
	f.Add("Bo told: EUR 1.200, bo 300 to 400 €")
	f.Add("780bo 780 bo€")
	f.Fuzz(func(t *testing.T, text string) {
		c := &cleaner{leave: Leave{Prices: true, Names: true}, prices: prices{known: map[string]bool{"780": true}}, names: []alias{{"bo", "the yard hand", false}}}
		got := c.text(text)
		if _, ok := find(strings.ToLower(got), "bo", 0); ok {
			t.Errorf("%q became %q", text, got)
		}
	})
}
