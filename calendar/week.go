package calendar

import (
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
)

// A week is how much of each day, Monday first, is worked.
type week struct {
	part   [7]float64
	always bool // "24/7": days run from midnight to midnight
}

var dayNames = [7]string{"Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun"}

var fullNames = [7]string{"monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"}

// leastPart is the smallest part of a day that a week or closure may name, so
// that no length of work runs for thousands of years.
const leastPart = 0.01

const weekRight = `write it as "Mon-Thu 1, Fri 0.5", as "Mon-Fri", or as "24/7"`

var decimalComma = regexp.MustCompile(`([0-9]),([0-9])`)

// parseWeek reads a working week: days or runs of days, each with the part of
// a full day that is worked (1 if none is said), separated by commas or
// semicolons; or "24/7". Days not named are not worked.
func parseWeek(s string) (week, error) {
	var w week
	text := strings.ToLower(strings.TrimSpace(s))
	if text == "24/7" {
		w.always = true
		w.part = [7]float64{1, 1, 1, 1, 1, 1, 1}
		return w, nil
	}
	if text == "" {
		return w, fmt.Errorf("calendar: the working week is empty: %s", weekRight)
	}
	text = strings.NewReplacer("–", "-", "—", "-", " to ", "-", "½", "0.5").Replace(text)
	text = decimalComma.ReplaceAllString(text, "$1.$2")
	var named [7]bool
	for _, item := range strings.FieldsFunc(text, func(r rune) bool { return r == ',' || r == ';' }) {
		first, n, part, err := parseRun(strings.TrimSpace(item))
		if err != nil {
			return w, fmt.Errorf("calendar: in the working week %q: %w", s, err)
		}
		for i := range n {
			d := (first + i) % 7
			if named[d] {
				return w, fmt.Errorf("calendar: the working week %q names %s twice", s, dayNames[d])
			}
			named[d], w.part[d] = true, part
		}
	}
	return w, nil
}

// parseRun reads one item of a week: "mon-thu 1", "fri 0.5", "sat".
func parseRun(item string) (first, n int, part float64, err error) {
	cut := strings.IndexAny(item, "0123456789.")
	days, number := item, ""
	if cut >= 0 {
		days, number = item[:cut], strings.TrimSpace(item[cut:])
	}
	from, to, isRun := strings.Cut(days, "-")
	if first, err = parseDayName(from); err != nil {
		return 0, 0, 0, err
	}
	n = 1
	if isRun {
		last, err := parseDayName(to)
		if err != nil {
			return 0, 0, 0, err
		}
		n = (last-first+7)%7 + 1
	}
	if number == "" {
		return first, n, 1, nil
	}
	part, err = strconv.ParseFloat(number, 64)
	if err != nil {
		return 0, 0, 0, fmt.Errorf("%q is not the part of a day that is worked: %s", number, weekRight)
	}
	return first, n, part, checkPart(part)
}

func checkPart(part float64) error {
	if math.IsNaN(part) || part < 0 || part > 1 || part > 0 && part < leastPart {
		return fmt.Errorf("%g is not a part of a day: write 0 for a day off, 1 for a full day, or between %g and 1", part, leastPart)
	}
	return nil
}

// parseDayName reads a day's English name or its first two letters or more.
func parseDayName(s string) (int, error) {
	s = strings.TrimSuffix(strings.TrimSpace(s), ".")
	for i, full := range fullNames {
		if len(s) >= 2 && strings.HasPrefix(full, s) {
			return i, nil
		}
	}
	return 0, fmt.Errorf("%q is not a day of the week: %s", s, weekRight)
}

// String prints w so that parseWeek reads the same week.
func (w week) String() string {
	if w.always {
		return "24/7"
	}
	var items []string
	for i := 0; i < 7; {
		j := i
		for j+1 < 7 && w.part[j+1] == w.part[i] {
			j++
		}
		if w.part[i] > 0 {
			days := dayNames[i]
			if j > i {
				days += "-" + dayNames[j]
			}
			if w.part[i] != 1 {
				days += " " + strconv.FormatFloat(w.part[i], 'g', -1, 64)
			}
			items = append(items, days)
		}
		i = j + 1
	}
	return strings.Join(items, ", ")
}
