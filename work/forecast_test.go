package work_test

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"strings"
	"testing"

	"dogshore/work"
)

func forecastExample(t testing.TB) string {
	t.Helper()
	var b bytes.Buffer
	if err := work.Example("forecast", &b); err != nil {
		t.Fatal(err)
	}
	return b.String()
}

func runForecast(t testing.TB, in string) (string, work.ForecastResult) {
	t.Helper()
	var b bytes.Buffer
	if err := work.Run(context.Background(), "forecast", strings.NewReader(in), &b); err != nil {
		t.Fatal(err)
	}
	var r work.ForecastResult
	if err := json.Unmarshal(b.Bytes(), &r); err != nil {
		t.Fatal(err)
	}
	return b.String(), r
}

func TestForecastExample(t *testing.T) {
	in := forecastExample(t)
	out, r := runForecast(t, in)
	if again, _ := runForecast(t, in); again != out {
		t.Error("the same case gives another answer")
	}
	if r.Launch == nil || r.Launch.Dates == nil || r.Launch.Dates.P10 >= r.Launch.Dates.P90 || len(r.Launch.Chances) != 1 {
		t.Fatalf("launch %+v", r.Launch)
	}
	if r.Learned.Chains < 5 || r.Learned.Common == nil || len(r.Order) != 1 || r.Order[0].Takes != "starboard-gelcoat" {
		t.Errorf("learned %+v, order %+v", r.Learned, r.Order)
	}
	anchors, colour := r.Points[0], r.Points[1]
	if anchors.ID != "anchors of the jackstays" || anchors.Decide == 0 || anchors.Governs == 0 || anchors.Late == nil || len(anchors.Doors) != 2 || anchors.Doors[0].By >= anchors.Doors[1].By {
		t.Errorf("anchors %+v", anchors)
	}
	if !colour.Ask || colour.Decide != 0 || colour.Late != nil {
		t.Errorf("a lead that nobody quoted: %+v", colour)
	}
}

// Below the level of a forecast there is no date and no chance, and what it
// would need is said.
func TestForecastLearnedTooLittle(t *testing.T) {
	out, r := runForecast(t, `{"data_date": "2027-04-12", "calendars": [{"id": "y", "week": "Mon-Fri"}], "steps": [{"id": "a", "spread_days": {"low": 1, "most_likely": 2, "high": 4}}], "visits": ["2027-04-05"]}`)
	if r.Learned.Short == "" || strings.Contains(out, "p10") || strings.Contains(out, "launch") {
		t.Errorf("one visit gives\n%s", out)
	}
}

func TestForecastSchema(t *testing.T) {
	var b bytes.Buffer
	if err := work.Schema("forecast", &b); err != nil {
		t.Fatal(err)
	}
	root := decode(t, b.String()).(map[string]any)
	defs := root["$defs"].(map[string]any)
	v := validator{defs}
	in := forecastExample(t)
	if err := v.check(root, decode(t, in), "case"); err != nil {
		t.Error(err)
	}
	out, _ := runForecast(t, in)
	if err := v.check(defs["result"].(map[string]any), decode(t, out), "result"); err != nil {
		t.Error(err)
	}
}

func TestForecastBrokenOff(t *testing.T) {
	ctx, stop := context.WithCancel(context.Background())
	stop()
	var b bytes.Buffer
	if err := work.Run(ctx, "forecast", strings.NewReader(forecastExample(t)), &b); !errors.Is(err, context.Canceled) || b.Len() > 0 {
		t.Errorf("%v, and %d bytes", err, b.Len())
	}
}

func FuzzForecastCase(f *testing.F) {
	f.Add(forecastExample(f))
	f.Add(`{"data_date": "2027-04-12", "calendars": [{"id": "y", "week": "Sat 0.01"}], "steps": [{"id": "a", "spread_days": {"low": 1, "most_likely": 2, "high": 36525}}], "trials": 1}`)
	f.Add(`{"data_date": "2027-04-12", "calendars": [{"id": "y", "week": "24/7"}], "steps": [{"id": "a", "work_days": 1, "owner": true}, {"id": "b"}], "stands": [{"id": "s", "capacity": 2, "holdings": [{"first": "a", "last": "b", "need": 2}]}], "points": [{"id": "p", "covers": ["b"], "leads": [{"says": "x", "elapsed_hours": 4}]}], "visit_every_days": 3, "visits": ["2027-04-10"]}`)
	f.Fuzz(func(t *testing.T, in string) {
		if len(in) > 20000 {
			t.Skip()
		}
		var b bytes.Buffer
		if err := work.Run(context.Background(), "forecast", strings.NewReader(in), &b); err != nil {
			if b.Len() > 0 {
				t.Fatalf("an error and output: %v, %s", err, b.String())
			}
			return
		}
		var r work.ForecastResult
		if err := json.Unmarshal(b.Bytes(), &r); err != nil {
			t.Fatalf("%v in\n%s", err, b.String())
		}
	})
}
