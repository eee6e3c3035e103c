package work_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"dogshore/jackstay"
	"dogshore/work"
)

func jackstayRun(in string) (string, error) {
	var b bytes.Buffer
	err := work.Run(context.Background(), "jackstay", strings.NewReader(in), &b)
	return b.String(), err
}

func TestJackstayExample(t *testing.T) {
	var b bytes.Buffer
	if err := work.Example("jackstay", &b); err != nil {
		t.Fatal(err)
	}
	out, err := jackstayRun(b.String())
	if err != nil {
		t.Fatal(err)
	}
	if again, _ := jackstayRun(b.String()); again != out {
		t.Error("the same case gives another answer")
	}
	var r work.JackstayResult
	if err := json.Unmarshal([]byte(out), &r); err != nil {
		t.Fatal(err)
	}
	if len(r.Lines) != 1 || len(r.Lines[0].Sides) == 0 || len(r.Lines[0].Brackets) != 2 || r.Lines[0].Group == nil || len(r.Cautions) == 0 {
		t.Errorf("%+v", r.Lines)
	}
	if len(r.Walked) != 1 || r.Walked[0].Length < 5 || len(r.Walked[0].Parts) == 0 || len(r.Rules) == 0 || len(r.Lines[0].Catches) == 0 {
		t.Errorf("%+v\n%d rules\n%+v", r.Walked, len(r.Rules), r.Lines[0].Catches)
	}
	for _, word := range []string{"safe", "approved", "OK"} {
		if strings.Contains(out, `"`+word) || strings.Contains(out, " "+word+" ") {
			t.Errorf("the answer says %q", word)
		}
	}
}

func TestJackstayRefuses(t *testing.T) {
	for in, says := range map[string]string{
		`{"lines": [{"id": "l", "supports": [], "stuff": {}}]}`:                                        "has 0 supports",
		`{"ways": [{"id": "w", "stops": []}]}`:                                                         "from 2 stops",
		`{"lines": [{"id": "l", "supprts": []}]}`:                                                      `field "supprts" is not one`,
		`{"ways": [` + strings.Repeat(`{"id": "w", "stops": []},`, 100) + `{"id": "w", "stops": []}]}`: "100 can be gone",
	} {
		out, err := jackstayRun(in)
		if err == nil || !strings.Contains(err.Error(), says) || out != "" {
			t.Errorf("%v, wrote %q; want an error that says %q", err, out, says)
		}
	}
	var bad *jackstay.Invalid
	if _, err := jackstayRun(`{"lines": [{"id": "", "supports": [], "stuff": {}}]}`); !errors.As(err, &bad) {
		t.Errorf("%v", err)
	}
}

func TestJackstaySchemaKnowsItsWords(t *testing.T) {
	var b bytes.Buffer
	if err := work.Schema("jackstay", &b); err != nil {
		t.Fatal(err)
	}
	for _, want := range []string{`"supports"`, `"x_m"`, `"held by its support"`, `"kneeling"`, `"guide"`, `"not known"`, `"pretension_n"`} {
		if !strings.Contains(b.String(), want) {
			t.Errorf("the schema has no %s", want)
		}
	}
}
