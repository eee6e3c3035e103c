package web

import (
	"fmt"
	"html/template"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"dogshore/calendar"
	"dogshore/journal"
)

// words are the little functions that pages may use.
var words = template.FuncMap{
	"first":  first,
	"said":   calendar.Day.Said,
	"join":   strings.Join,
	"count":  count,
	"always": func(d calendar.Day) bool { return d <= journal.Always },
	"clock":  func(t time.Time) string { return t.Format("2 January 2006, 15:04") },
}

// first writes the first letter large.
func first(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	return string(unicode.ToUpper(r)) + s[n:]
}

// count says a number with its noun: "no steps", "one step", "3 steps".
func count(n int, one, many string) string {
	switch n {
	case 0:
		return "no " + many
	case 1:
		return "one " + one
	}
	return fmt.Sprintf("%d %s", n, many)
}
