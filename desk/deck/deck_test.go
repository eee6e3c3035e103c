package deck

import (
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"strings"
	"testing"

	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/unit"
)

// build makes a record of a small invented deck, 8 m by 3 m.
type build struct {
	t *testing.T
	j journal.Journal
	n int64
}

func put[T any](b *build, key string, x T) record.Ref {
	b.t.Helper()
	kind := record.KindFor[T]().Name
	b.n++
	e := journal.Entry{ID: fmt.Sprintf("e%04d", b.n), Stamp: journal.Stamp(b.n), Since: journal.Always, Author: "owner", Grounds: record.Written, Version: journal.Version, Arrival: b.n}
	for field, v := range record.Values(x) {
		e.Facts = append(e.Facts, journal.Fact{Kind: kind, Key: key, Field: field, Value: v})
	}
	e, err := journal.Check(e)
	if err != nil {
		b.t.Fatal(err)
	}
	b.j.Add(e)
	return record.R(kind, key)
}

func (b *build) record() *journal.Record { return b.j.As(calendar.Date(2026, 5, 1), journal.Now) }

func m(v float64) unit.Quantity { return unit.Q(v, unit.Length) }

func at(x, y, z float64) record.Spot { return record.Spot{Known: true, X: x, Y: y, Z: z} }

// small is the deck without a line.
func small(t *testing.T) *build {
	b := &build{t: t}
	put(b, "build", record.Build{Name: "Example", Boat: "monohull", Length: m(8), Beam: m(3)})
	put(b, "deck", record.Level{Name: "Deck", Plan: record.Outline{{0, 1.5}, {8, 1.5}, {8, -1.5}, {0, -1.5}}, Height: m(1)})
	for side, y := range map[string]float64{"port": 1.5, "starboard": -1.5} {
		put(b, side+"-edge", record.Edge{Name: side + " edge", Path: record.Outline{{0, y}, {8, y}}, Height: m(1), Rail: m(0.6), Gap: m(0.28)})
	}
	put(b, "hatch", record.Obstacle{Name: "Hatch lid", Sort: "hatch", Plan: record.Outline{{4, 0.2}, {4.5, 0.2}, {4.5, -0.2}, {4, -0.2}}, Base: m(1), Height: m(0.05), Swings: m(0.5)})
	put(b, "tether", record.Tether{Name: "Tether", Long: m(1.8), Short: m(0.9), Hooks: unit.Q(2, unit.Number), Wearer: "A", Mass: unit.Q(80, unit.Mass)})
	put(b, "bow", record.Task{Name: "Go to the bow", Way: record.Outline{{1, 0}, {7.5, 0}}, Hands: "both", Posture: "kneeling"})
	return b
}

// lined adds a line along the middle, through the swing of the hatch, for an
// option or for every arrangement.
func (b *build) lined(option record.Ref, y float64) (line, after, fore record.Ref) {
	key := fmt.Sprintf("line-%d", b.n)
	web := put(b, key+"-rope", record.Rope{Name: "Webbing", Make: "polyester webbing", Size: m(0.025), Breaking: unit.Q(22000, unit.Force)})
	eye := func(key string, x float64) record.Ref {
		return put(b, key, record.Fitting{Name: key, Sort: "pad eye", Spot: at(x, y, 1.02), Option: option, Clip: record.Yes, Rated: unit.Q(20000, unit.Force), Stands: m(0.025)})
	}
	after, fore = eye(key+"-after", 0.8), eye(key+"-fore", 7.2)
	line = put(b, key, record.Jackstay{Name: key, Rope: web, Option: option, Slack: unit.Q(0.01, unit.Number)})
	for i, f := range []record.Ref{after, fore} {
		put(b, fmt.Sprintf("%s-%d", key, i+1), record.Support{Jackstay: line, Number: unit.Q(float64(i+1), unit.Number), How: "end", Fitting: f})
	}
	return line, after, fore
}

func has(a Arrangement, s Sort, of record.Ref) bool {
	return slices.ContainsFunc(a.Findings, func(f Finding) bool { return f.Sort == s && (of == "" || f.Of == of) })
}

// A bare deck has no arrangement, asks for nothing and runs nothing.
func TestBareDeckAsksNothing(t *testing.T) {
	r := small(t).record()
	a := Read(r, plan.Read(r), nil)
	if len(a.Arrangements) != 0 || len(a.Acts) != 0 || a.Solves != 0 || !a.Known() {
		t.Errorf("%d arrangements, %d acts, %d solves", len(a.Arrangements), len(a.Acts), a.Solves)
	}
	var none build
	none.t = t
	if e := Read(none.record(), plan.Read(none.record()), nil); e.Known() || len(e.Missing) != 0 {
		t.Error("an empty record speaks of a deck")
	}
}

