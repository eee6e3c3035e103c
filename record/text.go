package record

import (
	"errors"
	"fmt"
	"strings"

	"dogshore/calendar"
	"dogshore/unit"
)

// Parse reads a field's value as a person writes it. today settles days
// written without a year. References are read as kind/key only: finding a
// subject by its name needs the whole record and is the caller's to do. The
// empty text is Clear.
//
// Errors are *unit.Ambiguous (two readings), *unit.Absent (the text says that
// nothing is known), or say what would be right; the first two are wrapped.
func (f *Field) Parse(text string, today calendar.Day) (Value, error) {
	return f.ParseIn(text, today, unit.Habit{})
}

// ParseIn is Parse for a cell of a sheet that has settled some things.
func (f *Field) ParseIn(text string, today calendar.Day, h unit.Habit) (Value, error) {
	text = strings.TrimSpace(text)
	if text == "" {
		return Clear, nil
	}
	if a := unit.SaysNothing(text); a != nil && f.Type != TextType {
		return "", fmt.Errorf("%s: %w", f.Title, a)
	}
	v, err := f.read(text, today, h)
	if err != nil {
		return "", fmt.Errorf("%s: %w", f.Title, err)
	}
	return f.Check(Encode(v))
}

func (f *Field) read(text string, today calendar.Day, h unit.Habit) (any, error) {
	switch f.Type {
	case DayType:
		return second(calendar.ParseDay(text, today))
	case SpanType:
		return second(calendar.ParseSpan(text, today))
	case FlagType:
		return second(parseFlag(text))
	case ChoiceType:
		return second(f.choice(text))
	case RefType:
		return Ref(text), nil
	case QuantityType:
		return second(unit.ParseQuantity(text, f.Dim, h))
	case MoneyType:
		return second(unit.ParseMoney(text, h))
	case ThreePointType:
		l, m, u, err := unit.ParseGuesses(text, f.Dim, h)
		return ThreePoint{Known: true, Low: l.SI, Mode: m.SI, High: u.SI, Dim: m.Dim, As: m.As}, err
	case ToleranceType:
		v, minus, plus, err := unit.ParseTolerance(text, f.Dim, h)
		return Tolerance{Known: true, Value: v.SI, Minus: minus, Plus: plus, Dim: v.Dim, As: v.As}, err
	case SpotType:
		return second(parseSpot(text))
	case OutlineType:
		return second(f.outline(text))
	case FileType:
		return second(parseFile(text))
	}
	return text, nil
}

// second turns a typed pair into an untyped one.
func second[T any](v T, err error) (any, error) { return v, err }

var flags = map[string]Flag{
	"yes": Yes, "y": Yes, "true": Yes, "x": Yes, "✓": Yes, "✔": Yes, "1": Yes,
	"no": No, "n": No, "false": No, "0": No,
}

func parseFlag(text string) (Flag, error) {
	if v, ok := flags[strings.ToLower(text)]; ok {
		return v, nil
	}
	return "", fmt.Errorf("%q is neither yes nor no", text)
}

// choice finds one of the field's words, whatever its case, spaces and dashes.
func (f *Field) choice(text string) (string, error) {
	for _, w := range f.Of {
		if Loose(w) == Loose(text) {
			return w, nil
		}
	}
	return "", fmt.Errorf("%q is none of %s", text, strings.Join(f.Of, ", "))
}

// Loose spells a word as people compare titles: without case, spaces, dashes
// and underscores.
func Loose(s string) string {
	return strings.Map(func(r rune) rune {
		if r >= 'a' && r <= 'z' || r >= '0' && r <= '9' {
			return r
		}
		switch r {
		case ' ', '-', '_', '‑', '–', '\u00a0', '\n', '\r', '\t', '.', '\'', '’':
			return -1
		}
		return r
	}, strings.ToLower(s))
}

// parseSpot reads "x 4.2 y -1.1 z 0.8" or "4.2; -1.1; 0.8", in metres.
func parseSpot(text string) (Spot, error) {
	wrong := fmt.Errorf("%q is no spot: write x; y; z in metres, as 4.2; -1.1; 0.8", text)
	s := strings.NewReplacer("x", " ", "y", " ", "z", " ", "X", " ", "Y", " ", "Z", " ", "=", " ", ":", " ", ";", " ").Replace(strings.TrimSuffix(strings.TrimSpace(text), "m"))
	xs, err := coordinates(s)
	if err != nil || len(xs) != 3 {
		return Spot{}, errors.Join(err, wrong)
	}
	return Spot{Known: true, X: xs[0], Y: xs[1], Z: xs[2], As: text}, nil
}

// outline reads "0 0; 4.2 0; 4.2 1.5", in metres.
func (f *Field) outline(text string) (Outline, error) {
	var out Outline
	for corner := range strings.SplitSeq(strings.TrimSuffix(strings.TrimSpace(text), ";"), ";") {
		xs, err := coordinates(corner)
		if err != nil {
			return nil, err
		}
		if len(xs) != 2 {
			return nil, fmt.Errorf("%q is no corner: write an outline as 0 0; 4.2 0; 4.2 1.5, in metres", strings.TrimSpace(corner))
		}
		out = append(out, [2]float64{xs[0], xs[1]})
	}
	if len(out) < f.Least {
		return nil, f.tooFew(len(out))
	}
	return out, nil
}

// tooFew says that an outline of n points says nothing.
func (f *Field) tooFew(n int) error {
	if f.Least == 2 {
		return fmt.Errorf("a run has at least two points, this one %d", n)
	}
	return fmt.Errorf("an outline has at least three corners, this one %d", n)
}

// coordinates reads metres parted by spaces. No boat has a thousand of them,
// so a mark can only be the decimal one.
func coordinates(s string) ([]float64, error) {
	var out []float64
	for _, w := range strings.Fields(s) {
		h := unit.Habit{Decimal: '.'}
		if strings.Contains(w, ",") {
			h.Decimal = ','
		}
		q, err := unit.ParseQuantity(strings.Trim(w, ","), unit.Number, h)
		if err != nil {
			return nil, err
		}
		if q.Low != q.High || q.About {
			return nil, fmt.Errorf("%q is no coordinate: write metres, as 4.2", w)
		}
		out = append(out, q.SI)
	}
	return out, nil
}

const filePrefix = "sha256:"

// parseFile reads what Format prints of a file. Nobody types one.
func parseFile(text string) (File, error) {
	hash, name, _ := strings.Cut(strings.TrimPrefix(text, filePrefix), " ")
	if !strings.HasPrefix(text, filePrefix) || len(hash) != 64 || strings.Trim(hash, "0123456789abcdef") != "" {
		return File{}, fmt.Errorf("%q is no file of this build: files are handed in on the picture's page", text)
	}
	return File{SHA256: hash, Name: name}, nil
}
