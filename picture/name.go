package picture

import (
	"regexp"
	"strings"
	"time"

	"dogshore/calendar"
)

var dayInName = regexp.MustCompile(`(?:^|\D)((?:19|20)\d\d)([-_.]?)(0[1-9]|1[0-2])([-_.]?)(0[1-9]|[12]\d|3[01])(?:\D|$)`)

// dayIn finds a day in the name of a file: 20260311_141502, 2026-03-11.
func dayIn(name string) (calendar.Day, bool) {
	for _, m := range dayInName.FindAllStringSubmatch(base(name), -1) {
		if m[2] != m[4] {
			continue
		}
		if t, err := time.Parse("20060102", m[1]+m[3]+m[5]); err == nil {
			return calendar.Of(t), true
		}
	}
	return 0, false
}

// series is a name without the digits in it: what the pictures that one camera
// took in a row share.
func series(name string) string {
	return strings.Map(func(r rune) rune {
		if r >= '0' && r <= '9' {
			return -1
		}
		return r
	}, strings.ToLower(name))
}

// natural reports whether a comes before b where numbers count as numbers:
// IMG_9 before IMG_10.
func natural(a, b string) bool {
	for a != "" && b != "" {
		da, db := digits(a), digits(b)
		if da > 0 && db > 0 {
			na, nb := strings.TrimLeft(a[:da], "0"), strings.TrimLeft(b[:db], "0")
			if len(na) != len(nb) {
				return len(na) < len(nb)
			}
			if na != nb {
				return na < nb
			}
			a, b = a[da:], b[db:]
			continue
		}
		if a[0] != b[0] {
			return a[0] < b[0]
		}
		a, b = a[1:], b[1:]
	}
	return len(a) < len(b)
}

func digits(s string) int {
	n := 0
	for n < len(s) && s[n] >= '0' && s[n] <= '9' {
		n++
	}
	return n
}
