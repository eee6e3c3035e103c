package web

import "maps"

// Computed counts the reviews that a site has computed.
func (s *Site) Computed() int64 { return s.memory.computed.Load() }

// SmallMade says how far the small pictures of a site are.
func (s *Site) SmallMade() (done, all int) {
	p := s.small(s.folder.Load()).Progress()
	return p.Done, p.All
}

// Patterns lists the addresses of a site.
func (s *Site) Patterns() []string { return s.patterns }

// Lines lists the addresses that have a line in the table of rights.
func Lines() map[string]bool {
	out := map[string]bool{}
	for pattern := range maps.Keys(rights) {
		out[pattern] = true
	}
	return out
}

// The bounds for connections from outside.
const (
	MostConnections = mostConnections
	MostFromOne     = mostFromOne
)
