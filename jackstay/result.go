package jackstay

import (
	"dogshore/plane"
	"dogshore/source"
)

// Result is what is worked out of a deck.
type Result struct {
	Lines     []LineResult  `json:"lines"`
	Points    []PointResult `json:"clip_points,omitempty"`
	Transfers []Transfer    `json:"transfers,omitempty" says:"between each two neighbouring things to clip to"`
	Islands   [][]string    `json:"islands,omitempty" says:"what can be changed between without unclipping; one island is the aim"`
	Bare      float64       `json:"bare_m2,omitempty" says:"of the deck within the outline, not reached by any ring, lying down, on the longest leg; unloaded"`
	Deck      float64       `json:"deck_m2,omitempty" says:"within the outline"`
	Assumed   []Assumed     `json:"assumed,omitempty" says:"values that nobody entered"`
	Unknown   []Unknown     `json:"unknown,omitempty" says:"what could not be said, and what it would need"`
	Cautions  []Caution     `json:"cautions"`
	Solves    int           `json:"solves" says:"equilibria found"`
}

// Band is a quantity at half, entered and double stiffness.
type Band struct {
	Soft  float64 `json:"soft"`
	As    float64 `json:"as_entered"`
	Stiff float64 `json:"stiff"`
}

// LineResult is what is worked out of one line. Forces are the worst over all
// places, directions, jammed and sliding, unless said otherwise.
type LineResult struct {
	ID       string     `json:"id"`
	Length   float64    `json:"length_m" says:"between supports, all spans"`
	Rest     Band       `json:"unstretched_m"`
	Tension0 Band       `json:"tension_unloaded_n"`
	Spans    []SpanInfo `json:"spans"`
	Slide    Band       `json:"slide_load_n" says:"greatest that a sliding person puts on the line"`
	Arrest   Band       `json:"arrest_load_n" says:"greatest that a fall over the edge puts on the line"`
	Body     Band       `json:"body_load_n" says:"the same, on the person"`
	Tension  Band       `json:"tension_n" says:"greatest in any leg, under the arrest load"`
	Middle   Middle     `json:"middle" says:"jammed in the middle of the longest span: where lines are usually reckoned"`
	Brackets []Bracket  `json:"brackets,omitempty" says:"of a line with guides: no friction, and stuck in every guide; the truth lies between"`
	Rubbing  *Rubbing   `json:"friction,omitempty" says:"of a line with guides: the fall in the middle of the longest span, with the friction entered and loads that grew together"`
	Group    *Group     `json:"together,omitempty" says:"all persons that can be clipped at once, falling together"`
	Supports []LoadOn   `json:"supports" says:"greatest load on each, under the arrest load"`
	Reaches  []Reach    `json:"reaches"`
	Sides    []Side     `json:"sides,omitempty"`
	Catches  []CatchHit `json:"catches,omitempty"`
	Strength Strength   `json:"strength"`
	Remarks  []Remark   `json:"remarks" says:"with this line's numbers, what is often taken to be the other way round"`
	Assumed  []Assumed  `json:"assumed,omitempty"`
	Unknown  []Unknown  `json:"unknown,omitempty"`
	Solves   int        `json:"solves"`
}

// SpanInfo is one span of a line.
type SpanInfo struct {
	From   string        `json:"from"`
	To     string        `json:"to"`
	Length float64       `json:"length_m"`
	Sag    Band          `json:"sag_m" says:"greatest displacement of a hook from the chord, under the slide load on the longest leg"`
	Slack  []plane.Point `json:"slack_outline,omitempty" says:"all places that the unloaded line can be pulled to by hand, seen from above"`
}

// Bracket is one of the two limits of friction.
type Bracket struct {
	Says    string `json:"says"`
	Tension Band   `json:"tension_n"`
	Sag     Band   `json:"sag_m"`
}

// Rubbing is one load with friction in the guides, between its two brackets.
type Rubbing struct {
	Load    float64 `json:"load_n"`
	Tension float64 `json:"tension_n" says:"greatest in any leg"`
	Sag     float64 `json:"sag_m"`
	Free    float64 `json:"tension_without_friction_n"`
	Stuck   float64 `json:"tension_stuck_n"`
}

// Group is several persons on one line at once.
type Group struct {
	Persons int  `json:"persons"`
	Tension Band `json:"tension_n"`
}

// How a hook was held when a load was at its greatest.
type How string

// The ways in which a hook is held.
const (
	Jammed        How = "jammed"              // the hook grips the line where it is
	Sliding       How = "sliding"             // the hook has run to where it balances
	HeldBySupport How = "held by its support" // the hook has run to the end of its span: the whole load is on that fitting
)

// Vector is a force in the boat's axes.
type Vector struct {
	X float64 `json:"x_n"`
	Y float64 `json:"y_n"`
	Z float64 `json:"z_n,omitempty"`
}

// LoadOn is the greatest load on one support.
type LoadOn struct {
	ID      string  `json:"id"`
	Load    Band    `json:"load_n"`
	Vector  Vector  `json:"vector" says:"of the greatest of the three"`
	How     How     `json:"how"`
	Jam     Band    `json:"jammed_n"`
	Slide   Band    `json:"sliding_n"`
	Held    Band    `json:"held_n"`
	Needed  float64 `json:"needed_n" says:"what the anchorage should hold: the load with its design factor, or the least that is asked of any"`
	Rated   float64 `json:"rated_n,omitempty"`
	Verdict Verdict `json:"verdict"`
}

// Verdict compares figures that were entered. It never says that something is
// safe.
type Verdict string

