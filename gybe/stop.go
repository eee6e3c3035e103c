package gybe

import "math"

// aback is a sail that presses on a boom held by a line.
type aback struct {
	*drawn
	moment  float64 // of the sail about the mast
	drag    float64 // on the end of the boom, aft; 0 unless it is in the water
	end     float64 // lever of the boom's end about the mast
	inertia float64
	rate    float64 // at which it swings in already where the line is set up
	dead    float64 // where the line's pull points along the boom
}

// turns returns the moment that turns the boom in, at an angle.
func (a *aback) turns(b float64) float64 { return a.moment + a.drag*a.end*math.Sin(b) }

// work returns the work that it does from where the line is set up to b.
func (a *aback) work(b float64) float64 {
	if a.drag == 0 {
		return a.moment * (a.set - b)
	}
	return a.moment*(a.set-b) + a.drag*a.end*(math.Cos(b)-math.Cos(a.set))
}

// left returns the energy of motion that is left at b: what the sail has put
// in and what the boom had, less what the line has taken. before is what it had
// taken at angle from on the way there.
func (a *aback) left(b, from, before float64) float64 {
	return a.work(b) + a.inertia*a.rate*a.rate/2 - before - a.taken(from, b)
}

// settle returns the first angle, coming in, at which the line holds the boom
// with the wind coming slowly: tension x lever = moment. ok is false if there
// is none before the line's pull points along the boom.
func (a *aback) settle() (b float64, ok bool) {
	short := func(b float64) bool {
		p := a.pose(b)
		return a.tension(&p)*p.lever < a.turns(b)
	}
	return a.first(short)
}

// stop returns the angle at which the boom, caught aback at once, comes to
// rest: where no energy of motion is left. ok is false if it is not stopped
// before the line's pull points along the boom. There is no damping, and no
// coming back: what follows is not the worst.
func (a *aback) stop() (b float64, ok bool) {
	p := a.pose(a.set)
	if a.rate == 0 && a.tension(&p)*p.lever >= a.turns(a.set) {
		return a.set, true // hauled in so hard that it does not move
	}
	// The sum goes on from step to step, so that with friction each piece of
	// the way is reckoned once. Without a rate nothing is left at the very
	// beginning either.
	base, before := a.set, 0.0
	for from := a.set; from > a.dead; {
		to := max(from-step, a.dead)
		moves := func(b float64) bool { return b == a.set || a.left(b, base, before) > 0 }
		if !moves(to) {
			return bisect(from, to, moves), true
		}
		from = to
		if a.rubs {
			base, before = to, before+a.taken(base, to)
		}
	}
	return a.dead, false
}

// first returns the first angle, coming in, at which on no longer holds.
func (a *aback) first(on func(float64) bool) (float64, bool) {
	if !on(a.set) {
		return a.set, true
	}
	for from := a.set; from > a.dead; {
		to := max(from-step, a.dead)
		if !on(to) {
			return bisect(from, to, on), true
		}
		from = to
	}
	return a.dead, false
}

// byHand returns the greatest tension by the formula for small angles, to
// compare with: the lever and the stiffness as where the line is set up. It is
// 0 for a line hauled in, or with friction, which the formula does not know.
//
//	psi = (M + sqrt(M^2 + 2 K (M d/r + I w^2/2))) / K,  K = k r^2,  T = k r psi
func (a *aback) byHand() float64 {
	p := a.pose(a.set)
	if p.lever <= leastLever*a.at || a.slack < 0 || a.rubs || a.drag != 0 || a.law.Zero() {
		return 0
	}
	stiff := a.law.Slope() / p.length
	k := stiff * p.lever * p.lever
	psi := (a.moment + math.Sqrt(a.moment*a.moment+2*k*(a.moment*a.slack/p.lever+a.inertia*a.rate*a.rate/2))) / k
	return stiff * p.lever * psi
}
