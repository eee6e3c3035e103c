package programme

import "math"

// when is what is held of a moment: a share for each of equal cells of a span
// of working time, within which all moments are alike. The zero when holds
// nothing.
type when struct {
	span
	share []float64
}

// A span is cut into cells of half a day, but for short and very long ones.
// The error that cells bring falls with the square of their width.
const (
	cellDays     = 0.5
	fewest, most = 2, 60
)

// even returns a moment somewhere in s, each alike.
func even(s span) when {
	n := min(max(int(math.Ceil(s.width()/cellDays)), fewest), most)
	if s.width() <= instantDays {
		n = 1
	}
	w := when{s.wide(), make([]float64, n)}
	for i := range w.share {
		w.share[i] = 1 / float64(n)
	}
	return w
}

func (w when) known() bool { return len(w.share) > 0 }

// edge returns where cell i begins; edge(len(share)) is the end.
func (w when) edge(i int) float64 {
	return w.lo + w.width()*float64(i)/float64(len(w.share))
}

// by returns the chance that the moment has come by x.
func (w when) by(x float64) float64 {
	at := (x - w.lo) / w.width() * float64(len(w.share))
	sum := 0.0
	for i, v := range w.share {
		sum += v * min(1, max(0, at-float64(i)))
	}
	return min(sum, 1)
}

// reach returns the chance that something of law l which begins at w ends
// within to.
func (w when) reach(l lasting, to span) float64 {
	u, infinite := side(l, to.lo-w.hi, to.hi), math.IsInf(to.hi, 1)
	at := func(x float64) float64 {
		if infinite {
			return -u(to.lo - x)
		}
		return u(to.hi-x) - u(to.lo-x)
	}
	sum, before := 0.0, at(w.lo)
	for i, v := range w.share {
		after := at(w.edge(i + 1))
		sum += v * (before - after)
		before = after
	}
	return max(0, sum/w.width()*float64(len(w.share)))
}

// then returns the moment within to at which something of law l ends that
// begins at w, and the chance that it ends within to at all. Where the law says
// that it can't, every moment is alike. On cells of one width the chance
// depends on their distance alone.
func (w when) then(l lasting, to span) (when, float64) {
	out := even(to)
	n, m := len(w.share), len(out.share)
	if h := w.width() / float64(n); math.Abs(h-out.width()/float64(m)) < instantDays {
		u := make([]float64, n+m+1)
		for k := range u {
			u[k] = l.under(out.lo - w.lo + h*float64(k-n))
		}
		for j := range out.share {
			out.share[j] = 0
			for i, v := range w.share {
				k := j - i + n
				out.share[j] += v * (u[k+1] - 2*u[k] + u[k-1]) / h
			}
		}
		return out.normal()
	}
	// E[(x-X)+] from each edge of w to each edge of out, once: cell j is the
	// second difference of its two rows.
	row := func(end float64, u []float64) {
		for i := range u {
			u[i] = l.under(end - w.edge(i))
		}
	}
	low, high := make([]float64, n+1), make([]float64, n+1)
	row(out.edge(0), low)
	for j := range out.share {
		row(out.edge(j+1), high)
		sum := 0.0
		for i, v := range w.share {
			sum += v * (high[i] - low[i] - high[i+1] + low[i+1])
		}
		out.share[j] = max(0, sum/w.width()*float64(n))
		low, high = high, low
	}
	return out.normal()
}

// coarse returns w on no more than about ten cells, which is enough to begin
// at.
func (w when) coarse() when {
	by := (len(w.share) + 9) / 10
	if by == 1 || len(w.share)%by != 0 {
		return w
	}
	out := when{w.span, make([]float64, len(w.share)/by)}
	for i, v := range w.share {
		out.share[i/by] += v
	}
	return out
}

// after returns the moment within to, each alike but that it comes no earlier
// than w.
func (w when) after(to span) when {
	out := even(to)
	for j := range out.share {
		out.share[j] = w.by((out.edge(j) + out.edge(j+1)) / 2)
	}
	out, _ = out.normal()
	return out
}

// unlikely is a chance that speaks against the law rather than of the moment.
const unlikely = 1e-9

// normal makes the shares of w add up to 1, and returns what they added up to.
func (w when) normal() (when, float64) {
	sum := 0.0
	for _, v := range w.share {
		sum += v
	}
	if !(sum > unlikely) {
		return even(w.span), max(0, sum)
	}
	for i := range w.share {
		w.share[i] /= sum
	}
	return w, sum
}
