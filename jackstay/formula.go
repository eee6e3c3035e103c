package jackstay

import (
	"math"

	"dogshore/rope"
)

// TowDrag returns the drag on a person towed through the water, N: cdA m2 of
// drag area at v m/s in sea water of 1025 kg/m3. Nobody is known to have
// measured cdA; 0.30 is usual (0.2 to 0.5).
func TowDrag(cdA, v float64) float64 { return 0.5 * 1025 * cdA * v * v }

// SelfSag returns how far a line of w N/m sags by its own weight between ends l
// apart under a horizontal tension h, m: the catenary.
func SelfSag(w, h, l float64) float64 {
	x := w * l / (4 * h)
	return h / w * 2 * math.Sinh(x) * math.Sinh(x) // cosh 2x - 1, without its cancellation
}

// SagFor returns the sag, m, at which a load across the middle of a span puts
// the given tension on its anchors, and the unstretched length that allows it.
func SagFor(load, tension, span float64, law rope.Law) (sag, rest float64, ok bool) {
	sin := load / (2 * tension)
	if !(sin > 0 && sin < 1) || law.Zero() {
		return 0, 0, false
	}
	cos := math.Sqrt((1 - sin) * (1 + sin))
	return span / 2 * sin / cos, span / cos / (1 + law.Strain(tension)), true
}

// Identify returns pretension and stiffness of a line, N, from two hand loads
// across its middle and the sags they made. It solves the small-angle cubic F =
// 4 T0 s/L + 8 EA s^3/L^3, so it is good for a few per cent.
func Identify(span, load1, sag1, load2, sag2 float64) (tension0, ea float64, ok bool) {
	a1, b1 := 4*sag1/span, 8*math.Pow(sag1/span, 3)
	a2, b2 := 4*sag2/span, 8*math.Pow(sag2/span, 3)
	det := a1*b2 - a2*b1
	tension0, ea = (load1*b2-load2*b1)/det, (a1*load2-a2*load1)/det
	return tension0, ea, finite(tension0, ea) && ea > 0
}

// Bridge returns how far two eyes at deck level can be apart for a change from
// leg a to leg b without unclipping, m: ring at height ring, hand reaching so
// far beyond it. 0 if the ring can't be so low on either leg.
func Bridge(legA, legB, ring, hand float64) float64 {
	if legA < ring || legB < ring {
		return 0
	}
	return math.Sqrt(legA*legA-ring*ring) + min(hand, math.Sqrt(legB*legB-ring*ring))
}

// StandingReach returns how far from a line at deck level a person can stand
// upright, m; ok is false if nobody with a ring so high can.
func StandingReach(leg, ring float64) (reach float64, ok bool) {
	if leg < ring {
		return 0, false
	}
	return math.Sqrt(leg*leg - ring*ring), true
}
