package desk

import (
	"fmt"
	"strings"
	"unicode"
	"unicode/utf8"
)

// The puts an article before a step's or thing's name inside a sentence,
// unless it brings its own or begins with a capital, as proper names do. A
// name that is itself half a sentence ("Deck: core and pads laid") is quoted.
func The(name string) string {
	if strings.Contains(name, ":") {
		return "“" + name + "”"
	}
	first, _ := utf8.DecodeRuneInString(name)
	if name == "" || unicode.IsUpper(first) || strings.HasPrefix(name, "the ") {
		return name
	}
	return "the " + name
}

// Sentence ends a text with a stop, unless it has one.
func Sentence(s string) string {
	s = strings.TrimSpace(s)
	if s == "" || strings.ContainsAny(s[len(s)-1:], ".?!:") {
		return s
	}
	return s + "."
}

// Capital begins a text with a capital.
func Capital(s string) string {
	r, n := utf8.DecodeRuneInString(s)
	if n == 0 {
		return s
	}
	return string(unicode.ToUpper(r)) + s[n:]
}

// Count says a number with its noun: "1 step", "3 steps".
func Count(n int, one string) string {
	if n == 1 {
		return "1 " + one
	}
	return fmt.Sprintf("%d %ss", n, one)
}

// Event says before what a is to be done; name is how its step is called. It
// is empty when a hangs on no step.
func (a Act) Event(name string) string {
	if a.Before == "" {
		return ""
	}
	return "before " + The(name) + a.Near(", which ")
}

// Near says how near the step before which a is to be done is: "can come
// next", behind lead. It is empty when nobody can tell.
func (a Act) Near(lead string) string {
	switch {
	case a.Gone:
		return lead + "has begun"
	case a.Ahead == 0:
		return lead + "can come next"
	case a.Ahead == 1:
		return lead + "is one step from now"
	case a.Ahead > 1:
		return lead + fmt.Sprintf("is %d steps from now", a.Ahead)
	}
	return ""
}
