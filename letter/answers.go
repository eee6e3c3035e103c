package letter

import (
	"slices"
	"strconv"
	"strings"
	"unicode"
)

// Answered is an answer to one numbered line.
type Answered struct {
	Number int
	Text   string
}

// units follow a number that counts something and is no line's number: "10 mm".
var units = []string{"mm", "cm", "m", "in", "kg", "g", "l", "t", "h", "day", "days", "week", "weeks", "hour", "hours", "pcs", "pieces", "bolts", "layers", "plies", "%", "x"}

// Answers finds the answers to numbered lines in what somebody wrote back:
// "2 yes, 4 Thursday", "2) fine / 3 and 5: no", one to a line or all in a row.
// Only the numbers in open are lines' numbers; every other number belongs to
// the text around it. rest is what stands before the first answer, without the
// quoted lines of the letter itself. An answer given twice counts the second
// time, after the first, so that nothing is lost.
func Answers(text string, open []int) (answers []Answered, rest string) {
	words := tokens(unquoted(text))
	var at []int // the lines that the words now read belong to
	said := map[int][]string{}
	var order []int
	var before []string
	starts := true // whether a number here may be a line's number
	for i := 0; i < len(words); i++ {
		w := words[i]
		if w == "\n" {
			starts = true
			continue
		}
		if starts && prefix(w) && i+1 < len(words) {
			if _, ok := lineNumber(words[i+1], open); ok {
				continue
			}
		}
		if starts {
			if ns, used := numbers(words[i:], open); ns != nil {
				at = ns
				for _, n := range ns {
					if !slices.Contains(order, n) {
						order = append(order, n)
					}
				}
				i += used - 1
				starts = false
				continue
			}
		}
		starts = strings.HasSuffix(w, ",") || strings.HasSuffix(w, ";") || strings.HasSuffix(w, ".") || w == "/"
		if at == nil {
			before = append(before, w)
			continue
		}
		for _, n := range at {
			said[n] = append(said[n], w)
		}
	}
	for _, n := range order {
		if t := strings.Trim(strings.Join(said[n], " "), " ,;/"); t != "" {
			answers = append(answers, Answered{n, strings.TrimSpace(t)})
		}
	}
	return answers, strings.Join(before, " ")
}

// unquoted drops the lines that a mail program quotes from the letter.
func unquoted(text string) string {
	var keep []string
	for _, line := range strings.Split(text, "\n") {
		if !strings.HasPrefix(strings.TrimSpace(line), ">") {
			keep = append(keep, line)
		}
	}
	return strings.Join(keep, "\n")
}

// tokens splits into words, with the line breaks kept as words.
func tokens(text string) []string {
	var out []string
	for i, line := range strings.Split(text, "\n") {
		if i > 0 {
			out = append(out, "\n")
		}
		out = append(out, strings.Fields(line)...)
	}
	return out
}

// prefix reports whether w only announces a number: "no. 2", "point 4", "# 3".
func prefix(w string) bool {
	return slices.Contains([]string{"no", "no.", "nr", "nr.", "point", "re", "#", "ad"}, strings.ToLower(w))
}

// numbers reads one or more line numbers at the start of words: "2", "2)",
// "2 and 3:", "2+3", "2, 3". It returns how many words they take, or nil.
func numbers(words []string, open []int) (ns []int, used int) {
	for used < len(words) {
		w := words[used]
		joined := strings.FieldsFunc(strings.TrimRight(w, ":).-,"), func(r rune) bool { return r == '+' || r == '&' })
		var here []int
		for _, x := range joined {
			n, ok := lineNumber(x, open)
			if !ok {
				here = nil
				break
			}
			here = append(here, n)
		}
		if here == nil {
			break
		}
		if used+1 < len(words) && slices.Contains(units, strings.ToLower(strings.Trim(words[used+1], ",.;"))) {
			break // "10 mm" counts something
		}
		ns = append(ns, here...)
		used++
		if used < len(words) && (words[used] == "and" || words[used] == "&" || words[used] == "+") {
			if used+1 < len(words) {
				if _, ok := lineNumber(words[used+1], open); ok {
					used++
					continue
				}
			}
		}
		if strings.HasSuffix(w, ",") {
			continue // "2, 3 yes"
		}
		break
	}
	return ns, used
}

// lineNumber reads w as the number of an open line.
func lineNumber(w string, open []int) (int, bool) {
	w = strings.TrimLeft(strings.TrimRight(w, ":).-,"), "#(")
	if w == "" || !unicode.IsDigit(rune(w[0])) {
		return 0, false
	}
	n, err := strconv.Atoi(w)
	return n, err == nil && slices.Contains(open, n)
}
