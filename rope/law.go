package rope

import (
	"errors"
	"fmt"
	"math"
	"sort"
)

// Law says how much tension goes with how much strain: nothing below zero
// strain, then straight from point to point, the last slope going on for ever.
// The zero Law holds nothing; make one with Linear or Table.
type Law struct {
	knots []knot
}

// knot is where a straight piece of the law begins.
type knot struct {
	strain, tension, slope float64
	energy                 float64 // per unstretched length up to here, J/m
}

// Point is one point of a stretch test.
type Point struct {
	Strain, Tension float64
}

// ErrLaw is the error of what can't be a stretch law.
var ErrLaw = errors.New("not a stretch law")

// Linear returns the law T = EA * strain. EA must be a number above 0.
func Linear(ea float64) (Law, error) {
	if !(ea > 0) || math.IsInf(ea, 0) {
		return Law{}, fmt.Errorf("stiffness EA %g N: %w: it must be above 0", ea, ErrLaw)
	}
	return Law{knots: []knot{{slope: ea}}}, nil
}

// Table returns the law through the points of a stretch test; a first point
// (0, 0) is added if there is none. Strain must rise from point to point, and
// tension with it: with falling tension the place of a hook is not one.
func Table(points []Point) (Law, error) {
	ps := append([]Point{{}}, points...)
	if len(points) > 0 && points[0] == (Point{}) {
		ps = ps[1:]
	}
	if len(ps) < 2 {
		return Law{}, fmt.Errorf("%w: a table needs a point beyond the first", ErrLaw)
	}
	var l Law
	var energy float64
	for i := range len(ps) - 1 {
		a, b := ps[i], ps[i+1]
		d, up := b.Strain-a.Strain, b.Tension-a.Tension
		if !(d > 0) || !(up > 0) || math.IsInf(d, 0) || math.IsInf(up, 0) {
			return Law{}, fmt.Errorf("points %d and %d: %w: strain %g to %g and tension %g to %g N must both rise", i+1, i+2, ErrLaw, a.Strain, b.Strain, a.Tension, b.Tension)
		}
		l.knots = append(l.knots, knot{a.Strain, a.Tension, up / d, energy})
		energy += (a.Tension + b.Tension) / 2 * d
	}
	return l, nil
}

// Zero says whether l is no law.
func (l *Law) Zero() bool { return len(l.knots) == 0 }

func (l *Law) piece(strain float64) *knot {
	if len(l.knots) == 1 || strain < l.knots[1].strain {
		return &l.knots[0]
	}
	i := sort.Search(len(l.knots), func(i int) bool { return l.knots[i].strain > strain })
	return &l.knots[i-1]
}

// At returns tension and its slope dT/dstrain at a strain; both are 0 below
// zero strain.
func (l *Law) At(strain float64) (tension, slope float64) {
	if strain <= 0 {
		return 0, 0
	}
	k := l.piece(strain)
	return k.tension + k.slope*(strain-k.strain), k.slope
}

// Energy returns what a metre of unstretched line has taken up at a strain, J/m.
func (l *Law) Energy(strain float64) float64 {
	if strain <= 0 {
		return 0
	}
	k := l.piece(strain)
	d := strain - k.strain
	return k.energy + d*(k.tension+k.slope*d/2)
}

// Strain returns the strain at a tension, 0 if there is none.
func (l *Law) Strain(tension float64) float64 {
	if tension <= 0 {
		return 0
	}
	k := &l.knots[0]
	for i := 1; i < len(l.knots) && l.knots[i].tension < tension; i++ {
		k = &l.knots[i]
	}
	return k.strain + (tension-k.tension)/k.slope
}

// Linear returns the stiffness of a law that is one straight line.
func (l *Law) Linear() (ea float64, ok bool) {
	if len(l.knots) == 1 {
		return l.knots[0].slope, true
	}
	return 0, false
}

// Slope returns the law's first slope: its stiffness where it begins.
func (l *Law) Slope() float64 { return l.knots[0].slope }

// Scaled returns the law with tension times k at each strain.
func (l *Law) Scaled(k float64) Law {
	out := Law{knots: make([]knot, len(l.knots))}
	for i, n := range l.knots {
		out.knots[i] = knot{n.strain, k * n.tension, k * n.slope, k * n.energy}
	}
	return out
}

// Softened returns the law with c more strain for each newton: a spring in
// line, of compliance c times the unstretched length.
func (l *Law) Softened(c float64) Law {
	out := Law{knots: make([]knot, len(l.knots))}
	var energy float64
	for i, n := range l.knots {
		k := knot{strain: n.strain + c*n.tension, tension: n.tension, slope: 1 / (1/n.slope + c)}
		if i > 0 {
			last := out.knots[i-1]
			energy += (last.tension + k.tension) / 2 * (k.strain - last.strain)
		}
		k.energy = energy
		out.knots[i] = k
	}
	return out
}

// Capstan returns the tension that is left behind a bend of alpha rad with
// friction mu, of a line that is pulled at with tension t: t*exp(-mu*alpha).
func Capstan(t, mu, alpha float64) float64 { return t * math.Exp(-mu*alpha) }
