package work

import (
	"dogshore/jackstay"
	"dogshore/plane"
)

// exampleJackstay is the starboard half of a small catamaran's deck, invented:
// webbing along the side deck through a guide, two clip points, a way from the
// helm to the mast.
func exampleJackstay() JackstayCase {
	p := func(x, y float64) plane.Point { return plane.Point{X: x, Y: y} }
	f := func(v float64) *float64 { return &v }
	return JackstayCase{
		Case: jackstay.Case{
			Outline: []plane.Point{p(0, 0), p(0, -3.3), p(10.5, -3.3), p(12, -2.6), p(12, 0)},
			DeckZ:   1.3,
			Levels:  []jackstay.Level{{ID: "cockpit", Outline: []plane.Point{p(0.5, 0), p(0.5, -2), p(3, -2), p(3, 0)}, Z: 1.0}},
			Edges: []jackstay.Edge{
				{ID: "starboard side", Path: []plane.Point{p(0, -3.3), p(10.5, -3.3), p(12, -2.6)}, Z: 1.3, Rails: []float64{0.3, 0.6}, Freeboard: f(1.3), Spread: 0.1},
				{ID: "stern", Path: []plane.Point{p(0, -3.3), p(0, 0)}, Z: 1.0, Freeboard: f(1.0)},
			},
			Obstacles: []jackstay.Obstacle{{ID: "mast", Outline: []plane.Point{p(6.4, 0), p(6.4, -0.15), p(6.7, -0.15), p(6.7, 0)}, Z: 18}},
			Catches: []jackstay.Catch{
				{ID: "midship cleat", Kind: "cleat", Path: []plane.Point{p(6, -3.1)}, Z: 1.4, Overhang: true},
				{ID: "genoa track", Kind: "track end", Path: []plane.Point{p(4, -2.7), p(5, -2.75)}, Z: 1.35, Sharp: true},
			},
			Lines: []jackstay.Line{{
				ID: "starboard side deck", Stuff: jackstay.Stuff{Material: "polyester webbing 25 mm", MBL: 22e3, Factors: []string{"eye splice"}, Years: f(1)}, Slack: f(0.005), Together: 2,
				Supports: []jackstay.Support{
					{ID: "after eye", At: jackstay.Spot{X: 1.8, Y: -2.3, Z: 1.35}, Rated: 45e3},
					{ID: "guide", At: jackstay.Spot{X: 5.5, Y: -2.5, Z: 1.35}, Kind: jackstay.GuideSupport, Friction: f(0.2)},
					{ID: "forward eye", At: jackstay.Spot{X: 9.3, Y: -2.2, Z: 1.35}},
				},
			}},
			Points:  []jackstay.ClipPoint{{ID: "helm", At: jackstay.Spot{X: 2.2, Y: -1.6, Z: 1.2}, Rated: 45e3}, {ID: "mast foot", At: jackstay.Spot{X: 6.3, Y: -0.4, Z: 1.5}}},
			Persons: []jackstay.Person{{ID: "skipper", Body: "M50"}, {ID: "mate", Body: "F50", Mass: 75}},
			Sea:     jackstay.Sea{Heel: 0.15, Wave: 0.2, Tow: 3.5},
		},
		Ways: []jackstay.Way{{ID: "reef at the mast", Person: "mate", Stops: []jackstay.Waypoint{
			{At: p(2.2, -1.2)}, {At: p(3.2, -2.2)}, {At: p(6, -2.2)}, {At: p(6.3, -0.8), As: jackstay.Standing, Hands: 2, Task: "reef"},
		}}},
		Figures: []jackstay.Given{{Key: jackstay.LineMBL, Value: 22e3}, {Key: jackstay.LineIsWire, Value: 0}, {Key: jackstay.RailUpper, Value: 0.6}, {Key: jackstay.HullLength, Value: 12.3}},
	}
}