// The verdicts.
const (
	Meets    Verdict = "meets the figures entered"
	MeetsNot Verdict = "does not meet the figures entered"
	Between  Verdict = "lies within the band: can't be told"
	NotKnown Verdict = "not known"
)

// Strength is a line's load against what it breaks at.
type Strength struct {
	MBL     float64 `json:"mbl_n,omitempty"`
	Low     float64 `json:"low_n,omitempty" says:"breaking load with everything that takes away from it, at its worst"`
	High    float64 `json:"high_n,omitempty"`
	Factor  float64 `json:"design_factor" says:"2 for wire, 3 where there is any textile"`
	Margin  Band    `json:"margin" says:"low over the greatest tension, at each stiffness"`
	Verdict Verdict `json:"verdict"`
}

// Reach is where a harness ring can come to on one leg, seen from above, with
// the person lying (ring at the line's level): the union of its pieces.
type Reach struct {
	Tether string          `json:"tether"`
	Leg    float64         `json:"leg_m"`
	Load   Band            `json:"load_n" says:"of the slide that takes it there, greatest along the line"`
	Soft   [][]plane.Point `json:"soft" says:"one for each span, at half stiffness, which reaches farthest"`
	As     [][]plane.Point `json:"as_entered"`
	Stiff  [][]plane.Point `json:"stiff"`
	Idle   [][]plane.Point `json:"idle" says:"the same with nobody pulling"`
	Error  float64         `json:"error_m" says:"of the contour: tracing and steps together"`
}

// Class says where a person ends up.
type Class string

// The classes over the side.
const (
	Aboard    Class = "A" // the ring stays inboard of the edge
	Outboard  Class = "B" // over the edge, ring at least 0.3 m above the water
	Dragging  Class = "C" // ring lower than 0.3 m, or in it: still attached, and a fail
	Inboard   Class = "-" // over an edge within the boat
	ClassAOrB Class = "A or B"
	ClassBOrC Class = "B or C"
	ClassAOrC Class = "A to C"
)

// Side is how a person on one leg of one thing goes over one edge, at the worst
// place along it.
type Side struct {
	Edge   string   `json:"edge"`
	Tether string   `json:"tether"`
	Leg    float64  `json:"leg_m"`
	Under  *Passing `json:"under,omitempty" says:"under the lowest wire, or over an open edge"`
	Over   *Passing `json:"over,omitempty" says:"over the top rail"`
	Class  Class    `json:"class" says:"the worse of the two, over the whole band"`
	Tow    float64  `json:"tow_n,omitempty" says:"drag on the person in the water at the boat's speed"`
}

// Passing is one way over an edge. By less than 0 it stays aboard, by so much.
type Passing struct {
	Of    PassParts `json:"made_of"`
	By    Band      `json:"by_m" says:"length of tether that is left over beyond the edge"`
	Error float64   `json:"error_m"`
	Ring  Band      `json:"ring_above_water_m" says:"height of the ring, where it passes"`
	Class Class     `json:"class"`
	At    Spot      `json:"at" says:"where on the edge, at half stiffness"`
	From  Spot      `json:"from" says:"where the hook was on the line before it was loaded"`
}

// PassParts are what a passing is made of, at the stiffness entered.
type PassParts struct {
	Leg   float64 `json:"leg_m" says:"stretched"`
	Away  float64 `json:"away_m" says:"of the edge from the unloaded line"`
	Moved float64 `json:"moved_m" says:"by the hook toward it"`
	Rise  float64 `json:"rise_m" says:"of the edge or rail over the hook"`
}

// CatchHit is something that a line or hook can catch on.
type CatchHit struct {
	Catch    string  `json:"catch"`
	Span     int     `json:"span" says:"counted from 1"`
	Slack    bool    `json:"slack" says:"the unloaded line can be pulled or kicked onto it by hand"`
	Loaded   bool    `json:"loaded" says:"a loaded hook can be dragged onto it"`
	Side     bool    `json:"hook_sideways,omitempty" says:"the hook can come to lie across it: it may open at 1.3 to 1.6 kN"`
	Distance float64 `json:"from_line_m" says:"from the line as it lies"`
	Spare    float64 `json:"spare_m" says:"line that is left over when it is pulled there by hand; less than 0: so much is missing"`
}

// PointResult is what is worked out of one clip point.
type PointResult struct {
	ID      string    `json:"id"`
	Arrest  Band      `json:"arrest_load_n" says:"of the greatest mass on the stiffest leg"`
	Needed  float64   `json:"needed_n"`
	Rated   float64   `json:"rated_n,omitempty"`
	Verdict Verdict   `json:"verdict"`
	Sides   []Side    `json:"sides,omitempty"`
	Unknown []Unknown `json:"unknown,omitempty"`
}

// Transfer is a change from one thing to the next with a leg on each.
type Transfer struct {
	From   string  `json:"from"`
	To     string  `json:"to"`
	Apart  float64 `json:"apart_m" says:"least distance between them"`
	Bridge float64 `json:"bridge_m" says:"that the shortest-armed person can bridge, kneeling, on two equal legs of the longest tether"`
	Can    bool    `json:"can" says:"without unclipping"`
}

// Assumed is a value that nobody entered.
type Assumed struct {
	Of     string        `json:"of"`
	What   string        `json:"what"`
	Value  float64       `json:"value"`
	Unit   string        `json:"unit,omitempty"`
	Source source.Source `json:"source"`
}

// Unknown is something that could not be said.
type Unknown struct {
	Of    string `json:"of"`
	What  string `json:"what"`
	Needs string `json:"needs"`
}

// Caution is a text that stands wherever an answer is shown.
type Caution struct {
	Key  string `json:"key"`
	Says string `json:"says"`
}
