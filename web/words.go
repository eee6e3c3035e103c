package web

import (
	"fmt"
	"html/template"
	"strings"
	"unicode"
	"unicode/utf8"

	"dogshore/calendar"
)

// words are the little functions that pages may use.
var words = template.FuncMap{
	"first": first,
	"said":  calendar.Day.Said,
	"join":  strings.Join,
	"count": count,
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
