package jackstay

import "math"

// groups joins legs between which line slips: they have one tension, times the
// ratios at the slips, and share one unstretched length.
func (s *chain) groups() (rest []float64) {
	w := 1.0
	for i := range s.legs {
		if r := s.slip[i]; i == 0 || math.IsNaN(r) {
			rest = append(rest, 0)
			w = 1
		} else {
			w *= math.Exp(r)
		}
		s.legs[i].weight, s.legs[i].group = w, len(rest)-1
		rest[len(rest)-1] += s.rest[i]
	}
	return rest
}

// stretch finds each group's tension, so that its legs hold its line:
// sum of r / (1 + strain(w t)) = rest, which falls with t. give is what one
// more metre of leg j adds to it, give[j] = dt/dr_j.
func (s *chain) stretch(rest []float64) (give []float64) {
	give = make([]float64, len(s.legs))
	for a := 0; a < len(s.legs); {
		b := a
		var r float64
		even := true
		for ; b < len(s.legs) && s.legs[b].group == s.legs[a].group; b++ {
			r += s.legs[b].r
			even = even && s.legs[b].weight == 1
		}
		legs := s.legs[a:b]
		want := rest[legs[0].group]
		t, k := s.law.At(r/want - 1)
		if even {
			for j := range legs {
				legs[j].t, give[a+j] = t, k/want
			}
		} else {
			s.unevenGroup(legs, want, t, give[a:b])
		}
		a = b
	}
	return give
}

func (s *chain) unevenGroup(legs []legState, want, t float64, give []float64) {
	if t == 0 {
		for j := range legs {
			legs[j].t = 0
		}
		return
	}
	var slope float64
	for range 200 {
		g := -want
		slope = 0
		for j := range legs {
			e := s.law.Strain(legs[j].weight * t)
			_, k := s.law.At(e + 1e-300)
			g += legs[j].r / (1 + e)
			slope += legs[j].r / ((1 + e) * (1 + e)) * legs[j].weight / k
		}
		next := t + g/slope
		if next <= 0 {
			next = t / 2
		}
		if math.Abs(next-t) <= 1e-15*t {
			t = next
			break
		}
		t = next
	}
	for j := range legs {
		legs[j].t = legs[j].weight * t
		give[j] = 1 / ((1 + s.law.Strain(legs[j].t)) * slope)
	}
}

// measure takes the legs' lengths, directions and tensions, and the balance.
func (s *chain) measure(rest []float64) (give []float64) {
	for i := range s.legs {
		d := s.nodes[i+1].at.sub(s.nodes[i].at)
		r := math.Sqrt(d.dot(d) + s.soft*s.soft)
		s.legs[i].r, s.legs[i].dir = r, vec{}
		if r > 0 {
			s.legs[i].dir = d.mul(1 / r)
		}
	}
	give = s.stretch(rest)
	s.g = resize(s.g, 3*s.size)
	for i := range s.nodes {
		u := s.nodes[i].unknown
		if u < 0 {
			continue
		}
		f := s.nodes[i].load.mul(-s.share)
		if i > 0 {
			f = f.add(s.legs[i-1].dir.mul(s.legs[i-1].t))
		}
		if i < len(s.legs) {
			f = f.sub(s.legs[i].dir.mul(s.legs[i].t))
		}
		for k := range 3 {
			s.g[3*u+k] += f[k]
		}
	}
	return give
}

func resize(x []float64, n int) []float64 {
	if cap(x) < n {
		return make([]float64, n)
	}
	x = x[:n]
	clear(x)
	return x
}

