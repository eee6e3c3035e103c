package calendar

import (
	"errors"
	"fmt"
	"regexp"
	"strconv"
	"strings"
	"time"

	"dogshore/unit"
)

// ParseDay reads one day as people write it: 2027-04-12, 12.4.2027, 12 April
// 2027, Mon 12 April, April 12 2027, 12 Apr. Without a year the day nearest to
// today is taken; without today the year is asked for.
//
// Errors are *unit.Ambiguous ("03/04/2026" is 3 April or 4 March),
// *unit.Absent, or say what would be right.
func ParseDay(text string, today Day) (Day, error) {
	s, err := ParseSpan(text, today)
	if err != nil {
		return 0, err
	}
	if s.First != s.Last {
		return 0, fmt.Errorf("%q is %s to %s: one day is asked for, as 2027-04-12", text, s.First.Said(), s.Last.Said())
	}
	return s.First, nil
}

// ParseSpan reads a day, week or month as people say it: all that ParseDay
// reads, and W34, week 34, KW 34, 2027-W34, May 2027, end of May, mid June,
// 2027-04-12/2027-04-20, 12 to 20 April 2027. The thirds of a month are its
// days 1 to 10, 11 to 20 and 21 to the last.
func ParseSpan(text string, today Day) (Span, error) {
	if a := unit.SaysNothing(text); a != nil {
		return Span{}, a
	}
	p := words(text)
	if len(p.s) > 80 {
		return Span{}, fmt.Errorf("a day is asked for, not %d characters", len(text))
	}
	p.today = today
	s, err := p.span()
	if err != nil {
		return Span{}, err
	}
	if s.First < firstDay || s.Last > lastDay {
		return Span{}, fmt.Errorf("%q is outside the years 1950 to 2199", text)
	}
	if s.First > s.Last {
		return Span{}, fmt.Errorf("%q ends (%s) before it begins (%s)", text, s.Last.Said(), s.First.Said())
	}
	s.As = strings.TrimSpace(text)
	return s, nil
}

var firstDay, lastDay = Date(1950, 1, 1), Date(2199, 12, 31)

// phrase is a text being read as a day: in lower case, with single spaces.
type phrase struct {
	text, s string
	today   Day
}

func words(text string) phrase {
	s := strings.ToLower(strings.NewReplacer("\u00a0", " ", "\u202f", " ", "\u2009", " ", "–", "-", "—", "-", "\u2212", "-", "‑", "-").Replace(text))
	return phrase{text: strings.TrimSpace(text), s: strings.Join(strings.Fields(s), " ")}
}

var (
	isoDay     = regexp.MustCompile(`^(\d{4})-(\d{1,2})-(\d{1,2})(?:[t ]\d{1,2}:\d{2}(?::\d{2}(?:\.\d+)?)?z?)?$`)
	isoMonth   = regexp.MustCompile(`^(\d{4})-(\d{2})$`)
	isoWeek    = regexp.MustCompile(`^(\d{4})-?\s?w(\d{1,2})(?:-(\d))?$`)
	saidWeek   = regexp.MustCompile(`^(?:in )?(?:week of |week no\.? |calendar week |week |wk\.? ?|w ?|cw ?|kw ?)(\d{1,2})(?:[ ,/-]+(?:of )?(\d{4}))?$`)
	weekOf     = regexp.MustCompile(`^(?:the )?week (?:of|from|beginning) (.+)$`)
	numeric    = regexp.MustCompile(`^(\d{1,2})([./-])(\d{1,2})(?:([./-])(\d{2}|\d{4})?)?$`)
	dayMonth   = regexp.MustCompile(`^(?:the )?(\d{1,2})(?:\.|st|nd|rd|th)?[ -]?(?:of )?([a-z]+)\.?(?:[ ,-]+(\d{4}|\d{2}))?$`)
	monthDay   = regexp.MustCompile(`^([a-z]+)\.? (\d{1,2})(?:st|nd|rd|th)?(?:,? (\d{4}))?$`)
	monthYear  = regexp.MustCompile(`^(?:in )?(?:(?:the )?(early|beginning|start|first third|mid|middle|late|end)(?: in| of|-)? ?)?([a-z]+)\.?(?:[ ,-]+(\d{4}))?$`)
	leadingDay = regexp.MustCompile(`^(mon|tues?|wed(?:nes)?|thu(?:rs?)?|fri|sat(?:ur)?|sun)(?:day)?\.?,? (?:the )?(.+)$`)
	twoDays    = regexp.MustCompile(`^(.+?)(?:/| to | - | until )(.+)$`)
	dayToDay   = regexp.MustCompile(`^(\d{1,2})\.? ?(?:-|to) ?(\d{1,2}\.? ?[a-z].*)$`)
)

