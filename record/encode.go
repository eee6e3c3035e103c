package record

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"reflect"
	"slices"
	"strings"
	"unicode/utf8"

	"dogshore/calendar"
	"dogshore/unit"
)

// Value is one value of a field, as canonical JSON: what the journal keeps.
type Value string

var fieldTypes = func() map[Type]reflect.Type {
	m := map[Type]reflect.Type{}
	for g, t := range goTypes {
		m[t] = g
	}
	m[ChoiceType] = reflect.TypeFor[string]()
	return m
}()

// Encode writes the Go value of a field (a string, a calendar.Day, a Ref ...)
// as a Value. It panics on a Go type that no field has.
func Encode(v any) Value {
	if _, ok := goTypes[reflect.TypeOf(v)]; !ok {
		panic(fmt.Sprintf("record: internal error: %T is no value type", v))
	}
	var b bytes.Buffer
	e := json.NewEncoder(&b)
	e.SetEscapeHTML(false)
	if err := e.Encode(v); err != nil {
		panic("record: internal error: " + err.Error())
	}
	return Value(strings.TrimSuffix(b.String(), "\n"))
}

// Clear is the value that takes a field's value away again.
const Clear Value = "null"

// Check looks at a value alone, as the door does: does it decode, is it in
// range, does a reference name a permitted kind? It returns the value in
// canonical form. Clear passes for every field.
func (f *Field) Check(v Value) (Value, error) {
	if v == Clear {
		return v, nil
	}
	p := reflect.New(fieldTypes[f.Type])
	d := json.NewDecoder(strings.NewReader(string(v)))
	d.DisallowUnknownFields()
	if err := d.Decode(p.Interface()); err != nil {
		return "", fmt.Errorf("%s: %s is not a %s", f.Title, v, f.Type)
	}
	if d.More() {
		return "", fmt.Errorf("%s: more than one value in %s", f.Title, v)
	}
	x := p.Elem().Interface()
	if err := f.bounds(x); err != nil {
		return "", fmt.Errorf("%s: %w", f.Title, err)
	}
	return Encode(x), nil
}

// longestText bounds a text: a long letter has 20,000 characters.
const longestText = 100_000

func (f *Field) bounds(x any) error {
	finite := func(xs ...float64) error {
		for _, v := range xs {
			if math.IsNaN(v) || math.IsInf(v, 0) {
				return fmt.Errorf("%v is not a number", v)
			}
		}
		return nil
	}
	dim := func(d unit.Dimension) error {
		if d != f.Dim && f.Dim != unit.Any {
			return fmt.Errorf("a %s is asked for, not a %s", f.Dim, d)
		}
		return nil
	}
	switch v := x.(type) {
	case string:
		if len(v) > longestText {
			return fmt.Errorf("the text has %d characters; at most %d are kept", len(v), longestText)
		}
		if f.Type == ChoiceType && v != "" && !slices.Contains(f.Of, v) {
			return fmt.Errorf("%q is none of %s", v, strings.Join(f.Of, ", "))
		}
	case Flag:
		if v != "" && v != Yes && v != No {
			return fmt.Errorf("%q is neither yes nor no", string(v))
		}
	case Ref:
		if v != "" && (!slices.Contains(f.Of, v.Kind()) || v.Key() == "") {
			return fmt.Errorf("%q names no %s", string(v), strings.Join(f.Of, " or "))
		}
	case unit.Quantity:
		if !v.Known {
			return nil
		}
		if v.Low > v.SI || v.SI > v.High {
			return fmt.Errorf("%v is not between %v and %v", v.SI, v.Low, v.High)
		}
		return firstError(finite(v.SI, v.Low, v.High), dim(v.Dim))
	case unit.Money:
		if v.Currency != "" && len(v.Currency) != 3 {
			return fmt.Errorf("%q is no currency: three letters, as EUR", v.Currency)
		}
	case calendar.Span:
		if v.First > v.Last || (v.First == 0) != (v.Last == 0) {
			return fmt.Errorf("it ends (%s) before it begins (%s)", v.Last, v.First)
		}
	case ThreePoint:
		if !v.Known {
			return nil
		}
		if v.Low < 0 || v.Low > v.Mode || v.Mode > v.High {
			return fmt.Errorf("the three guesses must grow: %v, %v, %v do not", v.Low, v.Mode, v.High)
		}
		return firstError(finite(v.Low, v.Mode, v.High), dim(v.Dim))
	case Tolerance:
		if !v.Known {
			return nil
		}
		if v.Minus < 0 || v.Plus < 0 {
			return fmt.Errorf("a tolerance can't be less than nothing")
		}
		return firstError(finite(v.Value, v.Minus, v.Plus), dim(v.Dim))
	case Spot:
		return finite(v.X, v.Y, v.Z)
	case Outline:
		if len(v) > 2000 {
			return fmt.Errorf("%d corners; at most 2000", len(v))
		}
		for _, p := range v {
			if err := finite(p[0], p[1]); err != nil {
				return err
			}
		}
	}
	return nil
}

