package record_test

import (
	"strings"
	"testing"

	"dogshore/record"
)

func TestParseStretch(t *testing.T) {
	got, err := record.ParseStretch("1 % at 2 kN; 4,5 % at 10 kN; 0.08 at 1500 daN")
	want := []record.Stretch{{Strain: 0.01, Force: 2000}, {Strain: 0.045, Force: 10000}, {Strain: 0.08, Force: 15000}}
	if err != nil || len(got) != 3 {
		t.Fatalf("%v, %v", got, err)
	}
	for i := range want {
		if d := got[i].Strain - want[i].Strain; d > 1e-12 || d < -1e-12 || got[i].Force != want[i].Force {
			t.Errorf("point %d: %+v, want %+v", i+1, got[i], want[i])
		}
	}
	for text, says := range map[string]string{
		"":                          "no point",
		"1 %":                       "point 1",
		"1 % at 2 kN; 1 % at 3 kN":  "point 2",
		"1 % at 2 kN; 2 % at 1 kN":  "must be greater",
		"1 % at 2 kg of something":  "the force",
		"lots at 2 kN":              "how much longer",
		"900 % at 2 kN":             "no line's",
		strings.Repeat("1%;", 1000): "points",
	} {
		if _, err := record.ParseStretch(text); err == nil || !strings.Contains(err.Error(), says) {
			t.Errorf("%q: %v, want an error that says %q", text, err, says)
		}
	}
}

func FuzzParseStretch(f *testing.F) {
	f.Add("1 % at 2 kN; 4 % at 10 kN")
	f.Add("at ; at")
	f.Fuzz(func(t *testing.T, text string) {
		got, err := record.ParseStretch(text)
		last := record.Stretch{}
		for _, p := range got {
			if !(p.Strain > last.Strain && p.Force > last.Force) {
				t.Errorf("%q reads as %+v", text, got)
			}
			last = p
		}
		if err == nil && len(got) == 0 {
			t.Errorf("%q reads as nothing", text)
		}
	})
}
