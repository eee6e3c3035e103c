package jackstay

import (
	"cmp"
	"math"
	"slices"

	"dogshore/rope"
)

// Held is a place that a Chain runs through. The first and the last hold the
// line fast, whatever they say.
type Held struct {
	At       Spot
	Fixed    bool    // no line passes
	Friction float64 // otherwise; 0 for none
}

// Chain is a line through supports, of one law, laid with one tension.
type Chain struct {
	Supports []Held
	Law      rope.Law
	Rest     float64 // unstretched length of the whole, m
}

// Pull is one hook on a chain. It is clipped at the part At of the chord of
// span number Span, counted from 0.
type Pull struct {
	Span     int
	At       float64
	Load     Vector
	Jammed   bool
	Friction float64 // between hook and line, if it is not jammed
}

// Hung is how a chain holds its hooks.
type Hung struct {
	Hooks    []HungHook // in the order of the pulls
	Supports []Vector   // what line and hooks do to each support; together the loads
	Tension  float64    // greatest in any leg, N
	Energy   float64    // in the line, J
	Residual float64    // worst balance at a hook, N
	Ratio    float64    // worst of tension ratio over exp(mu alpha) at any place with friction; at most 1
	Steps    int
}

// HungHook is one hook that balances.
type HungHook struct {
	At      Spot
	Tension [2]float64 // before and behind it along the chain
	How     How
	Held    int  // the support that holds it, if it does
	Joined  bool // it has run against another hook and goes with it
}

// Bounds of a chain.
const (
	MostHooks    = 16
	MostSupports = 64
)

// Spread finds how a chain holds its hooks when all loads grow together from
// nothing: statics with friction has no one answer without a history, and this
// is the one taken. With the answer come the two brackets that hold whatever
// the history: no friction anywhere, and stuck in every guide and hook.
func Spread(c Chain, pulls []Pull) (out, free, stuck Hung, err error) {
	if err = c.check(pulls); err != nil {
		return out, free, stuck, err
	}
	free = newChain(&c, pulls, func(float64) float64 { return 0 }).run(1)
	stuck = newChain(&c, pulls, func(float64) float64 { return math.Inf(1) }).run(1)
	rubs := slices.ContainsFunc(c.Supports, func(h Held) bool { return !h.Fixed && h.Friction > 0 }) ||
		slices.ContainsFunc(pulls, func(p Pull) bool { return !p.Jammed && p.Friction > 0 })
	if !rubs {
		return free, free, stuck, nil
	}
	return newChain(&c, pulls, func(mu float64) float64 { return mu }).run(increments), free, stuck, nil
}

// increments is how many steps the loads grow in where there is friction.
const increments = 10

func (c *Chain) check(pulls []Pull) error {
	e := &Invalid{}
	if n := len(c.Supports); n < 2 || n > MostSupports {
		e.add(TooMuch, "", "a line of %d supports: 2 to %d can be worked", n, MostSupports)
		return e
	}
	if len(pulls) == 0 || len(pulls) > MostHooks {
		e.add(TooMuch, "", "%d hooks on a line: 1 to %d can be worked", len(pulls), MostHooks)
	}
	if c.Law.Zero() || !(c.Rest > 0) || math.IsInf(c.Rest, 0) {
		e.add(BadStuff, "", "the line needs a stretch law and an unstretched length above 0, not %g m", c.Rest)
	}
	for i, s := range c.Supports {
		if !s.At.finite() || !(s.Friction >= 0) || math.IsInf(s.Friction, 0) {
			e.add(BadPlace, "", "support %d: its place or its friction %g is no number from 0 up", i+1, s.Friction)
		} else if i > 0 && s.At.vec().dist(c.Supports[i-1].At.vec()) < 4*Stop {
			e.add(TooShort, "", "supports %d and %d are nearer than %g m", i, i+1, 4*Stop)
		}
	}
	for i, p := range pulls {
		if p.Span < 0 || p.Span > len(c.Supports)-2 || !(p.At > 0 && p.At < 1) {
			e.add(BadPlace, "", "hook %d: span %d at %g: there are spans 0 to %d, and a hook is inside 0 and 1", i+1, p.Span, p.At, len(c.Supports)-2)
		}
		if !finite(p.Load.X, p.Load.Y, p.Load.Z) || !(p.Load.Norm() > 0) || !(p.Friction >= 0) {
			e.add(BadValue, "", "hook %d: a load of %g N with friction %g: both must be numbers, the load above 0", i+1, p.Load.Norm(), p.Friction)
		}
	}
	return e.orNil()
}

// node is a support or a hook, in their order along the line.
type node struct {
	at      vec
	load    vec
	mu      float64 // infinite: the line is held fast here
	hook    int     // of the pulls; -1 for a support
	support int
	unknown int // number of its unknown place; -1 if it is where it is
	held    int // the node that holds it; -1 if none
	joined  bool
}

