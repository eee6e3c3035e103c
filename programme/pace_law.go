package programme

import "math"

// lasting says how long something takes, by two partial expectations of its length X,
// from which the chance of every interval follows in closed form.
type lasting interface {
	over(x float64) float64  // E[max(X - x, 0)]
	under(x float64) float64 // E[max(x - X, 0)] = over(x) + x - E[X], without cancelling where it is small
	median() float64
	at(shift float64) lasting // the law of exp(shift) X

	// The same for many x, whose logarithms are given where x > 0.
	overs(x, ln, out []float64)
	unders(x, ln, out []float64)
}

// span is a stretch of working time; hi may be +Inf.
type span struct{ lo, hi float64 }

func (s span) width() float64 { return s.hi - s.lo }

// instantDays is below a second of a working day: a span no wider is a moment.
const instantDays = 1e-5

// reach returns the chance that something of law l which begins somewhere in
// from, each moment alike, ends within to:
//
//	1/(a2-a1) ∫ [G(b2-s) - G(b1-s)] ds  over s from a1 to a2
//	    = [U(b2-a1) - U(b2-a2) - U(b1-a1) + U(b1-a2)] / (a2-a1),  U(x) = E[max(x-X, 0)]
//
// with G its distribution, which is 0 below 0. The same holds with
// E[max(X-x, 0)] for U and the sign turned inwards, since the two differ by a
// straight line; of the two the one is taken that is small where the chance
// is. Accurate to about 1e-14 of the larger of the chance and its own tail.
//
// Source: derived; integration by parts of G. numerics sheet, 1.1 b.
func reach(l lasting, from, to span) float64 {
	from = from.wide()
	u := side(l, to.lo-from.hi, to.hi)
	p := u(to.lo-from.hi) - u(to.lo-from.lo)
	if !math.IsInf(to.hi, 1) {
		p += u(to.hi-from.lo) - u(to.hi-from.hi)
	}
	return max(0, p/from.width())
}

// side returns the one of over and under that is small for a length of least
// and more, within something that ends at end.
func side(l lasting, least, end float64) func(float64) float64 {
	if far(l, least, end) {
		return l.over
	}
	return l.under
}

// far reports whether that is over.
func far(l lasting, least, end float64) bool { return least > l.median() || math.IsInf(end, 1) }

// wide returns s, or what stands for it where it is a moment.
func (s span) wide() span {
	if s.width() > instantDays {
		return s
	}
	return span{s.lo - instantDays/2, s.lo + instantDays/2}
}

// exact is the law of a length without spread.
type exact float64

func (d exact) at(shift float64) lasting { return exact(float64(d) * math.Exp(shift)) }
func (d exact) median() float64          { return float64(d) }
func (d exact) over(x float64) float64   { return max(float64(d)-x, 0) }
func (d exact) under(x float64) float64  { return max(x-float64(d), 0) }

func (d exact) overs(x, _, out []float64)  { oneByOne(d.over, x, out) }
func (d exact) unders(x, _, out []float64) { oneByOne(d.under, x, out) }

func oneByOne(of func(float64) float64, x, out []float64) {
	for i, v := range x {
		out[i] = of(v)
	}
}

// lognormal is the law of a step's length: ln X ~ N(mu, sigma²), sigma > 0.
type lognormal struct{ mu, sigma float64 }

func (l lognormal) at(shift float64) lasting { return lognormal{l.mu + shift, l.sigma} }

func (l lognormal) median() float64 { return math.Exp(l.mu) }

func (l lognormal) mean() float64 { return math.Exp(l.mu + l.sigma*l.sigma/2) }

func (l lognormal) over(x float64) float64 {
	var out [1]float64
	l.overs([]float64{x}, []float64{math.Log(x)}, out[:])
	return out[0]
}

func (l lognormal) under(x float64) float64 {
	var out [1]float64
	l.unders([]float64{x}, []float64{math.Log(x)}, out[:])
	return out[0]
}

func (l lognormal) overs(x, ln, out []float64) {
	mean, per := l.mean(), 1/l.sigma
	ln, out = ln[:len(x)], out[:len(x)]
	for i, v := range x {
		if v <= 0 {
			out[i] = mean - v
			continue
		}
		z := (ln[i] - l.mu) * per
		out[i] = max(0, mean*normal(l.sigma-z)-v*normal(-z))
	}
}

func (l lognormal) unders(x, ln, out []float64) {
	mean, per := l.mean(), 1/l.sigma
	ln, out = ln[:len(x)], out[:len(x)]
	for i, v := range x {
		if v <= 0 {
			out[i] = 0
			continue
		}
		z := (ln[i] - l.mu) * per
		out[i] = max(0, v*normal(z)-mean*normal(z-l.sigma))
	}
}

// normal is the standard normal distribution function. Within ten of the
// middle it is interpolated between exact values by cubics that meet its slope
// (Hermite): off by less than 5e-10 of the chance of the lower tail, since the
// fourth derivative times step⁴/384 bounds it. Beyond, it is exact.
func normal(z float64) float64 {
	switch {
	case z >= normalReach:
		return 1
	case !(z > -normalReach):
		return math.Erfc(-z/math.Sqrt2) / 2
	}
	at := (z + normalReach) * normalSteps
	i := int(at)
	u := at - float64(i)
	a, b := &normals[i], &normals[i+1]
	d := b[0] - a[0]
	return a[0] + u*(a[1]+u*(3*d-2*a[1]-b[1]+u*(a[1]+b[1]-2*d)))
}

const (
	normalReach = 10
	normalSteps = 512 // to one
)

// normals are the function and its slope a step on.
var normals = func() (t [2*normalReach*normalSteps + 1][2]float64) {
	for i := range t {
		z := float64(i)/normalSteps - normalReach
		t[i] = [2]float64{math.Erfc(-z/math.Sqrt2) / 2, math.Exp(-z*z/2) / math.Sqrt(2*math.Pi) / normalSteps}
	}
	return t
}()

// pausing is the law of a wait, by its mean > 0.
type pausing float64

func (w pausing) at(shift float64) lasting { return pausing(float64(w) * math.Exp(shift)) }

func (w pausing) median() float64 { return float64(w) * math.Ln2 }

func (w pausing) over(x float64) float64 {
	if x <= 0 {
		return float64(w) - x
	}
	return float64(w) * math.Exp(-x/float64(w))
}

func (w pausing) under(x float64) float64 {
	return float64(w) * ramp(x/float64(w))
}

// ramp is t + e^-t - 1 for t > 0, else 0: by its series near 0, where the two
// would cancel, and without the power of e where that is less than a rounding.
func ramp(t float64) float64 {
	switch {
	case t <= 0:
		return 0
	case t < 0.125:
		return t * t * (1./2 - t*(1./6-t*(1./24-t*(1./120-t*(1./720-t*(1./5040-t/40320))))))
	case t > 40:
		return t - 1
	}
	return t + math.Exp(-t) - 1
}

func (w pausing) overs(x, _, out []float64)  { oneByOne(w.over, x, out) }
func (w pausing) unders(x, _, out []float64) { oneByOne(w.under, x, out) }
