package web

// Computed counts the reviews that a site has computed.
func (s *Site) Computed() int64 { return s.memory.computed.Load() }

// SmallMade says how far the small pictures of a site are.
func (s *Site) SmallMade() (done, all int) {
	p := s.small(s.folder.Load()).Progress()
	return p.Done, p.All
}
