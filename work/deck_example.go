package work

import (
	"math"

	"dogshore/gybe"
	"dogshore/plane"
	"dogshore/rope"
)

// exampleAnchor is an invented end of a jackstay: four M8 through solid
// laminate in a foam-cored deck, pulled along the deck and, by a fall over the
// side, across it.
func exampleAnchor() rope.AnchorCase {
	return rope.AnchorCase{
		Name: "port after pad eye", Long: 0.09, Wide: 0.08, Stands: 0.03, Rated: 40e3, Aside: 25e3,
		Bolts: rope.Bolts{Size: 0.008, Grade: "A4-70", At: []rope.Plan{
			{Along: -0.03, Across: -0.025}, {Along: -0.03, Across: 0.025}, {Along: 0.03, Across: -0.025}, {Along: 0.03, Across: 0.025},
		}},
		Backing: rope.Backing{Sort: rope.BackingStainless, Thick: 0.004, Long: 0.12, Wide: 0.1},
		Under: rope.Under{
			Sort: rope.UnderSolid, Solid: 0.012, Long: 0.3, Wide: 0.25, Bearing: 240e6, Shear: 28e6,
			Outer: 0.003, Core: 0.025, Inner: 0.002, CoreShear: 1.15e6, CoreCrush: 1.4e6,
		},
		Ending: rope.Ending{Name: "sewn end of the webbing", Holds: 18e3},
		Loads: []rope.AnchorLoad{
			{Name: "arrest, along the line", Force: rope.Vector{X: 8.5e3, Y: 0.6e3, Z: 0.4e3}},
			{Name: "arrest, over the side", Force: rope.Vector{X: 5e3, Y: 4e3, Z: -1e3}},
		},
		Assumed: []rope.Assumed{rope.AssumedCore},
	}
}

// exampleBoom is an invented main boom, out to 75 degrees.
func exampleBoom() gybe.Boom {
	return gybe.Boom{
		Name: "main boom", Gooseneck: gybe.Spot{X: 7.2, Z: 2.4}, Length: 5.6, Rise: 0.3, Depth: 0.2,
		Mass: 70, Bending: 20e3, Out: math.Round(75*math.Pi/180*1e4) / 1e4,
	}
}

// examplePreventers are a long one that is shifted over, led from the end of
// the boom round the bow and back to a clutch, and a tackle to the rail.
func examplePreventers() []gybe.Preventer {
	return []gybe.Preventer{
		{
			Name: "long preventer", Side: gybe.Both, At: 5.5, Slack: gybe.Band{Low: 0, High: 0.1},
			Line: gybe.Line{Name: "12 mm polyester, spliced", Stiffness: 200e3, Holds: 24e3},
			Turns: []gybe.Turn{
				{Name: "bow block", Sort: "block", Spot: gybe.Spot{X: 12.3, Y: 0.4, Z: 1.3}, Friction: 0.1, Rated: 30e3},
				{Name: "quarter block", Sort: "block", Spot: gybe.Spot{X: 3, Y: 1.9, Z: 1.2}, Friction: 0.1, Rated: 20e3},
				{Name: "clutch", Sort: "clutch", Spot: gybe.Spot{X: 2.2, Y: 0.5, Z: 1.5}, Rated: 12e3, Stays: true},
			},
		},
		{
			Name: "tackle to the rail", Side: gybe.Starboard, At: 2.8, Line: gybe.Line{Name: "10 mm polyester", Stiffness: 400e3},
			Turns: []gybe.Turn{{Name: "rail eye", Sort: "eye", Spot: gybe.Spot{X: 8, Y: -2.1, Z: 1.2}}},
		},
	}
}

func exampleGybe() gybe.Case {
	return gybe.Case{
		Boom:       exampleBoom(),
		Sail:       gybe.Sail{Area: 38, Luff: 14.5, Foot: 5.4, Mass: 40, Aft: 2.1},
		Wind:       gybe.Band{Low: 9, High: 13},
		Preventers: examplePreventers(),
		Obstacles: []gybe.Obstacle{
			{Name: "port shroud", Run: []gybe.Spot{{X: 6.8, Y: 2, Z: 1.2}, {X: 7.1, Y: 0.2, Z: 16}}, Radius: 0.005},
			{Name: "port guard-wire", Run: []gybe.Spot{{X: 1, Y: 2.1, Z: 1.85}, {X: 6, Y: 2.2, Z: 1.85}, {X: 12, Y: 0.5, Z: 2}}, Radius: 0.003},
		},
		Clear: 0.05,
		Dip:   &gybe.Dip{Speed: gybe.Band{Low: 3, High: 4}, Immersed: 0.8},
		Sheet: &gybe.Mainsheet{Forward: 1.2, Wind: 12},
	}
}

func exampleSweep() gybe.SweepCase {
	return gybe.SweepCase{
		Boom:       exampleBoom(),
		Sheet:      &gybe.SheetRun{At: 5, From: gybe.Spot{X: 1.5, Y: -1.2, Z: 1.4}, To: &gybe.Spot{X: 1.5, Y: 1.2, Z: 1.4}},
		Preventers: examplePreventers()[:1],
		Zones: []gybe.Zone{{
			Name: "clew of the headsail", Sort: "other", Low: 1.2, High: 2.6,
			Outlines: plane.Region{{{X: 7.5, Y: 1}, {X: 10, Y: 1}, {X: 10, Y: 2}, {X: 7.5, Y: 2}}},
		}},
		Stations: []gybe.Station{
			{Name: "helm", Sort: "helm", Run: []gybe.Spot{{X: 1.2, Y: 0, Z: 0.6}}, Height: 1.8},
			{Name: "on the coachroof, reefing", Sort: "way", Run: []gybe.Spot{{X: 6, Y: 0.3, Z: 1.9}}, Height: 1.8},
			{Name: "clip point at the hatch", Sort: "clip point", Run: []gybe.Spot{{X: 4.2, Y: 0.2, Z: 1.1}}, Height: 1.2},
			{Name: "port side deck to the bow", Sort: "way", Run: []gybe.Spot{{X: 1.5, Y: 1.5, Z: 1.1}, {X: 8, Y: 1.6, Z: 1.2}, {X: 12, Y: 0.2, Z: 1.3}}, Height: 1.75},
		},
	}
}
