package letter

import (
	"maps"
	"slices"

	"dogshore/journal"
	"dogshore/record"
	"dogshore/unit"
)

// say turns a subject's values into facts, in the order of their names.
func say(self record.Ref, values map[string]record.Value) []journal.Fact {
	var out []journal.Fact
	for _, f := range slices.Sorted(maps.Keys(values)) {
		out = append(out, journal.Fact{Kind: self.Kind(), Key: self.Key(), Field: f, Value: values[f]})
	}
	return out
}

func number(n int) unit.Quantity { return unit.Q(float64(n), unit.Number) }
