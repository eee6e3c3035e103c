package diary

import "strings"

// Find looks for items: all words in what an item says, at a place, of a
// stage. An empty argument asks for nothing.
func (d Diary) Find(words, place, stage string) []Find {
	asked := strings.Fields(strings.ToLower(words))
	var out []Find
	for _, p := range d.Visits {
		for _, i := range p.Items() {
			if place != "" && i.Place != place || stage != "" && i.Stage != stage {
				continue
			}
			text := strings.ToLower(strings.Join([]string{i.Text, i.More, i.Place, i.Stage, p.Note}, " "))
			hit := true
			for _, w := range asked {
				hit = hit && strings.Contains(text, w)
			}
			if hit {
				out = append(out, Find{p, i})
			}
		}
	}
	return out
}