// curvature fills the Jacobian of the balance, 3 x 3 blocks, row by row.
func (s *chain) curvature(give []float64) {
	n := 3 * s.size
	s.h = resize(s.h, n*n)
	put := func(u, w int, k float64, a, b vec) {
		if u < 0 || w < 0 || k == 0 {
			return
		}
		for i := range 3 {
			for j := range 3 {
				s.h[(3*u+i)*n+3*w+j] += k * a[i] * b[j]
			}
		}
	}
	for i := range s.legs {
		l := &s.legs[i]
		ui, wi := s.nodes[i].unknown, s.nodes[i+1].unknown
		for k := range 3 { // turning of the leg
			var e vec
			e[k] = 1
			across := e.sub(l.dir.mul(l.dir[k])).mul(l.t / max(l.r, 1e-12))
			put(ui, ui, 1, across, e)
			put(wi, wi, 1, across, e)
			put(ui, wi, -1, across, e)
			put(wi, ui, -1, across, e)
		}
		for j := range s.legs { // its group's tension follows every leg of the group
			m := &s.legs[j]
			if m.group != l.group {
				continue
			}
			k := l.weight * give[j]
			uj, wj := s.nodes[j].unknown, s.nodes[j+1].unknown
			put(wi, wj, k, l.dir, m.dir)
			put(wi, uj, -k, l.dir, m.dir)
			put(ui, wj, -k, l.dir, m.dir)
			put(ui, uj, k, l.dir, m.dir)
		}
	}
}

// balance moves the hooks until they balance.
func (s *chain) balance() {
	rest := s.groups()
	give := s.measure(rest)
	if s.size == 0 {
		return
	}
	best := math.Inf(1)
	for range 200 {
		s.steps++
		size, scale := 0.0, 0.0
		for _, v := range s.g {
			size += math.Abs(v)
		}
		for i := range s.legs {
			scale += s.legs[i].t
		}
		for i := range s.nodes {
			scale += s.share * s.nodes[i].load.norm()
		}
		if size <= 1e-13*scale || size >= best && size <= 1e-11*scale {
			return
		}
		best = min(best, size)
		s.curvature(give)
		give = s.walk(s.newton(), rest)
	}
}

// walk goes one step, shortened until it does not overshoot.
func (s *chain) walk(d []float64, rest []float64) (give []float64) {
	slope := 0.0
	for i := range d {
		slope += s.g[i] * d[i]
	}
	before := make([]vec, len(s.nodes))
	for i := range s.nodes {
		before[i] = s.nodes[i].at
	}
	t := 1.0
	for range 40 {
		for i := range s.nodes {
			if u := s.nodes[i].unknown; u >= 0 {
				s.nodes[i].at = before[i].add(vec{d[3*u], d[3*u+1], d[3*u+2]}.mul(t))
			}
		}
		give = s.measure(rest)
		s1 := 0.0
		for i := range d {
			s1 += s.g[i] * d[i]
		}
		if slope >= 0 || s1 <= -0.9*slope {
			break
		}
		t *= max(slope/(slope-s1), 0.1)
	}
	return give
}

// newton solves for the step by elimination with pivots, the diagonal made a
// little stiffer where the line is slack.
func (s *chain) newton() []float64 {
	n := len(s.g)
	a := append([]float64(nil), s.h...)
	x := make([]float64, n)
	var trace float64
	for i := range n {
		trace += a[i*n+i]
		x[i] = -s.g[i]
	}
	for i := range n {
		a[i*n+i] += 1e-12*trace/float64(n) + 1e-9
		if trace < 1 {
			a[i*n+i] += 1e3
		}
	}
	for c := range n {
		p := c
		for r := c + 1; r < n; r++ {
			if math.Abs(a[r*n+c]) > math.Abs(a[p*n+c]) {
				p = r
			}
		}
		if p != c {
			for k := c; k < n; k++ {
				a[c*n+k], a[p*n+k] = a[p*n+k], a[c*n+k]
			}
			x[c], x[p] = x[p], x[c]
		}
		for r := c + 1; r < n; r++ {
			m := a[r*n+c] / a[c*n+c]
			for k := c; k < n; k++ {
				a[r*n+k] -= m * a[c*n+k]
			}
			x[r] -= m * x[c]
		}
	}
	for c := n - 1; c >= 0; c-- {
		for k := c + 1; k < n; k++ {
			x[c] -= a[c*n+k] * x[k]
		}
		x[c] /= a[c*n+c]
	}
	return x
}
