package work

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strings"
)

// readCase reads one JSON value into v. It refuses what is too large, has a
// field that v has not, or goes on after its end, and says where.
func readCase(in io.Reader, v any) error {
	text, err := io.ReadAll(io.LimitReader(in, MaxInput+1))
	if err != nil {
		return fmt.Errorf("read the case: %w", err)
	}
	if len(text) > MaxInput {
		return fmt.Errorf("the case is larger than %d MB: split it, or leave out what the engine does not need", MaxInput>>20)
	}
	if len(bytes.TrimSpace(text)) == 0 {
		return errors.New("there is no case on the input: give one as JSON; --example prints one")
	}
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(v); err != nil {
		return explain(text, d.InputOffset(), err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return fmt.Errorf("%s: the case goes on after its end: give one case at a time", line(text, d.InputOffset()))
	}
	return nil
}

// explain says in the case's own terms what the decoder met.
func explain(text []byte, at int64, err error) error {
	var syntax *json.SyntaxError
	var wrong *json.UnmarshalTypeError
	const unknown = "json: unknown field "
	switch {
	case errors.As(err, &syntax):
		return fmt.Errorf("%s: this is no JSON: %v", line(text, syntax.Offset), err)
	case errors.Is(err, io.ErrUnexpectedEOF):
		return fmt.Errorf("%s: the case ends in the middle: a bracket or a quote is not closed", line(text, int64(len(text))))
	case errors.As(err, &wrong):
		return fmt.Errorf("%s: field %s holds a %s where %s belongs: see --schema", line(text, wrong.Offset), wrong.Field, wrong.Value, kindName(wrong))
	case strings.HasPrefix(err.Error(), unknown):
		field := strings.TrimPrefix(err.Error(), unknown)
		return fmt.Errorf("%s: field %s is not one of this case: see --schema", line(text, fieldAt(text, field, at)), field)
	}
	return fmt.Errorf("the case: %w", err)
}

func kindName(e *json.UnmarshalTypeError) string {
	switch e.Type.Kind().String() {
	case "slice":
		return "a list"
	case "struct", "map":
		return "an object"
	case "float64", "int", "int64":
		return "a number"
	case "bool":
		return "true or false"
	}
	return "a text"
}

// fieldAt returns where a quoted field name first stands as one, else otherwise.
func fieldAt(text []byte, quoted string, otherwise int64) int64 {
	for from := 0; ; {
		i := bytes.Index(text[from:], []byte(quoted))
		if i < 0 {
			return otherwise
		}
		from += i + len(quoted)
		if rest := bytes.TrimSpace(text[from:]); len(rest) > 0 && rest[0] == ':' {
			return int64(from)
		}
	}
}

func line(text []byte, at int64) string {
	at = min(max(at, 0), int64(len(text)))
	return fmt.Sprintf("line %d", 1+bytes.Count(text[:at], []byte("\n")))
}
