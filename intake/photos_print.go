package intake

import (
	"bufio"
	"fmt"
	"io"
	"path"
)

// PrintPhotos writes a reading of pictures for the terminal: by visit, what is
// doubtful, what is asked, what is known already and what is broken.
func PrintPhotos(w io.Writer, p *PhotoReading) error {
	b := bufio.NewWriter(w)
	heading(b, "Pictures", many(len(p.Reads), "file"))
	for _, g := range p.Groups {
		title := "of no visit"
		if g.Visit != "" {
			title = "visit of " + g.Day.Said()
		}
		films, noted := 0, 0
		for _, l := range g.Photos {
			if l.Film {
				films++
			}
			if !l.New {
				noted++
			}
		}
		fmt.Fprintf(b, "  %s: %s", title, many(len(g.Photos)-films, "picture"))
		if films > 0 {
			fmt.Fprintf(b, ", %s", many(films, "film"))
		}
		fmt.Fprintf(b, ", %s", between(g.Photos))
		if noted > 0 {
			fmt.Fprintf(b, "; %d of them noted by name before", noted)
		}
		fmt.Fprintln(b)
	}
	var doubtful []PhotoLine
	for _, g := range p.Groups {
		for _, l := range g.Photos {
			if l.Says != "" {
				doubtful = append(doubtful, l)
			}
		}
	}
	said := func(l PhotoLine) { fmt.Fprintf(b, "  %s: %s\n", l.Name, l.Says) }
	if doubtful != nil {
		heading(b, "Doubtful", many(len(doubtful), "file"))
		printList(b, doubtful, said)
	}
	if p.Known != nil {
		heading(b, "Here already", many(len(p.Known), "file"))
		printList(b, p.Known, said)
	}
	if p.Asks != nil {
		heading(b, "Asks", many(len(p.Asks), "question"))
		printList(b, p.Asks, func(a Ask) {
			fmt.Fprintf(b, "  %s: %s%s\n", a.ID, quoted(a.Text), a.Question)
			for _, x := range a.Readings {
				fmt.Fprintf(b, "      %s\n", x)
			}
		})
	}
	if p.Refuses != nil {
		heading(b, "Can't be taken in", many(len(p.Refuses), "file"))
		printList(b, p.Refuses, func(x Refusal) { fmt.Fprintf(b, "  %s: %s\n", x.At, x.Why) })
	}
	p.remarks(b)
	return b.Flush()
}

// remarks says by which clock and zone times were read, and that positions
// stay in the originals.
func (p *PhotoReading) remarks(b io.Writer) {
	fmt.Fprintln(b)
	for _, c := range p.Cameras {
		fmt.Fprintf(b, "  taken with %s: %d\n", c.Camera, c.Count)
	}
	switch {
	case len(p.Reads) == 0:
	case p.Zone != "":
		fmt.Fprintf(b, "  Times without a zone are read as those of %s.\n", p.Zone)
	default:
		fmt.Fprintln(b, "  The yard's time zone is not known: times without one are shown as the cameras have them (--zone, or the build's own field).")
	}
	if p.Placed > 0 {
		fmt.Fprintf(b, "  %s taken. That stays in the originals; the small pictures carry none of it.\n", map[bool]string{true: "1 file says where it was", false: fmt.Sprintf("%d files say where they were", p.Placed)}[p.Placed == 1])
	}
	if p.Asks != nil {
		fmt.Fprintln(b, "What is asked about is left out until it is answered: give --answer 'QUESTION=ANSWER' as they are printed.")
	}
}

// between names the first and the last of a list.
func between(l []PhotoLine) string {
	if len(l) == 1 {
		return path.Base(l[0].Name)
	}
	return path.Base(l[0].Name) + " to " + path.Base(l[len(l)-1].Name)
}
