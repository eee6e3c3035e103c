// Package source says where a formula, a figure or a usual value comes from.
package source

// How well a source is known.
type How string

const (
	Published How = "published"                  // read in the named source
	Common    How = "common practice, no source" // a fact of the trade
	Memory    How = "from memory"                // recalled from the named source, not read again
	Derived   How = "derived"                    // follows by algebra or by definition
	Entered   How = "entered"                    // somebody typed, saw or measured it
)

// Source is where something comes from. Text names author, title, year and
// place in it; it is empty for common practice.
type Source struct {
	How  How    `json:"how"`
	Text string `json:"text,omitempty"`
}

// String prints a source as it stands beside a figure.
func (s Source) String() string {
	if s.Text == "" {
		return string(s.How)
	}
	return string(s.How) + ": " + s.Text
}
