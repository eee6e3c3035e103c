package jackstay

import "math"

// rounding of leg lengths while it is looked for which hooks touch what, m.
const rounding = Stop / 8

// run solves the chain with its loads grown in so many increments.
func (s *chain) run(parts int) Hung {
	for k := 1; k <= parts; k++ {
		s.share = float64(k) / float64(parts)
		s.loose = 1e-6
		if k == parts {
			s.loose = 1e-13
		}
		s.settle()
		for s.touch() {
			s.settle()
		}
		s.keep()
	}
	return s.hung()
}

// settle finds which places slip, and the balance.
func (s *chain) settle() {
	for i := range s.slip {
		s.slip[i] = math.NaN()
		if s.nodes[i].mu == 0 {
			s.slip[i] = 0
		}
	}
	s.soft = rounding
	s.balance()
	if s.near() < 0 { // nothing touches: the rounding can go
		s.soft = 0
		s.balance()
	}
	for range 60 {
		if !s.slipping() {
			return
		}
		s.balance()
	}
}

// slipping updates which places slip, and the ratios at those that do; false
// if nothing has changed to speak of.
func (s *chain) slipping() bool {
	changed := false
	for i := 1; i < len(s.nodes)-1; i++ {
		n := &s.nodes[i]
		if n.mu == 0 || math.IsInf(n.mu, 1) {
			continue
		}
		limit := n.mu * s.wrap(i)
		before, behind := s.legs[i-1].t, s.legs[i].t
		if old := s.slip[i]; !math.IsNaN(old) {
			// line must have moved to the side of more tension
			moved := s.grown(i)
			if moved*old < 0 {
				s.slip[i] = math.NaN()
				changed = true
				continue
			}
			if next := math.Copysign(limit, old); math.Abs(next-old) > s.loose {
				s.slip[i] = next
				changed = true
			}
			continue
		}
		switch {
		case behind > before*math.Exp(limit)*(1+1e-12):
			s.slip[i], changed = limit, true
		case before > behind*math.Exp(limit)*(1+1e-12):
			s.slip[i], changed = -limit, true
		}
	}
	return changed
}

// grown returns how much line has passed node i since the last increment, from
// before it to behind it.
func (s *chain) grown(i int) float64 {
	var passed float64
	for j := i; j < len(s.legs); j++ {
		passed += s.legs[j].r/(1+s.law.Strain(s.legs[j].t)) - s.rest[j]
		if j+1 < len(s.nodes) && math.IsNaN(s.slip[j+1]) {
			break
		}
	}
	return passed
}

// wrap is the angle that the line turns by at node i, rad.
func (s *chain) wrap(i int) float64 {
	a, b := s.legs[i-1].dir, s.legs[i].dir
	if a == (vec{}) || b == (vec{}) {
		return 0
	}
	return a.angle(b)
}

// near returns the node of the shortest leg that a running hook has to what it
// could lie against, or -1 if none is within the stop.
func (s *chain) near() int {
	found, least := -1, Stop
	for i := range s.legs {
		a, b := &s.nodes[i], &s.nodes[i+1]
		if !s.touches(a, b) && !s.touches(b, a) {
			continue
		}
		if d := a.at.dist(b.at); d < least {
			found, least = i, d
		}
	}
	return found
}

// touches says whether hook a could run against b.
func (s *chain) touches(a, b *node) bool {
	return a.hook >= 0 && a.unknown >= 0 && !math.IsInf(a.mu, 1) && a.unknown != b.unknown
}

// touch lays the nearest hook against what it runs into: onto a support, or
// together with the other hook. False if none is near.
func (s *chain) touch() bool {
	i := s.near()
	if i < 0 {
		return false
	}
	a, b := i, i+1
	if !s.touches(&s.nodes[a], &s.nodes[b]) {
		a, b = b, a
	}
	to := s.nodes[b]
	gone := s.nodes[a].unknown
	for k := range s.nodes {
		n := &s.nodes[k]
		if n.unknown == gone && n.hook >= 0 {
			n.at, n.unknown = to.at, to.unknown
			switch {
			case to.hook >= 0:
				n.joined, n.held = true, to.held
			default:
				n.held = b
			}
		}
	}
	if to.hook >= 0 {
		s.nodes[b].joined = true
	}
	for k := range s.nodes {
		if s.nodes[k].unknown > gone {
			s.nodes[k].unknown--
		}
	}
	s.size--
	return true
}

// keep takes the line that slipped as laid.
func (s *chain) keep() {
	for i := range s.legs {
		if l := &s.legs[i]; l.t > 0 {
			s.rest[i] = l.r / (1 + s.law.Strain(l.t))
		}
	}
}

// worstRatio is the greatest tension ratio at a place with friction, over what
// friction can hold.
func (s *chain) worstRatio() float64 {
	worst := 0.0
	for i := 1; i < len(s.nodes)-1; i++ {
		n := &s.nodes[i]
		if n.mu == 0 || math.IsInf(n.mu, 1) {
			continue
		}
		a, b := s.legs[i-1].t, s.legs[i].t
		if hi, lo := max(a, b), min(a, b); hi > 0 {
			worst = max(worst, hi/(lo*math.Exp(n.mu*s.wrap(i))))
		}
	}
	return worst
}