func (p phrase) span() (Span, error) {
	if m := leadingDay.FindStringSubmatch(p.s); m != nil {
		return p.onWeekday(m[1], m[2])
	}
	if m := isoDay.FindStringSubmatch(p.s); m != nil {
		return p.date(num(m[1]), num(m[2]), num(m[3]))
	}
	if m := isoMonth.FindStringSubmatch(p.s); m != nil {
		return p.month(num(m[1]), num(m[2]), "")
	}
	if m := isoWeek.FindStringSubmatch(p.s); m != nil {
		return p.week(num(m[1]), num(m[2]), m[3])
	}
	if m := saidWeek.FindStringSubmatch(p.s); m != nil {
		return p.week(num(m[2]), num(m[1]), "")
	}
	if m := weekOf.FindStringSubmatch(p.s); m != nil {
		q := p
		q.s = m[1]
		s, err := q.span()
		s.First -= Day((int(s.First.Weekday()) + 6) % 7)
		s.Last = s.First + 6
		return s, err
	}
	if m := numeric.FindStringSubmatch(p.s); m != nil {
		return p.numbers(num(m[1]), m[2], num(m[3]), m[4], m[5])
	}
	return p.named()
}

// named reads what has a month's name in it, or two days.
func (p phrase) named() (Span, error) {
	if m := dayMonth.FindStringSubmatch(p.s); m != nil && monthOf(m[2]) > 0 {
		return p.date(year(m[3]), monthOf(m[2]), num(m[1]))
	}
	if m := monthDay.FindStringSubmatch(p.s); m != nil && monthOf(m[1]) > 0 {
		return p.date(year(m[3]), monthOf(m[1]), num(m[2]))
	}
	if m := monthYear.FindStringSubmatch(p.s); m != nil && monthOf(m[2]) > 0 {
		return p.month(year(m[3]), monthOf(m[2]), m[1])
	}
	if m := dayToDay.FindStringSubmatch(p.s); m != nil {
		q := p
		q.s = m[2]
		if s, err := q.span(); err == nil {
			y, month, _ := s.First.Time().Date()
			first, err := p.date(y, int(month), num(m[1]))
			return Span{First: first.First, Last: s.Last}, err
		}
	}
	if m := twoDays.FindStringSubmatch(p.s); m != nil {
		a, b := p, p
		a.s, b.s = m[1], m[2]
		last, errB := b.span()
		if p.today == 0 && errB == nil {
			a.today = last.First
		}
		first, errA := a.span()
		if err := errors.Join(errA, errB); err == nil {
			return Span{First: first.First, Last: last.Last}, nil
		}
	}
	return Span{}, fmt.Errorf("%q is no day, week or month that can be read: write 2027-04-12, 2027-W34 or May 2027", p.text)
}

// numbers reads 12.4.2027, 12.4., 25/12/2026. With slashes or dashes the
// first number may be the month, and is asked about where both could be.
func (p phrase) numbers(a int, sep1 string, b int, sep2, y string) (Span, error) {
	if sep2 != "" && sep1 != sep2 || sep2 == "" && sep1 == "-" {
		return Span{}, fmt.Errorf("%q is no day that can be read: write 2027-04-12", p.text)
	}
	if sep1 == "." && sep2 == "" {
		return Span{}, fmt.Errorf("%q is no day that can be read: write 12.4. or 2027-04-12", p.text)
	}
	dayFirst, errD := p.date(year(y), b, a)
	monthFirst, errM := p.date(year(y), a, b)
	switch {
	case sep1 == "." || errM != nil || dayFirst == monthFirst && errD == nil:
		return dayFirst, errD
	case errD != nil:
		return monthFirst, nil
	}
	return Span{}, &unit.Ambiguous{Text: p.text, Readings: []string{plainly(dayFirst.First), plainly(monthFirst.First)}}
}

// plainly prints a day in a form that has one reading.
func plainly(d Day) string { return d.Time().Format("2 January 2006") }

