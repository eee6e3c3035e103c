package visit

import (
	"slices"
	"testing"

	"dogshore/desk"
	"dogshore/desk/plan"
	"dogshore/record"
)

// One tap: what is under way is done and the next is under way; where nothing
// is under way, the next is, or is done.
func TestLikely(t *testing.T) {
	const no, under, done, unknown = "not started", "under way", "done", "not known"
	for name, c := range map[string]struct {
		states []string
		want   []string // step and tap
	}{
		"nothing known":        {[]string{unknown, unknown}, []string{"0 under way", "0 done"}},
		"nothing begun":        {[]string{no, no, no}, []string{"0 under way", "0 done"}},
		"one under way":        {[]string{done, under, no, no}, []string{"1 done", "2 under way"}},
		"between two":          {[]string{done, done, no, no}, []string{"2 under way", "2 done"}},
		"two under way":        {[]string{under, under, no}, []string{"0 done", "1 done", "2 under way"}},
		"one passed over":      {[]string{done, no, done, no}, []string{"3 under way", "3 done"}},
		"the last under way":   {[]string{done, under}, []string{"1 done"}},
		"all done":             {[]string{done, done}, nil},
		"a gap behind the tap": {[]string{done, under, done, no}, []string{"1 done", "3 under way"}},
	} {
		t.Run(name, func(t *testing.T) {
			b := &build{t: t}
			part := b.part("deck", "deck")
			var p plan.Answer
			for i, s := range c.states {
				p.Steps = append(p.Steps, b.step(part, string(rune('0'+i)), "step", s, 0))
			}
			slices.Reverse(p.Steps) // the rank orders them, not the network
			got := Read(b.as(day(8)), p).Walk
			if c.want == nil {
				if len(got) != 0 {
					t.Fatalf("walk %+v, want no stop", got)
				}
				return
			}
			var taps []string
			for _, l := range got[0].Steps {
				taps = append(taps, l.Step.Key()+" "+l.Tap)
			}
			if !slices.Equal(taps, c.want) {
				t.Errorf("taps %q, want %q", taps, c.want)
			}
		})
	}
}

// What lies in one bay is walked together, bays where something is asked come
// first, and in a bay the parts where something is asked.
func TestWalkingOrder(t *testing.T) {
	b := &build{t: t}
	bay := put(b, journal0, record.Written, "bay", record.Stand{Name: "bay 2"})
	var p plan.Answer
	add := func(key string, stand record.Ref) record.Ref {
		part := b.part(key, key)
		s := b.step(part, key+"-core", key+" core", "not started", 0)
		s.Stand = stand
		p.Steps = append(p.Steps, s)
		return part
	}
	add("alone", "")
	add("port", bay)
	star := add("starboard", bay)
	add("deck", "")
	p.Acts = []desk.Act{
		look("cover/x", star, "step/starboard-core", 0, 0),
		{ID: "ask/office", Do: desk.Ask, Where: desk.AtVisit},
		{ID: "settle/home", Do: desk.Settle, Where: desk.AtHome, On: star},
	}
	var order []string
	for _, s := range Read(b.as(day(8)), p).Walk {
		order = append(order, s.Part.Key())
		if s.Part == star && (len(s.Acts) != 1 || s.Lies != bay) {
			t.Errorf("starboard %+v", s)
		}
	}
	if want := []string{"starboard", "port", "alone", "deck", ""}; !slices.Equal(order, want) {
		t.Errorf("walk %q, want %q", order, want)
	}
}

// Before anybody has looked every part is on the walk; after that those whose
// next stage is near.
func TestFarStagesAreLeftOut(t *testing.T) {
	b := &build{t: t}
	far := b.step(b.part("rig", "rig"), "rig-rigged", "rigging", "not known", 30)
	p := plan.Answer{Steps: []plan.Step{far}}
	if got := Read(b.as(day(8)), p).Walk; len(got) != 1 {
		t.Errorf("nobody has looked: %+v", got)
	}
	p.LastVisit = record.Visit{Subject: record.Subject{Self: "visit/v"}, Day: day(7)}
	if got := Read(b.as(day(8)), p).Walk; len(got) != 0 {
		t.Errorf("30 steps off: %+v", got)
	}
}