// chain is a chain being solved.
type chain struct {
	law   *rope.Law
	nodes []node
	rest  []float64 // unstretched length of each leg, as of the last increment
	slip  []float64 // log of the tension ratio behind over before, at each node that slips; NaN where it sticks
	share float64   // of the loads
	loose float64   // how well the ratios at slips are met
	soft  float64   // rounding of a leg's length near 0, m
	pulls []Pull

	legs  []legState
	steps int
	size  int // unknown places
	g     []float64
	h     []float64
}

type legState struct {
	r, t   float64
	dir    vec
	weight float64 // tension over the group's
	group  int
}

func newChain(c *Chain, pulls []Pull, mu func(float64) float64) *chain {
	s := &chain{law: &c.Law, pulls: pulls}
	order := make([]int, len(pulls))
	for i := range order {
		order[i] = i
	}
	slices.SortStableFunc(order, func(a, b int) int {
		if d := pulls[a].Span - pulls[b].Span; d != 0 {
			return d
		}
		return cmp.Compare(pulls[a].At, pulls[b].At)
	})
	for i, h := range c.Supports {
		n := node{at: h.At.vec(), hook: -1, support: i, unknown: -1, held: -1, mu: mu(h.Friction)}
		if h.Fixed || i == 0 || i == len(c.Supports)-1 {
			n.mu = math.Inf(1)
		}
		s.nodes = append(s.nodes, n)
		for _, k := range order {
			if p := &pulls[k]; p.Span == i {
				n := node{at: h.At.vec().mix(c.Supports[i+1].At.vec(), p.At), load: p.Load.vec(), hook: k, held: -1, mu: mu(p.Friction)}
				if p.Jammed {
					n.mu = math.Inf(1)
				}
				s.nodes = append(s.nodes, n)
			}
		}
	}
	s.layOut(c.Rest)
	return s
}

// layOut shares the unstretched length out evenly, and moves hooks off the
// chord to where Newton can begin.
func (s *chain) layOut(rest float64) {
	var length float64
	for i := 1; i < len(s.nodes); i++ {
		length += max(s.nodes[i].at.dist(s.nodes[i-1].at), 1e-6)
	}
	s.legs = make([]legState, len(s.nodes)-1)
	for i := range s.legs {
		s.rest = append(s.rest, rest/length*max(s.nodes[i+1].at.dist(s.nodes[i].at), 1e-6))
	}
	s.slip = make([]float64, len(s.nodes))
	for i := range s.nodes {
		s.slip[i] = math.NaN()
		if n := &s.nodes[i]; n.hook >= 0 {
			n.unknown = s.size
			s.size++
			n.at = n.at.add(n.load.unit().mul(0.3))
		}
	}
}

func (s *chain) hungHook(n *node, t [2]float64) HungHook {
	h := HungHook{At: n.at.spot(), Tension: t, How: Sliding, Held: -1, Joined: n.joined}
	if s.pulls[n.hook].Jammed {
		h.How = Jammed
	}
	if n.held >= 0 && n.unknown < 0 {
		h.How, h.Held = HeldBySupport, s.nodes[n.held].support
	}
	return h
}

// feels returns what node i feels of its load and its legs, and their tensions.
func (s *chain) feels(i int) (f vec, t [2]float64) {
	f = s.nodes[i].load.mul(s.share)
	if i > 0 {
		l := s.legs[i-1]
		f, t[0] = f.add(l.dir.mul(-l.t)), l.t
	}
	if i < len(s.legs) {
		l := s.legs[i]
		f, t[1] = f.add(l.dir.mul(l.t)), l.t
	}
	return f, t
}

// hung writes the answer down.
func (s *chain) hung() Hung {
	out := Hung{Hooks: make([]HungHook, len(s.pulls)), Steps: s.steps}
	for _, n := range s.nodes {
		if n.hook < 0 {
			out.Supports = append(out.Supports, Vector{})
		}
	}
	on := make([]vec, len(out.Supports))
	off := make([]vec, s.size)
	for i := range s.nodes {
		n := &s.nodes[i]
		f, t := s.feels(i)
		if n.unknown >= 0 {
			off[n.unknown] = off[n.unknown].add(f)
		} else {
			k := n.support
			if n.held >= 0 {
				k = s.nodes[n.held].support
			}
			on[k] = on[k].add(f)
		}
		if n.hook >= 0 {
			out.Hooks[n.hook] = s.hungHook(n, t)
		}
	}
	for i, f := range on {
		out.Supports[i] = f.force()
	}
	for _, f := range off {
		out.Residual = max(out.Residual, f.norm())
	}
	for i, l := range s.legs {
		out.Tension = max(out.Tension, l.t)
		out.Energy += s.rest[i] * s.law.Energy(s.law.Strain(l.t))
	}
	out.Ratio = s.worstRatio()
	return out
}
