package work_test

import (
	"bytes"
	"context"
	"encoding/json"
	"strings"
	"testing"

	"dogshore/gybe"
	"dogshore/rope"
	"dogshore/work"
)

func runOf(t testing.TB, engine string) (in, out string) {
	t.Helper()
	var a, b bytes.Buffer
	if err := work.Example(engine, &a); err != nil {
		t.Fatal(err)
	}
	if err := work.Run(context.Background(), engine, strings.NewReader(a.String()), &b); err != nil {
		t.Fatal(err)
	}
	return a.String(), b.String()
}

// The schemas of the deck's engines take their examples and results.
func TestDeckSchemas(t *testing.T) {
	for _, engine := range []string{"anchor", "gybe", "sweep"} {
		t.Run(engine, func(t *testing.T) {
			in, out := runOf(t, engine)
			var b bytes.Buffer
			if err := work.Schema(engine, &b); err != nil {
				t.Fatal(err)
			}
			root := decode(t, b.String()).(map[string]any)
			defs := root["$defs"].(map[string]any)
			v := validator{defs}
			if err := v.check(root, decode(t, in), "case"); err != nil {
				t.Error(err)
			}
			if err := v.check(defs["result"].(map[string]any), decode(t, out), "result"); err != nil {
				t.Error(err)
			}
			for _, bad := range []string{`{"wind": 5}`, `{"boom": {"length": 5}}`, `{"loads": [{"force": 5}]}`} {
				if v.check(root, decode(t, bad), "case") == nil {
					t.Errorf("the schema takes %s", bad)
				}
				if err := work.Run(context.Background(), engine, strings.NewReader(bad), &b); err == nil {
					t.Errorf("the engine takes %s", bad)
				}
			}
		})
	}
}

// The examples show what they are for: an unknown that is not passed off, a
// range, a foul lead, a person in the way.
func TestDeckExamples(t *testing.T) {
	_, out := runOf(t, "anchor")
	var a rope.AnchorResult
	if err := json.Unmarshal([]byte(out), &a); err != nil {
		t.Fatal(err)
	}
	if a.Verdict == rope.Meets || len(a.Missing) == 0 || a.Demand.Long == 0 {
		t.Errorf("anchor: %s, missing %q, demand %+v", a.Verdict, a.Missing, a.Demand)
	}
	_, out = runOf(t, "gybe")
	var g gybe.Result
	if err := json.Unmarshal([]byte(out), &g); err != nil {
		t.Fatal(err)
	}
	if len(g.Leads) != 3 || g.Leads[0].Stops.Tension.Most <= g.Leads[0].Settles.Tension.Most || g.Sheet == nil {
		t.Errorf("gybe: %d leads", len(g.Leads))
	}
	_, out = runOf(t, "sweep")
	var s gybe.SweepResult
	if err := json.Unmarshal([]byte(out), &s); err != nil {
		t.Fatal(err)
	}
	if len(s.Inside) == 0 {
		t.Error("sweep: nobody is inside")
	}
}
