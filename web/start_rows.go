package web

import (
	"fmt"
	"net/http"

	"dogshore/journal"
	"dogshore/record"
)

// RowBlock is a block of short lines of one kind on the start sheet: five
// open points, three dates.
type RowBlock struct {
	Kind  *record.Kind
	Title string
	Says  string
	Have  []Named // what is entered already
	Rows  [][]Input
	Wrong string
}

// startBlocks lists the blocks of the start sheet: how many lines, and which
// fields of the kind they have.
var startBlocks = []struct {
	kind, title, says string
	rows              int
	fields            []string
}{
	{"point", "Open points", "What is still to be settled, and the stage that covers it up or fixes it.", 5, []string{"question", "covered_by"}},
	{"statement", "Dates that the yard has said", "As they were said: “14 April”, “W34”, “end of May”. For the launch leave out the stage.", 3, []string{"about", "what", "when", "by"}},
	{"person", "People", "Whose word you go by, and whether it may change what is built.", 3, []string{"name", "role", "may_instruct"}},
	{"cutoff", "Cut-offs of the contract", "Days after which something can't be chosen or changed any more.", 2, []string{"name", "day", "clause"}},
	{"sister", "Sister hull", "A hull ahead of her in the series, if there is one.", 1, []string{"name", "ahead", "note"}},
}

// rowBlocks lays out the blocks with empty lines; the refused one with what
// was typed.
func (v *view) rowBlocks(refused *RowBlock) ([]RowBlock, []NameList) {
	var out []RowBlock
	var lists []NameList
	have := map[string]bool{}
	for _, b := range startBlocks {
		k := record.KindOf(b.kind)
		block := RowBlock{Kind: k, Title: b.title, Says: b.says}
		if refused != nil && refused.Kind == k {
			block.Rows, block.Wrong = refused.Rows, refused.Wrong
		} else {
			for i := range b.rows {
				block.Rows = append(block.Rows, v.rowInputs(k, b.fields, i, nil, nil))
			}
		}
		_, names := v.inputs(k, nil, nil)
		for _, l := range names {
			if !have[l.ID] {
				have[l.ID] = true
				lists = append(lists, l)
			}
		}
		for _, ref := range v.rec.Refs(b.kind) {
			block.Have = append(block.Have, v.called(ref))
		}
		out = append(out, block)
	}
	return out, lists
}

// rowInputs lays out the fields of line i.
func (v *view) rowInputs(k *record.Kind, fields []string, i int, typed, wrong map[string]string) []Input {
	all, _ := v.inputs(k, typed, wrong)
	var out []Input
	for _, name := range fields {
		for _, in := range all {
			if in.Field.Name == name {
				in.ID = fmt.Sprintf("%s.%s.%d", k.Name, name, i)
				in.Bare = i > 0 // the first line explains the fields
				out = append(out, in)
			}
		}
	}
	return out
}

// startRows writes the lines of one block that are filled in; if one of them
// is refused none is written and all come back.
func (s *Site) startRows(w http.ResponseWriter, r *http.Request) error {
	f, err := s.writable(r)
	if err != nil {
		return err
	}
	v, err := s.view(r, "Start sheet")
	if err != nil {
		return err
	}
	for _, b := range startBlocks {
		if b.kind != r.PathValue("kind") {
			continue
		}
		k := record.KindOf(b.kind)
		back := &RowBlock{Kind: k}
		var entries []journal.Entry
		taken := map[string]bool{}
		for i := range b.rows {
			typed, blank := v.typedRow(r, k, b.fields, i)
			values, wrong := v.read(k, typed)
			if blank {
				wrong = nil
			}
			back.Rows = append(back.Rows, v.rowInputs(k, b.fields, i, typed, wrong))
			if len(wrong) > 0 {
				back.Wrong = "Nothing of these lines is written yet: the marked ones need another look."
			}
			if blank || len(wrong) > 0 {
				continue
			}
			e := s.draft(w, r, f, v.holdsFrom(k, values), v.groundsFor(k, values))
			key := v.newKey(k, values, e.ID)
			if taken[key] { // two lines of the same name are two subjects
				key = e.ID
			}
			taken[key] = true
			e.Origin, e.Facts = "start sheet", journal.Facts(record.R(k.Name, key), values)
			entries = append(entries, e)
		}
		if back.Wrong != "" {
			return s.startSheet(w, r, v, back)
		}
		if _, err := f.Accept(r.Context(), entries...); err != nil {
			return err
		}
		http.Redirect(w, r, "/start#"+b.kind, http.StatusSeeOther)
		return nil
	}
	return notFound("The start sheet has no lines for “%s”.", r.PathValue("kind"))
}

// typedRow reads what was typed into line i, and adds what the line itself
// says: on which day, and of the boat if no stage is named.
func (v *view) typedRow(r *http.Request, k *record.Kind, fields []string, i int) (typed map[string]string, blank bool) {
	typed, blank = map[string]string{}, true
	for _, name := range fields {
		typed[name] = r.PostFormValue(fmt.Sprintf("%s.%s.%d", k.Name, name, i))
		if typed[name] != "" {
			blank = false
		}
	}
	if blank {
		return typed, true
	}
	day := v.Today
	if v.Visit != nil {
		day = v.Visit.Day
	}
	switch k.Name {
	case "statement":
		typed["on"] = day.String()
		if typed["about"] == "" {
			typed["about"] = string(buildRef)
		}
		if typed["what"] == "" {
			typed["what"] = "launch"
		}
	case "point":
		typed["asked"] = day.String()
	}
	return typed, false
}
