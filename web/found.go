package web

import (
	"encoding/json"

	"dogshore/record"
)

// noted is one thing that was noted at a visit.
type noted struct {
	visit record.Ref
	Self  record.Ref
	Kind  *record.Kind
}

// found lists what was noted at a visit (at all of them with ""), in the order
// of the kinds.
func (v *view) found(at record.Ref) []noted {
	var out []noted
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		if k.Field("visit") == nil || k.Name == "letter" {
			continue
		}
		for _, self := range v.rec.Refs(k.Name) {
			h, ok := v.rec.Held(self, "visit")
			if !ok {
				continue
			}
			var visit record.Ref
			if json.Unmarshal([]byte(h.Value), &visit) == nil && visit != "" && (at == "" || visit == at) {
				out = append(out, noted{visit, self, k})
			}
		}
	}
	return out
}
