package work_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"dogshore/programme"
	"dogshore/work"
)

func example(t testing.TB) string {
	t.Helper()
	var b bytes.Buffer
	if err := work.Example("programme", &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func run(in string) (string, error) {
	var b bytes.Buffer
	err := work.Run(context.Background(), "programme", strings.NewReader(in), &b)
	return b.String(), err
}

func TestExampleRuns(t *testing.T) {
	out, err := run(example(t))
	if err != nil {
		t.Fatal(err)
	}
	var r work.ProgrammeResult
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	if !r.Dated || r.LastDay == 0 || len(r.LongestPath) < 2 {
		t.Errorf("the example has no finish: %+v", r)
	}
	for _, s := range r.Steps {
		if s.State == programme.Done {
			continue
		}
		if s.FirstDay == 0 || s.LastDay < s.FirstDay || s.Total == nil {
			t.Errorf("step %s: %+v", s.ID, s)
		}
	}
}

func TestWhatIsRefused(t *testing.T) {
	for _, c := range []struct{ name, in, says string }{
		{"nothing", " \n", "no case on the input"},
		{"no JSON", `{"data_date": 2027-04-12}`, "line 1: this is no JSON"},
		{"cut off", "{\n\"steps\": [", "line 2: the case ends in the middle"},
		{"unknown field", "{\n \"data_date\": \"2027-04-12\",\n \"steps\": [{\"id\": \"a\", \"work\": 3}]}", `line 3: field "work" is not one`},
		{"no unit", `{"links": [{"from": "a", "to": "b", "lag": 2}]}`, `field "lag"`},
		{"wrong type", "{\n\"steps\": [{\"id\": \"a\", \"work_days\": \"3\"}]}", "field steps.work_days holds a string where a number belongs"},
		{"bad day", `{"data_date": "12.04.2027", "steps": []}`, `"12.04.2027" is not a day`},
		{"two cases", `{"steps": []} {"steps": []}`, "goes on after its end"},
		{"engine's own", `{"data_date": "2027-04-12", "steps": [{"id": "a", "work_days": 1}]}`, "the case has no calendar"},
		{"not a list", `{"steps": {}}`, "where a list belongs"},
	} {
		t.Run(c.name, func(t *testing.T) {
			out, err := run(c.in)
			if err == nil || !strings.Contains(err.Error(), c.says) {
				t.Errorf("error %v, want one that says %q", err, c.says)
			}
			if out != "" {
				t.Errorf("wrote %q", out)
			}
		})
	}
}

type endless struct{ read int }

func (e *endless) Read(b []byte) (int, error) {
	for i := range b {
		b[i] = ' '
	}
	e.read += len(b)
	return len(b), nil
}

func TestInputIsBounded(t *testing.T) {
	in := &endless{}
	err := work.Run(context.Background(), "programme", in, &bytes.Buffer{})
	if err == nil || !strings.Contains(err.Error(), "larger than 16 MB") || in.read > 4*work.MaxInput {
		t.Errorf("%v, after %d bytes", err, in.read)
	}
}

func TestUnknownEngine(t *testing.T) {
	for _, err := range []error{
		work.Run(context.Background(), "sails", strings.NewReader("{}"), &bytes.Buffer{}), work.Example("sails", &bytes.Buffer{}), work.Schema("sails", &bytes.Buffer{}),
	} {
		if !errors.Is(err, work.ErrEngine) || !strings.Contains(err.Error(), "programme") {
			t.Errorf("error %v", err)
		}
	}
}

func TestStepWithoutALengthHasNoDates(t *testing.T) {
	out, err := run(`{"data_date": "2027-04-12", "steps": [{"id": "a"}, {"id": "b"}], "links": [{"from": "a", "to": "b"}]}`)
	if err != nil {
		t.Fatal(err)
	}
	for _, word := range []string{"float", "finish\"", "last_day", "0001"} {
		if strings.Contains(out, word) {
			t.Errorf("the result of a case without lengths has %q:\n%s", word, out)
		}
	}
}

// The schema must take the example and its result, and refuse what Run does:
// judged by a reader of schemas written here.
func TestSchemaDescribesCaseAndResult(t *testing.T) {
	var b bytes.Buffer
	if err := work.Schema("programme", &b); err != nil {
		t.Fatal(err)
	}
	root := decode(t, b.String()).(map[string]any)
	defs := root["$defs"].(map[string]any)
	v := validator{defs}
	if err := v.check(root, decode(t, example(t)), "case"); err != nil {
		t.Error(err)
	}
	out, err := run(example(t))
	if err != nil {
		t.Fatal(err)
	}
	if err := v.check(defs["result"].(map[string]any), decode(t, out), "result"); err != nil {
		t.Error(err)
	}
	for _, bad := range []string{
		`{"steps": []}`, `{"data_date": "2027-04-12", "steps": [{"id": "a", "work": 3}]}`,
		`{"data_date": "2027-04-12", "steps": [{"id": "a", "work_days": "3"}]}`,
		`{"data_date": "2027-04-12", "steps": [{"id": "a", "seen": [{"day": "2027-04-12", "state": "nearly"}]}]}`,
		`{"data_date": "12.04.2027", "steps": []}`,
	} {
		if v.check(root, decode(t, bad), "case") == nil {
			t.Errorf("the schema takes %s", bad)
		}
		if _, err := run(bad); err == nil {
			t.Errorf("the engine takes %s", bad)
		}
	}
}

func decode(t testing.TB, s string) any {
	t.Helper()
	var v any
	if err := json.Unmarshal([]byte(s), &v); err != nil {
		t.Fatal(err)
	}
	return v
}

type validator struct{ defs map[string]any }

func (v validator) check(s map[string]any, x any, at string) error {
	if ref, ok := s["$ref"].(string); ok {
		return v.check(v.defs[strings.TrimPrefix(ref, "#/$defs/")].(map[string]any), x, at)
	}
	switch s["type"] {
	case "object":
		return v.object(s, x, at)
	case "array":
		list, ok := x.([]any)
		if !ok {
			return fmt.Errorf("%s is no list", at)
		}
		for i, e := range list {
			if err := v.check(s["items"].(map[string]any), e, fmt.Sprintf("%s[%d]", at, i)); err != nil {
				return err
			}
		}
	case "string":
		return text(s, x, at)
	case "number", "integer":
		if _, ok := x.(float64); !ok {
			return fmt.Errorf("%s is no number", at)
		}
	case "boolean":
		if _, ok := x.(bool); !ok {
			return fmt.Errorf("%s is neither true nor false", at)
		}
	default:
		return fmt.Errorf("%s has a schema without a type: %v", at, s)
	}
	return nil
}

func (v validator) object(s map[string]any, x any, at string) error {
	o, ok := x.(map[string]any)
	if !ok {
		return fmt.Errorf("%s is no object", at)
	}
	required, _ := s["required"].([]any)
	for _, name := range required {
		if _, ok := o[name.(string)]; !ok {
			return fmt.Errorf("%s has no %s", at, name)
		}
	}
	for name, e := range o {
		p, ok := s["properties"].(map[string]any)[name]
		if !ok {
			return fmt.Errorf("%s has %s, which the schema has not", at, name)
		}
		if err := v.check(p.(map[string]any), e, at+"."+name); err != nil {
			return err
		}
	}
	return nil
}

func text(s map[string]any, x any, at string) error {
	word, ok := x.(string)
	if !ok {
		return fmt.Errorf("%s is no text", at)
	}
	if enum, ok := s["enum"].([]any); ok && !slices.Contains(enum, x) {
		return fmt.Errorf("%s is %q, none of %v", at, word, enum)
	}
	if p, ok := s["pattern"].(string); ok && !regexp.MustCompile(p).MatchString(word) {
		return fmt.Errorf("%s is %q, not %s", at, word, p)
	}
	if s["format"] == "date" {
		if _, err := time.Parse(time.DateOnly, word); err != nil {
			return fmt.Errorf("%s: %w", at, err)
		}
	}
	return nil
}

// Any text ends in a result that the schema's types can read back, or in an
// error and no output.
func FuzzProgrammeCase(f *testing.F) {
	f.Add(example(f))
	f.Add(`{"data_date": "2027-04-12", "steps": [{"id": "a", "elapsed_hours": 1e300}]}`)
	f.Add(`{"data_date": "2199-12-31", "calendars": [{"id": "y", "week": "Mon 0.01"}], "steps": [{"id": "a", "work_days": 36525}, {"id": "b", "work_days": 36525}], "links": [{"from": "a", "to": "b", "type": "SF", "lag_days": -36525}]}`)
	f.Add(`{"data_date": "2027-04-12", "steps": [{"id": "a"}, {"id": "b", "seen": [{"day": "2027-04-01", "state": "done"}]}], "links": [{"from": "a", "to": "b", "type": "FF"}, {"from": "b", "to": "a", "type": "SS"}]}`)
	f.Fuzz(func(t *testing.T, in string) {
		out, err := run(in)
		if err != nil {
			if out != "" {
				t.Fatalf("an error and output: %v, %s", err, out)
			}
			return
		}
		d := json.NewDecoder(strings.NewReader(out))
		d.DisallowUnknownFields()
		var r work.ProgrammeResult
		if err := d.Decode(&r); err != nil {
			t.Fatalf("%v in\n%s", err, out)
		}
	})
}