// date makes the span of a day; year 0 means the one that lies nearest to
// today.
func (p phrase) date(y, m, d int) (Span, error) {
	if y == 0 {
		return p.nearest(func(y int) (Span, error) { return p.date(y, m, d) })
	}
	day := Date(y, time.Month(m), d)
	yy, mm, dd := day.Time().Date()
	if yy != y || int(mm) != m || dd != d {
		return Span{}, fmt.Errorf("%q: there is no such day", p.text)
	}
	return On(day), nil
}

// month makes the span of a month or a third of it.
func (p phrase) month(y, m int, third string) (Span, error) {
	if m < 1 || m > 12 {
		return Span{}, fmt.Errorf("%q: there is no month %d", p.text, m)
	}
	if y == 0 {
		return p.nearest(func(y int) (Span, error) { return p.month(y, m, third) })
	}
	first := Date(y, time.Month(m), 1)
	last := Date(y, time.Month(m)+1, 0)
	switch third {
	case "early", "beginning", "start", "first third":
		last = first + 9
	case "mid", "middle":
		first, last = first+10, first+19
	case "late", "end":
		first += 20
	}
	return Span{First: first, Last: last}, nil
}

// week makes the span of an ISO 8601 week, or of one day of it (1 is Monday).
func (p phrase) week(y, w int, day string) (Span, error) {
	if y == 0 {
		return p.nearest(func(y int) (Span, error) { return p.week(y, w, day) })
	}
	fourth := Date(y, 1, 4) // always in week 1
	monday := fourth - Day((int(fourth.Weekday())+6)%7) + Day(7*(w-1))
	if yy, ww := monday.Week(); yy != y || ww != w {
		return Span{}, fmt.Errorf("%q: the year %d has no week %d", p.text, y, w)
	}
	if day == "" {
		return Span{First: monday, Last: monday + 6}, nil
	}
	if d := num(day); d >= 1 && d <= 7 {
		return On(monday + Day(d-1)), nil
	}
	return Span{}, fmt.Errorf("%q: a week has days 1 to 7", p.text)
}

// nearest tries the years around today and takes the span whose middle lies
// nearest; at the same distance the one to come.
func (p phrase) nearest(in func(year int) (Span, error)) (Span, error) {
	if p.today == 0 {
		return Span{}, fmt.Errorf("%q has no year: write it with its year, as 12 April 2027", p.text)
	}
	this := p.today.Time().Year()
	var best Span
	var err error
	distance := func(s Span) Day { return max(s.First+s.Last-2*p.today, 2*p.today-s.First-s.Last) }
	for _, y := range []int{this + 1, this, this - 1, this + 2, this - 2, this + 3, this - 3, this + 4, this - 4} {
		s, e := in(y)
		if e != nil {
			err = e
			continue
		}
		if !best.Known() || distance(s) < distance(best) {
			best = s
		}
	}
	if best.Known() {
		return best, nil
	}
	return Span{}, err
}

var weekdays = []string{"sun", "mon", "tue", "wed", "thu", "fri", "sat"}

// onWeekday reads "Mon 12 April" and refuses it where the 12th is no Monday.
// A weekday finds its year: without one, only years in which it fits count.
func (p phrase) onWeekday(name, rest string) (Span, error) {
	want := 0
	for i, w := range weekdays {
		if strings.HasPrefix(name, w) {
			want = i
		}
	}
	q := p
	q.s = rest
	s, err := q.span()
	if err != nil {
		return s, err
	}
	if s.First != s.Last {
		return Span{}, fmt.Errorf("%q is no day that can be read: write Mon 12 April 2027", p.text)
	}
	if int(s.First.Weekday()) != want {
		near := s.First + Day((want-int(s.First.Weekday())+10)%7-3)
		return Span{}, fmt.Errorf("%q: %s is a %s; the nearest %s is %s", p.text, plainly(s.First), s.First.Weekday(), time.Weekday(want), plainly(near))
	}
	return s, nil
}

var months = []string{"", "january", "february", "march", "april", "may", "june", "july", "august", "september", "october", "november", "december"}

// monthOf returns the number of the month that s names, in full or by its
// first three letters or more; 0 if none.
func monthOf(s string) int {
	for i, m := range months[1:] {
		if len(s) >= 3 && strings.HasPrefix(m, s) || s == "sept" && i == 8 {
			return i + 1
		}
	}
	return 0
}

// year reads a year of four digits, or of two in this century; "" is 0.
func year(s string) int {
	if len(s) == 2 {
		return 2000 + num(s)
	}
	return num(s)
}

func num(s string) int {
	n, _ := strconv.Atoi(s)
	return n
}
