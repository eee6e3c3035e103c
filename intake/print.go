package intake

import (
	"bufio"
	"fmt"
	"io"
	"strings"
)

// listed bounds how many lines of each list are printed; the totals count all.
const listed = 40

// Print writes a reading for the terminal: what was read, what is asked, what
// is refused, what was passed over, with totals.
func Print(w io.Writer, r *Reading) error {
	b := bufio.NewWriter(w)
	blank := 0
	for _, s := range r.Sources {
		if s.Rows == 0 && s.Notes == nil {
			blank++
			continue
		}
		fmt.Fprintf(b, "%s: %s, %s\n", s.At, s.As, many(s.Rows, s.Of()))
		for _, n := range s.Notes {
			fmt.Fprintf(b, "  %s\n", n)
		}
	}
	if blank > 0 {
		fmt.Fprintf(b, "%s without rows\n", many(blank, "list"))
	}
	facts := 0
	for _, n := range r.Reads {
		facts += len(n.Facts)
	}
	heading(b, "Read", many(len(r.Reads), "entry"), many(facts, "value"))
	printList(b, r.Reads, func(n News) {
		word := "adds to"
		switch {
		case n.New:
			word = "new"
		case n.Facts[0].Was != "":
			word = "changes"
		}
		fmt.Fprintf(b, "  %s: %s %s %q", n.At, word, n.Self.Kind(), short(n.Name))
		for i, f := range n.Facts {
			if f.Was != "" {
				fmt.Fprintf(b, "%s %s %q, was %q", comma(i), f.Field.Title, short(f.Field.Format(f.Value)), short(f.Was))
			}
		}
		fmt.Fprintln(b)
	})
	if r.Same > 0 {
		fmt.Fprintf(b, "  %s the record already.\n", agree(r.Same))
	}
	heading(b, "Asks", many(len(r.Asks), "question"))
	printList(b, r.Asks, func(a Ask) {
		fmt.Fprintf(b, "  %s: %s\n", a.ID, strings.TrimSpace(quoted(a.Text)+a.Question))
		for _, x := range a.Readings {
			fmt.Fprintf(b, "      %s\n", short(x))
		}
	})
	heading(b, "Refuses", many(len(r.Refuses), "cell"))
	printList(b, r.Refuses, func(x Refusal) { fmt.Fprintf(b, "  %s: %s\n", x.At, quotedUnless(x.Text, x.Why)+x.Why) })
	heading(b, "Passes over", many(len(r.Skips), "place"))
	printList(b, r.Skips, func(x Skip) { fmt.Fprintf(b, "  %s: %s\n", x.At, quoted(x.Text)+x.Why) })
	if len(r.Asks) > 0 {
		fmt.Fprintln(b, "\nWhat is asked about is left out until it is answered: put it right in the file, or give --answer 'PLACE=ANSWER'.")
	}
	return b.Flush()
}

func heading(w io.Writer, title string, totals ...string) {
	fmt.Fprintf(w, "\n%s: %s\n", title, strings.Join(totals, ", "))
}

func printList[T any](w io.Writer, list []T, line func(T)) {
	for _, x := range list[:min(len(list), listed)] {
		line(x)
	}
	if n := len(list) - listed; n > 0 {
		fmt.Fprintf(w, "  ... and %d more\n", n)
	}
}

func many(n int, what string) string {
	switch {
	case n == 1:
		return "1 " + what
	case strings.HasSuffix(what, "y"):
		return fmt.Sprintf("%d %sies", n, strings.TrimSuffix(what, "y"))
	}
	return fmt.Sprintf("%d %ss", n, what)
}

func agree(n int) string {
	if n == 1 {
		return "1 cell says what is in"
	}
	return fmt.Sprintf("%d cells say what is in", n)
}

func comma(i int) string {
	if i == 0 {
		return ":"
	}
	return ";"
}

func quoted(s string) string {
	if s == "" {
		return ""
	}
	return fmt.Sprintf("%q: ", short(s))
}

// quotedUnless leaves the cell's text out where the reason quotes it already.
func quotedUnless(s, why string) string {
	if strings.Contains(why, s) {
		return ""
	}
	return quoted(s)
}
