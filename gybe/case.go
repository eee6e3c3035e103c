// Package gybe reckons what a boom's preventer sees when the sail is caught
// aback, and which parts of the deck the boom and its sheet sweep.
//
// Cases are in SI units and the boat's axes: x forward from the after end of
// the design waterline, y to port, z up from it. A boom angle is 0 amidships
// and grows to either side as the boom goes out. What is 0 or empty is not
// known, except where a default is named; every default used is listed in the
// result. Equations and sources: docs/theory/gybe.md.
package gybe

import "dogshore/rope"

// Spot is a place on the boat, in metres.
type Spot = rope.Vector

// Band is a value that is only known between two limits. High 0 stands for Low
// where that is above 0.
type Band struct {
	Low  float64 `json:"low"`
	High float64 `json:"high,omitempty"`
}

// Side is a side of the boat.
type Side string

// The sides of a preventer.
const (
	Port      Side = "port"
	Starboard Side = "starboard"
	Both      Side = "both" // one line, shifted over: its turns are mirrored, but for those that stay
)

// Case is a boom with its sail and the lines that can hold it out.
type Case struct {
	Boom       Boom        `json:"boom"`
	Sail       Sail        `json:"sail"`
	Wind       Band        `json:"wind_m_s" says:"wind at the sail as it is caught aback: the true wind with its gusts, since she may be stopped by then"`
	Preventers []Preventer `json:"preventers"`
	Obstacles  []Obstacle  `json:"obstacles,omitempty" says:"shrouds, guard-rails and whatever else a lead must not touch"`
	Clear      float64     `json:"clear_m,omitempty" says:"room that a lead must leave to them; 0: it may come as near as it likes without touching"`
	Dip        *Dip        `json:"dip,omitempty"`
	Sheet      *Mainsheet  `json:"mainsheet,omitempty" says:"for the trade's formula, to compare with"`
	Rate       float64     `json:"rate_rad_s,omitempty" says:"rate at which the boom swings in already when the sail comes aback"`
	Factor     float64     `json:"factor,omitempty" says:"how many times its greatest load a part must be rated for; 2 if left out"`
	Air        float64     `json:"air_kg_m3,omitempty" says:"density of air; 1.225 if left out"`
}

// Boom is the boom, hinged at the mast.
type Boom struct {
	Name      string  `json:"name,omitempty"`
	Gooseneck Spot    `json:"gooseneck"`
	Length    float64 `json:"length_m" says:"from the mast to its end"`
	Rise      float64 `json:"rise_m,omitempty" says:"height of its end above the gooseneck"`
	Depth     float64 `json:"depth_m,omitempty" says:"depth of its section; it hangs half of it below its axis"`
	Mass      float64 `json:"mass_kg,omitempty"`
	Bending   float64 `json:"bending_nm,omitempty" says:"bending moment that it bears"`
	Squeeze   float64 `json:"compression_n,omitempty" says:"compression that it bears"`
	Out       float64 `json:"out_rad" says:"how far out it goes, from amidships"`
}

// Sail is the sail set on the boom, as reefed for the wind given.
type Sail struct {
	Area  float64 `json:"area_m2"`
	Luff  float64 `json:"luff_m,omitempty" says:"hoist, for the mainsheet's formula and the air it carries along"`
	Foot  float64 `json:"foot_m" says:"foot, from the mast to the clew"`
	Mass  float64 `json:"mass_kg,omitempty"`
	Force float64 `json:"force_coefficient,omitempty" says:"of the sail square to the wind; 1.2 if left out"`
	Aft   float64 `json:"aft_m,omitempty" says:"how far aft of the mast its force acts; a third of the foot if left out, more for a sail with a full leech"`
}

// Preventer is a line from the boom through its turns to its end.
type Preventer struct {
	Name  string  `json:"name"`
	Side  Side    `json:"side" says:"port, starboard, or both for one line that is shifted over: its turns are given for the side that its first one lies on"`
	At    float64 `json:"at_m" says:"where it is made fast on the boom, from the mast"`
	Set   float64 `json:"set_rad,omitempty" says:"boom angle at which it is set up; as far out as the boom goes if left out"`
	Slack Band    `json:"slack_m,omitzero" says:"slack in it there; less than 0: so much hauled in"`
	Line  Line    `json:"line"`
	Turns []Turn  `json:"turns" says:"what it turns in, from the boom on; the last one is its end"`
}

// Turn is a point of a preventer's way.
type Turn struct {
	Name     string  `json:"name"`
	Sort     string  `json:"sort" says:"block, eye, clutch, cleat or winch"`
	Spot     Spot    `json:"spot"`
	Friction float64 `json:"friction,omitempty" says:"coefficient of friction of the line on it: 0.15; none if left out"`
	Rated    float64 `json:"rated_n,omitempty" says:"load that it is rated for, by its maker"`
	Stays    bool    `json:"stays,omitempty" says:"does not change over when the line is shifted to the other side"`
}

// Line is what a preventer is made of.
type Line struct {
	Name      string    `json:"name,omitempty"`
	Stiffness float64   `json:"stiffness_n,omitempty" says:"force that would double its length"`
	Curve     []Stretch `json:"curve,omitempty" says:"or its stretch from a test, beginning with 0 0 and rising"`
	Holds     float64   `json:"holds_n,omitempty" says:"what it holds: breaking load with knots, splices, age and wet taken off"`
	Assumed   bool      `json:"assumed,omitempty" says:"what it holds was guessed: it has no margin"`
}

// Stretch is one point of a line's stretch.
type Stretch struct {
	Strain  float64 `json:"strain" says:"0.02 for 2 %"`
	Tension float64 `json:"tension_n"`
}

// Obstacle is something that a lead can come foul of: a run of straight pieces,
// round.
type Obstacle struct {
	Name   string  `json:"name"`
	Run    []Spot  `json:"run" says:"its corners; one spot will do"`
	Radius float64 `json:"radius_m,omitempty"`
}

// Dip is the end of the boom going into the water.
type Dip struct {
	Speed    Band    `json:"speed_m_s" says:"of the boat through the water"`
	Immersed float64 `json:"immersed_m" says:"length of boom in the water"`
	Drag     float64 `json:"drag_coefficient,omitempty" says:"1.2 if left out"`
	Water    float64 `json:"water_kg_m3,omitempty" says:"1025 if left out"`
}

// Mainsheet is what the trade's formula for its load needs beside the sail.
type Mainsheet struct {
	Forward float64 `json:"forward_m" says:"how far forward of the clew it is made fast; less than 0: aft"`
	Wind    float64 `json:"wind_m_s" says:"apparent wind that the sail is carried in"`
}
