package programme

import "math"

// scale is a span of working time ruled into n cells of one width.
type scale struct {
	span
	n int
}

// A span is ruled into cells of a day, but for short and very long ones. The
// error that cells bring falls with the square of their width; with a day it is
// still well within what the sampling reference allows (pace_slow_test.go).
const (
	cellDays     = 1.0
	fewest, most = 3, 40
)

func ruled(s span) scale {
	n := min(max(int(math.Ceil(s.width()/cellDays)), fewest), most)
	if s.width() <= instantDays {
		n = 1
	}
	return scale{s.wide(), n}
}

// edge returns where cell i begins; edge(n) is the end.
func (s scale) edge(i int) float64 { return s.lo + s.width()*float64(i)/float64(s.n) }

func (s scale) cell() float64 { return s.width() / float64(s.n) }

// at returns where x lies, counted in cells from the beginning.
func (s scale) at(x float64) float64 { return (x - s.lo) / s.width() * float64(s.n) }

// when is what is held of a moment: a share for each cell of a scale, within
// which all moments are alike. The zero when holds nothing.
type when struct {
	scale
	share []float64
	sum   []float64 // of the shares before each edge; as long as share, and one
}

// on makes a when of a scale in room for its shares and their sums.
func (s scale) on(room []float64) when {
	return when{s, room[:s.n:s.n], room[s.n : 2*s.n+1 : 2*s.n+1]}
}

// room is how many numbers a when of the scale takes.
func (s scale) room() int { return 2*s.n + 1 }

// even returns a moment somewhere in s, each alike.
func even(s span) when {
	r := ruled(s)
	w := r.on(make([]float64, r.room()))
	w.even()
	return w
}

func (w *when) even() {
	for i := range w.share {
		w.share[i] = 1 / float64(w.n)
	}
	w.add()
}

// add sums the shares up.
func (w *when) add() {
	sum := 0.0
	w.sum[0] = 0
	for i, v := range w.share {
		sum += v
		w.sum[i+1] = sum
	}
}

func (w *when) known() bool { return len(w.share) > 0 }

// by returns the chance that the moment has come by place at, counted in cells.
func (w *when) by(at float64) float64 {
	if !(at > 0) {
		return 0
	}
	i := int(min(at, float64(w.n)))
	if i == w.n {
		return min(w.sum[i], 1)
	}
	return min(w.sum[i]+w.share[i]*(at-float64(i)), 1)
}

// reach returns the chance that something of law l which begins at w ends
// within to.
func (w *when) reach(l lasting, to span) float64 { return w.reaching(to).chance(l) }

// reaching is what begins at a moment and is to end within a span, made ready to
// be asked of many laws.
type reaching struct {
	from          *when
	to            span
	low, high     apart // from each edge to the ends of the span
	atLow, atHigh []float64
}

func (w *when) reaching(to span) *reaching {
	r := &reaching{from: w, to: to, atLow: make([]float64, w.n+1), atHigh: make([]float64, w.n+1)}
	r.low = w.before(to.lo)
	if !math.IsInf(to.hi, 1) {
		r.high = w.before(to.hi)
	}
	return r
}

// before returns the distances from each edge of s to x.
func (s scale) before(x float64) apart {
	var a apart
	for i := range s.n + 1 {
		a.x = append(a.x, x-s.edge(i))
	}
	a.ln = logs(a.x)
	return a
}

// chance returns the chance for a law.
func (r *reaching) chance(l lasting) float64 {
	of := l.unders
	if far(l, r.to.lo-r.from.hi, r.to.hi) {
		of = l.overs
	}
	of(r.low.x, r.low.ln, r.atLow)
	of(r.high.x, r.high.ln, r.atHigh[:len(r.high.x)])
	sum, before := 0.0, r.atHigh[0]-r.atLow[0]
	for i, v := range r.from.share {
		after := r.atHigh[i+1] - r.atLow[i+1]
		sum += v * (before - after)
		before = after
	}
	return max(0, sum/r.from.cell())
}

