package jackstay

import "dogshore/rope"

// Cautions are the texts that stand wherever an answer of this package is
// shown, printed or sent: those of the one list that concern it.
func Cautions() []Caution {
	var out []Caution
	for _, c := range []rope.Caution{
		rope.CautionEstimate, rope.CautionDragged, rope.CautionHooks, rope.CautionAssumed,
		rope.CautionProof, rope.CautionWebbing, rope.CautionLight, rope.CautionAround,
	} {
		out = append(out, Caution{string(c), c.Text()})
	}
	return out
}
