package record_test

import (
	"testing"

	"dogshore/record"
)

func TestStages(t *testing.T) {
	seen := map[string]bool{}
	tone := map[float64]string{}
	for _, s := range record.Stages {
		if seen[s.Slug] {
			t.Errorf("%s stands twice", s.Slug)
		}
		seen[s.Slug] = true
		if s.Name == "" || s.Sees == "" || s.Leave == "" || s.Next == "" {
			t.Errorf("%s: a text is empty", s.Slug)
		}
		if s.Density <= 0 || s.Density > 1 {
			t.Errorf("%s: density %v is not within 0 and 1", s.Slug, s.Density)
		}
		if other, ok := tone[s.Density]; ok {
			t.Errorf("%s and %s have the same tone", s.Slug, other)
		}
		tone[s.Density] = s.Slug
		if got, ok := record.StageOf(s.Slug); !ok || got != s {
			t.Errorf("StageOf(%q) = %v, %v", s.Slug, got, ok)
		}
	}
	if _, ok := record.StageOf("polished"); ok {
		t.Error("a stage that is not in the key was found")
	}
}