// then puts into out the moment at which something of law l ends that begins at
// w, given that it ends on out's scale, and returns the chance that it does.
// Where the law says that it can't, every moment is alike.
func (w *when) then(l lasting, a *apart, out *when, room []float64) float64 {
	u := room[:len(a.x)]
	a.lay(l, u)
	return w.ends(u, a, out)
}

// lay puts into u what a law says at the distances of a: E[(x-X)+], and where
// cells are of one width, where the distance of two cells alone counts, its
// second differences.
func (a *apart) lay(l lasting, u []float64) {
	l.unders(a.x, a.ln, u)
	if a.even {
		for k := range len(u) - 2 {
			u[k] = u[k+2] - 2*u[k+1] + u[k]
		}
	}
}

// ends is then with what a.lay put into u.
func (w *when) ends(u []float64, a *apart, out *when) float64 {
	if a.even {
		w.slide(u, out)
	} else {
		w.spread(u, out)
	}
	return out.normal()
}

// nothing is a share too small to be felt: all cells of a scale together are off
// by less than a rounding.
const nothing = 1e-18

// slide is then on cells of one width.
func (w *when) slide(u []float64, out *when) {
	clear(out.share)
	per := 1 / w.cell()
	for i, v := range w.share {
		if v < nothing {
			continue
		}
		v *= per
		by := u[w.n-1-i:][:len(out.share)]
		for j := range out.share {
			out.share[j] += v * by[j]
		}
	}
}

// spread is then on any cells: E[(x-X)+] from each edge of w to each edge of out
// stands there once, and cell j is the second difference of its two rows.
func (w *when) spread(u []float64, out *when) {
	for j := range out.share {
		low, high := u[j*(w.n+1):][:w.n+1], u[(j+1)*(w.n+1):][:w.n+1]
		sum := 0.0
		for i, v := range w.share {
			sum += v * (high[i] - low[i] - high[i+1] + low[i+1])
		}
		out.share[j] = max(0, sum/w.cell())
	}
}

// coarse returns w on no more than about ten cells, which is enough to begin
// at.
func (w *when) coarse() when {
	by := (w.n + 9) / 10
	if by == 1 || w.n%by != 0 {
		return *w
	}
	r := scale{w.span, w.n / by}
	out := r.on(make([]float64, r.room()))
	for i, v := range w.share {
		out.share[i/by] += v
	}
	return out
}

// after puts into out a moment of its scale, each alike but that it comes no
// earlier than w.
func (w *when) after(out *when) {
	for j := range out.share {
		out.share[j] = w.by(w.at((out.edge(j) + out.edge(j+1)) / 2))
	}
	out.normal()
}

// unlikely is a chance that speaks against the law rather than of the moment.
const unlikely = 1e-9

// normal makes the shares of w add up to 1, and returns what they added up to.
func (w *when) normal() float64 {
	sum := 0.0
	for _, v := range w.share {
		sum += v
	}
	if !(sum > unlikely) {
		w.even()
		return max(0, sum)
	}
	for i := range w.share {
		w.share[i] /= sum
	}
	w.add()
	return sum
}

// apart are the distances from the edges of one scale to those of another, with
// their logarithms, which no pace changes. Where the cells have one width they
// are one row; else a row for each edge of the later scale.
type apart struct {
	even  bool
	x, ln []float64
}

func newApart(from, to scale) apart {
	var a apart
	h := from.cell()
	if a.even = math.Abs(h-to.cell()) < instantDays; a.even {
		for k := range from.n + to.n + 1 {
			a.x = append(a.x, to.lo-from.lo+h*float64(k-from.n))
		}
	} else {
		for j := range to.n + 1 {
			for i := range from.n + 1 {
				a.x = append(a.x, to.edge(j)-from.edge(i))
			}
		}
	}
	a.ln = logs(a.x)
	return a
}

// logs returns the logarithms of what lies above 0.
func logs(x []float64) []float64 {
	out := make([]float64, len(x))
	for i, v := range x {
		if v > 0 {
			out[i] = math.Log(v)
		}
	}
	return out
}
