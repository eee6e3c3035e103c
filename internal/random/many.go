package random

import "math"

// Lower puts the lower halves of At for the trials n, n+1, ... into out.
func (k Key) Lower(n uint64, out []uint32) {
	x := uint64(k) + n*golden
	for i := range out {
		out[i] = uint32(scramble(x))
		x += golden
	}
}

// One is 1 in the whole numbers of Normals, and OneBits its bits.
const (
	OneBits = 24
	One     = 1 << OneBits
)

// Normals puts standard normal draws for the trials n, n+1, ... into out, as
// whole numbers of 1/One: the quantiles of the upper halves of At, from 512 cells
// of equal chance by a straight line (0.002 at the most off). The four outermost
// at either side are cut into 128 each, of which the four outermost are computed:
// three draws in 25,000.
func (k Key) Normals(n uint64, out []int64) {
	x := uint64(k) + n*golden
	for i := range out {
		u := uint32(scramble(x) >> 32)
		x += golden
		if at := u >> cellBits; at-tailCells < cells-2*tailCells { // at wraps round below
			c := &middle[at]
			out[i] = c.at + c.to*int64(u&(1<<cellBits-1))>>cellBits
		} else {
			out[i] = tail(u)
		}
	}
}

// NormalsAndLower does both at once, from the two halves of the same values.
func (k Key) NormalsAndLower(n uint64, out []int64, lower []uint32) {
	x := uint64(k) + n*golden
	lower = lower[:len(out)]
	for i := range out {
		h := scramble(x)
		x += golden
		lower[i] = uint32(h)
		u := uint32(h >> 32)
		if at := u >> cellBits; at-tailCells < cells-2*tailCells {
			c := &middle[at]
			out[i] = c.at + c.to*int64(u&(1<<cellBits-1))>>cellBits
		} else {
			out[i] = tail(u)
		}
	}
}

// tail is the quantile of u in the outermost cells.
func tail(u uint32) int64 {
	if v := ^u; v < u {
		return -tail(v)
	}
	at := u >> fineBits
	if at < tailCells {
		return int64(math.Round(One * Quantile(Unit32(u))))
	}
	c := &fine[at]
	return c.at + c.to*int64(u&(1<<fineBits-1))>>fineBits
}

const (
	cells     = 1 << (32 - cellBits)
	cellBits  = 23 // of 32, that lie within a cell
	fineBits  = 16 // within one of the tail's
	tailCells = 4
)

// cell is a quantile where a cell begins, and what it grows by to its end.
type cell struct{ at, to int64 }

var middle, fine = cut(cellBits), cut(fineBits)

// cut cuts the quantiles from 0 on into cells of bits bits. The first ends where
// it should begin, at infinity; it is not read.
func cut(bits int) (out [cells]cell) {
	at := func(i int) int64 {
		p := float64(max(i, 1)) / float64(int64(1)<<(32-bits))
		return int64(math.Round(One * Quantile(min(p, 1-1.0/cells))))
	}
	for i := range out {
		out[i] = cell{at(i), at(i+1) - at(i)}
	}
	return out
}
