package gybe

import (
	"math"

	"dogshore/plane"
)

// How finely a way is looked at: pieces of 5 cm, and no more than so many.
const (
	piece      = 0.05
	mostPieces = 400
)

// inside says whether a station lies in a zone, and how far.
func (c *SweepCase) inside(z *Zone, s *Station) (Inside, bool) {
	in := Inside{Zone: z.Name, Sort: z.Sort, Station: s.Name}
	found := false
	note := func(at Spot, long float64) {
		room, struck := c.struck(z, at, s.Height)
		if !struck {
			return
		}
		if !found {
			in.At, in.Room = at, room
		}
		in.Room = min(in.Room, room)
		in.Length += long
		found = true
	}
	if len(s.Run) == 1 {
		note(s.Run[0], 0)
		return in, found
	}
	total := 0.0
	for i := 1; i < len(s.Run); i++ {
		total += apart(s.Run[i-1], s.Run[i])
	}
	most := max(piece, total/mostPieces)
	for i := 1; i < len(s.Run); i++ {
		a, b := s.Run[i-1], s.Run[i]
		long := apart(a, b)
		n := max(1, int(math.Ceil(long/most)))
		for k := range n {
			t := (float64(k) + 0.5) / float64(n)
			note(Spot{X: a.X + t*(b.X-a.X), Y: a.Y + t*(b.Y-a.Y), Z: a.Z + t*(b.Z-a.Z)}, long/float64(n))
		}
	}
	return in, found
}

func apart(a, b Spot) float64 {
	return math.Sqrt((a.X-b.X)*(a.X-b.X) + (a.Y-b.Y)*(a.Y-b.Y) + (a.Z-b.Z)*(a.Z-b.Z))
}

// struck reports whether a person of a height on a spot is in a zone. Under the
// boom it also returns the room above the head: above the boom is the sail, so
// whoever reaches higher than its underside is struck, however high.
func (c *SweepCase) struck(z *Zone, at Spot, height float64) (room float64, in bool) {
	p := plane.Point{X: at.X, Y: at.Y}
	if !z.Outlines.Contains(p) {
		return 0, false
	}
	if z.Sort == "boom" {
		room = c.Boom.under(p) - at.Z - height
		return room, room < c.Head
	}
	return 0, at.Z <= z.High && at.Z+height >= z.Low
}