func firstError(errs ...error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}

// Same reports whether two values of f say the same, whatever words they were
// typed in.
func (f *Field) Same(a, b Value) bool {
	return a == b || f.bare(a) == f.bare(b)
}

func (f *Field) bare(v Value) Value {
	if v == Clear {
		return v
	}
	p := reflect.New(fieldTypes[f.Type])
	if json.Unmarshal([]byte(v), p.Interface()) != nil {
		return v
	}
	if e := p.Elem(); e.Kind() == reflect.Struct {
		if as := e.FieldByName("As"); as.IsValid() {
			as.SetString("")
		}
	}
	return Encode(p.Elem().Interface())
}

// Decode fills a kind's struct from its fields' values; get returns the value
// of a field, or false. Values that do not decode are left out: the door has
// looked at them before. T must be a kind.
func Decode[T any](self Ref, get func(field string) (Value, bool)) T {
	var out T
	k := KindFor[T]()
	s := reflect.ValueOf(&out).Elem()
	s.FieldByName("Subject").Set(reflect.ValueOf(Subject{Self: self}))
	for i := range k.Fields {
		f := &k.Fields[i]
		if v, ok := get(f.Name); ok && v != Clear {
			put(s.Field(f.index), v)
		}
	}
	return out
}

// put decodes v into a field. Most values are plain text, which needs no reader
// of JSON.
func put(field reflect.Value, v Value) {
	text, plain := v.plain()
	switch {
	case plain && field.Kind() == reflect.String:
		field.SetString(text)
	case plain && field.Type() == dayType:
		_ = field.Addr().Interface().(*calendar.Day).UnmarshalText([]byte(text))
	default:
		_ = json.Unmarshal([]byte(v), field.Addr().Interface())
	}
}

var dayType = reflect.TypeFor[calendar.Day]()

// plain returns the text of a JSON string in which nothing is escaped; false for
// everything else.
func (v Value) plain() (string, bool) {
	if len(v) < 2 || v[0] != '"' || v[len(v)-1] != '"' {
		return "", false
	}
	text := string(v[1 : len(v)-1])
	for i := range len(text) {
		if c := text[i]; c < ' ' || c == '"' || c == '\\' {
			return "", false
		}
	}
	return text, utf8.ValidString(text)
}

// Values returns the known fields of a kind's struct as values: what a form or
// a template has to say of a subject. Zero fields are left out.
func Values[T any](subject T) map[string]Value {
	k := KindFor[T]()
	s := reflect.ValueOf(subject)
	out := map[string]Value{}
	for i := range k.Fields {
		f := &k.Fields[i]
		if v := s.Field(f.index); !v.IsZero() {
			out[f.Name] = Encode(v.Interface())
		}
	}
	return out
}
