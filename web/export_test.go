package web

// Computed counts the reviews that a site has computed.
func (s *Site) Computed() int64 { return s.memory.computed.Load() }
