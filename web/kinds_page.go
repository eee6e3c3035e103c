package web

import (
	"net/http"

	"dogshore/record"
)

// kindsPage is the page of documentation: everything that can be written,
// from the table of kinds.
type kindsPage struct {
	Sheet
	Kinds []KindDescribed
}

// KindDescribed is a kind, and how many of it the record has.
type KindDescribed struct {
	*record.Kind
	Many int
}

// Takes says what a field takes, for the page of documentation.
func (KindDescribed) Takes(f record.Field) string {
	switch f.Type {
	case record.ChoiceType:
		return "one of: " + listed(f.Of, ", ")
	case record.RefType:
		return "names a " + listed(f.Of, " or ")
	case record.QuantityType, record.ThreePointType, record.ToleranceType:
		return string(f.Type) + ", as " + example(&f)
	}
	if e := example(&f); e != "" {
		return string(f.Type) + ", as " + e
	}
	return string(f.Type)
}

func (s *Site) kindsPage(w http.ResponseWriter, r *http.Request) error {
	v, err := s.view(r, "What can be written")
	if err != nil {
		return err
	}
	page := &kindsPage{Sheet: v.Sheet}
	for i := range record.Kinds() {
		k := &record.Kinds()[i]
		page.Kinds = append(page.Kinds, KindDescribed{k, len(v.rec.Refs(k.Name))})
	}
	return s.render(w, http.StatusOK, "kinds", page)
}

func listed(words []string, between string) string {
	out := ""
	for i, w := range words {
		if k := record.KindOf(w); k != nil {
			w = k.Title
		}
		if i > 0 {
			out += between
		}
		out += w
	}
	return out
}
