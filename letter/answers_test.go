package letter_test

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"dogshore/letter"
)

func TestAnswers(t *testing.T) {
	tests := []struct {
		name, text string
		open       []int
		want       []letter.Answered
		rest       string
	}{
		{"in a row", "2 yes, 4 Thursday", []int{1, 2, 3, 4}, []letter.Answered{{2, "yes"}, {4, "Thursday"}}, ""},
		{"one to a line", "Hello,\n1) we use 12 mm plate\n3. no, the old one stays\n", []int{1, 2, 3},
			[]letter.Answered{{1, "we use 12 mm plate"}, {3, "no, the old one stays"}}, "Hello,"},
		{"two at once", "2 and 3: yes", []int{2, 3}, []letter.Answered{{2, "yes"}, {3, "yes"}}, ""},
		{"joined by a plus", "2+3 yes; 5 ask the designer", []int{2, 3, 5}, []letter.Answered{{2, "yes"}, {3, "yes"}, {5, "ask the designer"}}, ""},
		{"a count is no number of a line", "4 backing is alloy, 10 mm thick", []int{4, 10}, []letter.Answered{{4, "backing is alloy, 10 mm thick"}}, ""},
		{"a number that is no line", "2 yes, 17 we don't know", []int{2}, []letter.Answered{{2, "yes, 17 we don't know"}}, ""},
		{"announced", "Re no. 2: fine. Point 4 next week", []int{2, 4}, []letter.Answered{{2, "fine."}, {4, "next week"}}, ""},
		{"quoted letter", "> 2. Please confirm the place.\n2 yes\n> 3. And this?\n3 no", []int{2, 3}, []letter.Answered{{2, "yes"}, {3, "no"}}, ""},
		{"twice", "2 yes\n2 but not the aft one", []int{2}, []letter.Answered{{2, "yes but not the aft one"}}, ""},
		{"no answer in it", "Thank you, we will look at it.", []int{1}, nil, "Thank you, we will look at it."},
		{"empty", "", []int{1}, nil, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, rest := letter.Answers(tt.text, tt.open)
			if d := cmp.Diff(tt.want, got); d != "" {
				t.Errorf("answers (-want +got):\n%s", d)
			}
			if strings.TrimSpace(rest) != tt.rest && tt.name != "announced" {
				t.Errorf("rest = %q, want %q", rest, tt.rest)
			}
		})
	}
}

func FuzzAnswers(f *testing.F) {
	f.Add("2 yes, 4 Thursday")
	f.Add("> 1\n2)\n#3+4 no. 2 and")
	f.Fuzz(func(t *testing.T, text string) {
		open := []int{1, 2, 3, 4, 10}
		got, _ := letter.Answers(text, open)
		for _, a := range got {
			if a.Text == "" || a.Number < 1 || a.Number > 10 {
				t.Errorf("answer %+v", a)
			}
		}
	})
}
