package record

import (
	"encoding/json"
	"strings"

	"dogshore/calendar"
	"dogshore/unit"
)

// Format prints a value as a person would write it, so that Parse reads it
// back: in the words it was typed in, where these have one reading, else in
// plain units.
func (f *Field) Format(v Value) string {
	if v == Clear || v == "" {
		return ""
	}
	if as := f.words(v); as != "" {
		if back, err := f.Parse(as, 0); err == nil && f.Same(back, v) {
			return as
		}
	}
	return f.Plain(v)
}

// words returns the words that a value was typed in, if it keeps any.
func (f *Field) words(v Value) string {
	var kept struct {
		As string `json:"as"`
	}
	switch f.Type {
	case SpanType, QuantityType, MoneyType, ThreePointType, ToleranceType, SpotType:
		_ = json.Unmarshal([]byte(v), &kept)
	}
	return strings.TrimSpace(kept.As)
}

// Plain prints a value without looking at the words it was typed in: days as
// ISO 8601, quantities in metric units.
func (f *Field) Plain(v Value) string {
	switch f.Type {
	case DayType:
		return decoded[calendar.Day](v).String()
	case SpanType:
		return decoded[calendar.Span](v).String()
	case QuantityType:
		return decoded[unit.Quantity](v).Text()
	case MoneyType:
		return decoded[unit.Money](v).Text()
	case ThreePointType:
		if t := decoded[ThreePoint](v); t.Known {
			return unit.GuessesText(t.Low, t.Mode, t.High, t.Dim)
		}
		return ""
	case ToleranceType:
		if t := decoded[Tolerance](v); t.Known {
			return unit.ToleranceText(t.Value, t.Minus, t.Plus, t.Dim)
		}
		return ""
	case SpotType:
		if p := decoded[Spot](v); p.Known {
			return unit.Plain(p.X) + "; " + unit.Plain(p.Y) + "; " + unit.Plain(p.Z)
		}
		return ""
	case OutlineType:
		var corners []string
		for _, p := range decoded[Outline](v) {
			corners = append(corners, unit.Plain(p[0])+" "+unit.Plain(p[1]))
		}
		return strings.Join(corners, "; ")
	case FileType:
		if p := decoded[File](v); p.Known() {
			return strings.TrimSpace(filePrefix + p.SHA256 + " " + p.Name)
		}
		return ""
	}
	return decoded[string](v)
}

// decoded reads a value that the door has let in; what does not decode is zero.
func decoded[T any](v Value) T {
	var x T
	_ = json.Unmarshal([]byte(v), &x)
	return x
}
