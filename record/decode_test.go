package record_test

import (
	"encoding/json"
	"testing"

	"dogshore/calendar"
	"dogshore/record"
	"dogshore/unit"
)

// FuzzDecode holds Decode, which reads plain text itself, against encoding/json.
func FuzzDecode(f *testing.F) {
	for _, v := range []string{
		`""`, `"deck core"`, `"12,5 m"`, `"a \"quoted\" word"`, `"back\\slash"`, `"\u00e9"`, `"é"`, "\"\xff\"", "\"a\tb\"", `"open`, `"`, `"a""b"`, ` "a"`, `"a" `,
		`"2027-04-12"`, `"2027-13-41"`, `"1800-01-01"`, `null`, `12`, `["a"]`, `{"known":true}`, `"yes"`, `"step/deck-core"`, "\"\x7f\"", `"</script>"`,
	} {
		f.Add(v)
	}
	f.Fuzz(func(t *testing.T, v string) {
		got := record.Decode[record.Visit]("visit/v", func(string) (record.Value, bool) { return record.Value(v), true })
		var day calendar.Day
		var text string
		var flag record.Flag
		for _, to := range []any{&day, &text, &flag} {
			_ = json.Unmarshal([]byte(v), to)
		}
		if got.Day != day || got.By != text || got.Closed != flag || got.Note != text {
			t.Errorf("%q decodes to %+v; by encoding/json %v, %q, %q", v, got, day, text, flag)
		}
	})
}

func TestDecodeLeavesOutWhatIsWrong(t *testing.T) {
	values := map[string]record.Value{
		"name": record.Encode("Core \"A\" é"), "part": `"part/deck`, "look": `"plain"`, "rank": record.Encode(unit.Q(3, "number")), "notice": `"no quantity"`,
	}
	got := record.Decode[record.Step]("step/a", func(f string) (record.Value, bool) { v, ok := values[f]; return v, ok })
	want := record.Step{Subject: record.Subject{Self: "step/a"}, Name: "Core \"A\" é", Look: "plain", Rank: unit.Q(3, "number")}
	if got != want {
		t.Errorf("%+v, want %+v", got, want)
	}
}
