package web

import (
	"fmt"
	"html/template"
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/journal"
	"dogshore/record"
)

// words are the little functions that pages may use.
var words = template.FuncMap{
	"first":  desk.Capital,
	"said":   calendar.Day.Said,
	"join":   strings.Join,
	"count":  count,
	"add":    func(a, b int) int { return a + b },
	"always": func(d calendar.Day) bool { return d <= journal.Always },
	"dict":   dict,
	"ways":   func() []string { return ways },
	"whats":  func() []string { return record.KindOf("statement").Field("what").Of },
	"ruled":  func() []struct{} { return make([]struct{}, 4) }, // empty lines to write on
	"clock":  func(t time.Time) string { return t.Format("2 January 2006, 15:04") },
}

// dict hands a piece of a page several values by name.
func dict(pairs ...any) (map[string]any, error) {
	if len(pairs)%2 != 0 {
		return nil, fmt.Errorf("dict takes names and values in turn, not %d things", len(pairs))
	}
	m := map[string]any{}
	for i := 0; i < len(pairs); i += 2 {
		m[fmt.Sprint(pairs[i])] = pairs[i+1]
	}
	return m, nil
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
