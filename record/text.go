package record

import (
	"fmt"
	"strings"

	"dogshore/calendar"
)

// Parse reads a field's value as a person writes it. today settles days
// written without a year. References are read as kind/key only: finding a
// subject by its name needs the whole record and is the caller's to do.
//
// Errors are *unit.Ambiguous (two readings), *unit.Absent (the text says that
// nothing is known), or say what would be right.
func (f *Field) Parse(text string, today calendar.Day) (Value, error) {
	text = strings.TrimSpace(text)
	switch f.Type {
	case TextType, ChoiceType:
		return f.Check(Encode(text))
	case RefType:
		return f.Check(Encode(Ref(text)))
	}
	return "", fmt.Errorf("%s: reading a %s is not written yet", f.Title, f.Type)
}

// Format prints a value as a person would write it, so that Parse reads it
// back.
func (f *Field) Format(v Value) string { return string(v) }