// What stands in every arrangement is built: its findings are acts of their
// own, each with a caution, and what nobody knows has no margin.
func TestBuiltLineIsActedOn(t *testing.T) {
	b := small(t)
	line, after, _ := b.lined("", 0)
	r := b.record()
	a := Read(r, plan.Read(r), nil)
	if len(a.Arrangements) != 1 || a.Solves == 0 {
		t.Fatalf("%d arrangements, %d solves", len(a.Arrangements), a.Solves)
	}
	x := a.Arrangements[0]
	if !has(x, Crossed, line) {
		t.Error("the line through the hatch's swing is not found")
	}
	if !has(x, Unknown, after) {
		t.Error("an eye with nothing known under it is not said to be unknown")
	}
	for _, an := range x.Anchors {
		if an.Result.Verdict == rope.Meets || an.Result.Verdict == rope.NotKnown && an.Result.Margin != 0 {
			t.Errorf("%s: %s, margin %g on an unknown laminate", an.Name, an.Result.Verdict, an.Result.Margin)
		}
	}
	for _, act := range a.Acts {
		if act.Say == "" || len(act.Why) == 0 || act.Missed == "" || !strings.HasPrefix(act.ID, "deck/") {
			t.Errorf("act %+v lacks something", act)
		}
		for _, word := range []string{"safe", "approved", " OK"} {
			if strings.Contains(strings.ToLower(act.Say+act.Caution), strings.ToLower(word)) && !strings.Contains(act.Caution, "not approve") && !strings.Contains(act.Caution, "approves no") {
				t.Errorf("%s: says %q", act.ID, word)
			}
		}
	}
	if !slices.ContainsFunc(a.Acts, func(x desk.Act) bool { return x.ID == "deck/in-the-way" }) {
		t.Error("no act asks to lead the line clear")
	}
}

// Options of an open point are arrangements beside each other under one act;
// once one is taken in writing it stands in every one, and the others are gone.
func TestOptionsAreArrangements(t *testing.T) {
	b := small(t)
	point := put(b, "ends", record.Point{Question: "Where do the ends go?", Gravity: "safety"})
	one := put(b, "one", record.Option{Point: point, Name: "In the middle"})
	two := put(b, "two", record.Option{Point: point, Name: "To port"})
	b.lined(one, 0)
	b.lined(two, 0.9)
	r := b.record()
	a := Read(r, plan.Read(r), nil)
	if len(a.Arrangements) != 2 || a.Arrangements[0].Option != one || len(a.Arrangements[0].Lines) != 1 {
		t.Fatalf("%d arrangements: %+v", len(a.Arrangements), a.Arrangements)
	}
	if !has(a.Arrangements[0], Crossed, "") || has(a.Arrangements[1], Crossed, "") {
		t.Error("only the line in the middle runs through the hatch's swing")
	}
	compare := 0
	for _, act := range a.Acts {
		if act.ID == "deck/"+string(point) {
			compare++
			if len(act.How) != 4 || act.Gravity != desk.Safety {
				t.Errorf("the act compares %q, %s", act.How, act.Gravity)
			}
		}
	}
	if compare != 1 {
		t.Errorf("%d acts compare the arrangements, want one", compare)
	}
	put(b, "yard", record.Person{Name: "Y", Role: "builder", MayInstruct: record.Yes})
	put(b, "me", record.Person{Name: "M", Role: "owner", MayInstruct: record.Yes})
	d := put(b, "taken", record.Decision{Point: point, Option: two, Day: calendar.Date(2026, 4, 20), With: "person/yard"})
	put(b, "firm", record.Confirmation{Of: d, By: "person/yard", Day: calendar.Date(2026, 4, 21), How: "letter"})
	r = b.record()
	a = Read(r, plan.Read(r), nil)
	if len(a.Arrangements) != 1 || a.Arrangements[0].Option != "" || has(a.Arrangements[0], Crossed, "") {
		t.Errorf("after the decision: %d arrangements, first %q", len(a.Arrangements), a.Arrangements[0].Name)
	}
}

// What is remembered changes nothing: the same answer, without a solve.
func TestMemoChangesNothing(t *testing.T) {
	b := small(t)
	b.lined("", 0.4)
	r := b.record()
	p := plan.Read(r)
	var keep Memo
	first, again := Read(r, p, &keep), Read(r, p, &keep)
	if first.Solves == 0 || again.Solves != 0 {
		t.Errorf("%d solves, then %d", first.Solves, again.Solves)
	}
	first.Solves = 0
	a, err := json.Marshal(first)
	if err != nil {
		t.Fatal(err)
	}
	c, err := json.Marshal(again)
	if err != nil {
		t.Fatal(err)
	}
	if string(a) != string(c) {
		t.Error("the remembered answer is another")
	}
}

// Trying a place on gives what writing it down would give; and the hand's
// answer while dragging is that of the whole deck for the lines it holds.
func TestTryAndHand(t *testing.T) {
	b := small(t)
	line, after, _ := b.lined("", 0.4)
	r := b.record()
	p := plan.Read(r)
	moved := map[record.Ref]record.Spot{after: at(1.2, 0.9, 1.02)}
	_, tried, ok := Try(r, p, "", moved)
	if !ok {
		t.Fatal("there is no such arrangement")
	}
	_, held, err := Hand(r, p, "", moved, after)
	if err != nil || len(held) != 1 || held[0].ID != string(line) {
		t.Fatalf("the hand holds %d lines: %v", len(held), err)
	}
	i := slices.IndexFunc(tried.Result.Lines, func(l lineResult) bool { return l.ID == string(line) })
	if got, want := held[0].Tension.As, tried.Result.Lines[i].Tension.As; math.Abs(got-want) > 1e-9*want {
		t.Errorf("tension %g in the hand, %g in the whole", got, want)
	}
	put(b, after.Key(), record.Fitting{Name: after.Key(), Sort: "pad eye", Spot: moved[after], Clip: record.Yes, Rated: unit.Q(20000, unit.Force), Stands: m(0.025)})
	r = b.record()
	written := Read(r, plan.Read(r), nil).Arrangements[0]
	a, _ := json.Marshal(tried.Result)
	c, _ := json.Marshal(written.Result)
	if string(a) != string(c) {
		t.Error("what was tried on is not what is reckoned once it is written down")
	}
	if _, _, ok := Try(r, p, "option/none", nil); ok {
		t.Error("an arrangement that there is not was tried on")
	}
}
