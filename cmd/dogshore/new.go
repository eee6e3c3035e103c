package main

import (
	"bufio"
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"strconv"
	"strings"

	"dogshore/calendar"
	"dogshore/journal"
	"dogshore/record"
	"dogshore/store"
	"dogshore/template"
)

type newCmd struct {
	Dir      string `arg:"" help:"The folder to make; it holds the whole build."`
	Name     string `help:"What you call her, or the yard's hull number."`
	Boat     string `help:"catamaran or monohull."`
	Way      string `help:"infused sandwich or hand-laid."`
	Hulls    string `help:"Hulls moulded in halves or in one piece."`
	Series   string `help:"series or one-off."`
	Length   string `help:"Length of the hull: 14.9 m, 48' 10\"."`
	Yard     string `help:"Who builds her."`
	Country  string `help:"Where she is built."`
	Contract string `help:"The day of the contract: 2027-04-12."`
	Visiting string `help:"every week, every few weeks, a surveyor goes, or pictures from the yard."`
	By       string `default:"owner" help:"Who writes this down."`
}

// Help ends the command's help with examples.
func (c *newCmd) Help() string {
	return `Asks what no flag has said; Enter takes what stands in brackets.

Examples:
  dogshore new my-boat
  dogshore new my-boat --boat catamaran --way infused --hulls "one piece" --series series --length "14.9 m"`
}

// ask is one thing to ask about the new build: a field of the build.
type ask struct {
	number  int // of the question that it belongs to
	field   string
	says    string
	initial string // taken on Enter
	flag    func(*newCmd) string
}

var asks = []ask{
	{1, "name", "What do you call her? A name, or the yard's hull number, as H 07", "", func(c *newCmd) string { return c.Name }},
	{2, "boat", "How many hulls?", "catamaran", func(c *newCmd) string { return c.Boat }},
	{2, "way", "How is she built?", "infused sandwich", func(c *newCmd) string { return c.Way }},
	{2, "hulls", "How is a hull moulded?", "one piece", func(c *newCmd) string { return c.Hulls }},
	{2, "series", "One of a series, or a single boat?", "series", func(c *newCmd) string { return c.Series }},
	{3, "length", "How long is the hull? As 14.9 m or 48' 10\"; without it nothing can be drawn", "", func(c *newCmd) string { return c.Length }},
	{4, "yard", "Which yard builds her? As Example Yard", "", func(c *newCmd) string { return c.Yard }},
	{4, "country", "In which country?", "", func(c *newCmd) string { return c.Country }},
	{5, "contract_day", "When was the contract signed? As 2027-04-12", "", func(c *newCmd) string { return c.Contract }},
	{6, "visiting", "How is she visited?", "every few weeks", func(c *newCmd) string { return c.Visiting }},
}

// Run asks, makes the folder and lays the template.
func (c *newCmd) Run(ctx context.Context, s streams) error {
	if err := c.vacant(ctx, s); err != nil {
		return err
	}
	values, err := c.answers(s)
	if err != nil {
		return err
	}
	b := record.Decode[record.Build]("build/build", func(f string) (record.Value, bool) { v, ok := values[f]; return v, ok })
	f, err := store.Create(ctx, c.Dir, s.clock())
	if err != nil {
		return fmt.Errorf("new: %w", err)
	}
	defer func() { _ = f.Close() }()
	entries, err := template.Lay(b, func(g record.Grounds) journal.Entry { return f.Draft(c.By, journal.Always, g) })
	if err != nil {
		return fmt.Errorf("new: %w", err)
	}
	if _, err := f.Accept(ctx, entries...); err != nil {
		return fmt.Errorf("new: %w", err)
	}
	return c.done(s, b, entries)
}

// vacant refuses a folder that holds a build, or anything else.
func (c *newCmd) vacant(ctx context.Context, s streams) error {
	f, err := store.Open(ctx, c.Dir, s.clock())
	if errors.Is(err, os.ErrNotExist) {
		_, err = nothingIn(c.Dir)
		if err == nil {
			return nil
		}
	}
	if err != nil {
		return fmt.Errorf("new: %w", err)
	}
	return errors.Join(
		fmt.Errorf("new: %s holds a build already, and nothing was changed in it. To go on with it: dogshore open %s. To start another: name another folder", c.Dir, c.Dir),
		f.Close())
}

// answers takes each answer from its flag or asks for it.
func (c *newCmd) answers(s streams) (map[string]record.Value, error) {
	lines := bufio.NewReader(s.in)
	today := calendar.Of(s.clock()())
	k := record.KindOf("build")
	values := map[string]record.Value{}
	for _, a := range asks {
		f := k.Field(a.field)
		if a.field == "name" {
			a.initial = folderName(c.Dir)
		}
		v, err := record.Value(""), error(nil)
		if text := a.flag(c); text != "" {
			v, err = a.read(f, text, today)
		} else {
			v, err = a.question(f, lines, s.err, today)
		}
		if err != nil {
			return nil, fmt.Errorf("new: %w", err)
		}
		if v != record.Clear {
			values[a.field] = v
		}
	}
	return values, nil
}

// folderName is what she is called if nobody says.
func folderName(dir string) string {
	if whole, err := filepath.Abs(dir); err == nil {
		dir = whole
	}
	return filepath.Base(dir)
}

// question asks until the answer can be read. The end of the input takes
// what stands in brackets.
func (a ask) question(f *record.Field, lines *bufio.Reader, out io.Writer, today calendar.Day) (record.Value, error) {
	for {
		fmt.Fprintf(out, "%d of 6  %s", a.number, a.says)
		for i, w := range f.Of {
			fmt.Fprintf(out, "\n          %d %s", i+1, w)
		}
		initial := a.initial
		if initial == "" {
			initial = "not said"
		}
		fmt.Fprintf(out, " [%s] ", initial)
		text, err := lines.ReadString('\n')
		if err != nil && !errors.Is(err, io.EOF) {
			return "", err
		}
		ended := errors.Is(err, io.EOF)
		if ended {
			fmt.Fprintln(out)
		}
		text = strings.TrimSpace(text)
		if text == "" {
			text = a.initial
		}
		v, err := a.read(f, text, today)
		if err == nil || ended {
			return v, err
		}
		fmt.Fprintf(out, "        %v\n", err)
	}
}

// read reads an answer: a value, or the number or beginning of a choice.
func (a ask) read(f *record.Field, text string, today calendar.Day) (record.Value, error) {
	if n, err := strconv.Atoi(text); err == nil && n >= 1 && n <= len(f.Of) {
		text = f.Of[n-1]
	}
	var like []string
	for _, w := range f.Of {
		if text != "" && strings.HasPrefix(record.Loose(w), record.Loose(text)) {
			like = append(like, w)
		}
	}
	if len(like) == 1 {
		text = like[0]
	}
	return f.Parse(text, today)
}

// done says what was made and what to do next.
func (c *newCmd) done(s streams, b record.Build, entries []journal.Entry) error {
	count := map[string]int{}
	for _, e := range entries {
		count[e.Facts[0].Kind]++
	}
	_, err := fmt.Fprintf(s.out, `%s: a folder of her own in %s.
Laid from the template: %d parts, %d steps in the usual order (no source), %d things that they cover up.

Next, about 20 minutes:
  dogshore sheet start %[2]s   prints one page to take to the yard: stages, open points, dates said
  dogshore open %[2]s          the same as pages: tap what you know
  dogshore review %[2]s        what to look at, ask and settle at the next visit
`, b.Name, c.Dir, count["part"], count["step"], count["cover"])
	return err
}
