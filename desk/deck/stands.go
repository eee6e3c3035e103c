package deck

import (
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/rope"
)

// Stands says how a line or an eye stands by the figures entered, with all that
// it hangs on: its own strength, what holds it and what lies under that. It is
// the worst of them, and what is not known is worse than what can't be told.
func (a *Arrangement) Stands(of record.Ref) jackstay.Verdict {
	worst := jackstay.Meets
	take := func(v jackstay.Verdict) {
		if gravity(v) > gravity(worst) {
			worst = v
		}
	}
	for _, l := range a.Result.Lines {
		if l.ID != string(of) {
			continue
		}
		take(l.Strength.Verdict)
		for _, s := range l.Supports {
			take(s.Verdict)
			take(a.under(s.ID))
		}
	}
	for _, e := range a.Result.Points {
		if e.ID == string(of) {
			take(e.Verdict)
			take(a.under(e.ID))
		}
	}
	return worst
}

// under is how a fitting stands with what lies under it, if it is one.
func (a *Arrangement) under(fitting string) jackstay.Verdict {
	for _, x := range a.Anchors {
		if string(x.Self) != fitting {
			continue
		}
		switch x.Result.Verdict {
		case rope.MeetsNot:
			return jackstay.MeetsNot
		case rope.NotKnown:
			return jackstay.NotKnown
		}
	}
	return jackstay.Meets
}

func gravity(v jackstay.Verdict) int {
	for i, of := range []jackstay.Verdict{jackstay.Meets, jackstay.Between, jackstay.NotKnown, jackstay.MeetsNot} {
		if v == of {
			return i
		}
	}
	return 0
}
