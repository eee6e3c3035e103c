package gybe

import "dogshore/rope"

// Range is the least and the most that a value comes to over everything that
// was let vary, and where the most arises.
type Range struct {
	Least float64 `json:"least"`
	Most  float64 `json:"most"`
	At    Setting `json:"most_at"`
}

// Setting is one choice of what was let vary.
type Setting struct {
	How     Onset   `json:"how,omitempty"`
	Wind    float64 `json:"wind_m_s"`
	Stretch float64 `json:"stretch,omitempty"` // times the line's stiffness: 0.5, 1, 2
	Slack   float64 `json:"slack_m,omitempty"`
}

// Onset is how the load comes.
type Onset string

// The onsets.
const (
	Slowly  Onset = "slowly"
	AtOnce  Onset = "at once"
	InWater Onset = "the boom's end in the water"
)

// Outcome is how a boom caught aback ends up.
type Outcome string

// The outcomes.
const (
	Holds     Outcome = "held"
	NoBalance Outcome = "no equilibrium" // no tension in the line holds the boom
	Through   Outcome = "comes through"  // the line does not stop it before its pull points along the boom
)

// Result is what a preventer sees.
type Result struct {
	Press    Range          `json:"pressure_pa"`    // dynamic pressure of the wind
	Force    Range          `json:"sail_force_n"`   //
	Moment   Range          `json:"moment_nm"`      // about the mast
	Inertia  float64        `json:"inertia_kg_m2"`  // of boom, sail and the air they carry along, about the mast
	Swing    Swing          `json:"swing,omitzero"` // without a preventer; absent without masses
	Leads    []Lead         `json:"leads"`          // each preventer on each side it is used on
	Sheet    *SheetLoad     `json:"mainsheet,omitempty"`
	Dip      *DipLoad       `json:"dip,omitempty"`
	Assumed  []string       `json:"assumed,omitempty"`
	Cautions []rope.Caution `json:"cautions"`
}

// Swing is the boom let go, at the greatest wind of the band.
type Swing struct {
	Angle float64 `json:"angle_rad"` // through which it swings, from as far out as it goes to amidships
	Time  float64 `json:"time_s"`
	Rate  float64 `json:"rate_rad_s"`
	End   float64 `json:"boom_end_m_s"` // speed of its end there
}

// Lead is one preventer on one side.
type Lead struct {
	Preventer string  `json:"preventer"`
	Side      Side    `json:"side"`
	Set       float64 `json:"set_rad"`
	Length    float64 `json:"length_m"` // boom to the line's end, straight, where it is set up
	Dead      float64 `json:"dead_rad"` // boom angle at which its pull points along the boom; less than 0: beyond amidships

	Held    []Held  `json:"held"`             // a line that does not give, at the greatest wind, by boom angle
	Settles Answer  `json:"settles"`          // the wind coming slowly, the line giving
	Stops   Answer  `json:"stops"`            // the sail caught aback at once
	Dipped  *Answer `json:"dipped,omitempty"` // as Settles, with the end of the boom in the water at the greatest speed

	Parts   []Part       `json:"parts,omitempty"`
	Fouls   []Clearance  `json:"fouls,omitempty"`  // obstacles that it comes foul of
	Clears  []Clearance  `json:"clears,omitempty"` // and those that it does not
	Verdict rope.Verdict `json:"verdict"`
	Weakest string       `json:"weakest,omitempty"`
	Margin  float64      `json:"margin,omitempty"` // of the weakest part, its factor taken off; absent where the verdict is unknown
	Missing []string     `json:"missing,omitempty"`
	Says    []string     `json:"says,omitempty"` // what must be said in words
}

// Held is the boom held at one angle by a line that does not give.
type Held struct {
	Angle   float64     `json:"angle_rad"`
	Outcome Outcome     `json:"outcome"`
	Says    string      `json:"says,omitempty"` // why there is no equilibrium
	Length  float64     `json:"length_m"`
	Lever   float64     `json:"lever_m"` // of the pull, about the mast
	Tension float64     `json:"tension_n,omitempty"`
	Boom    BoomLoad    `json:"boom,omitzero"`
	Points  []PointLoad `json:"points,omitempty"`
}

// BoomLoad is what a preventer does to the boom.
type BoomLoad struct {
	Compression float64 `json:"compression_n"` // less than 0: it pulls it off its gooseneck
	Up          float64 `json:"up_n"`          // less than 0: down
	Sideways    float64 `json:"sideways_nm"`   // bending
	Upright     float64 `json:"upright_nm"`    // bending by the pull up or down, the boom borne at both ends
	Bending     float64 `json:"bending_nm"`    // both together
}

// PointLoad is what one turn of the line sees.
type PointLoad struct {
	Name    string      `json:"name"`
	Turning float64     `json:"turning_rad"` // 0: the line runs straight; pi: it comes back. The end: 0
	In      float64     `json:"in_n"`        // tension on the boom's side
	Out     float64     `json:"out_n"`       // tension beyond; the end: 0
	Load    float64     `json:"load_n"`
	Force   rope.Vector `json:"force_n"` // on the point
}

// Answer is how the boom ends up over everything that was let vary.
type Answer struct {
	Outcome Outcome `json:"outcome"` // Holds only if it does so in every run
	Says    string  `json:"says,omitempty"`
	Tension Range   `json:"tension_n,omitzero"` // at the boom; only if it holds
	Angle   Range   `json:"angle_rad,omitzero"` // at which the boom comes to rest, or is stopped
	Runs    []Run   `json:"runs"`
}

// Run is one of the settings that an answer was reckoned for.
type Run struct {
	Setting
	Outcome   Outcome `json:"outcome"`
	Angle     float64 `json:"angle_rad,omitempty"`
	Tension   float64 `json:"tension_n,omitempty"`
	Stretched float64 `json:"stretched_m,omitempty"` // of the line
	ByHand    float64 `json:"by_hand_n,omitempty"`   // of Stops: the tension by the formula for small angles
}

// Part is the line, a point of its way, or the boom, against its rating: the
// least load is that of the slow wind at its least, the most that of the sudden
// one at its worst.
type Part struct {
	Name    string       `json:"name"`
	Sort    string       `json:"sort"` // line, block, eye, clutch, cleat, winch, compression, bending
	Unit    string       `json:"unit"` // N or N m
	Load    Range        `json:"load,omitzero"`
	Turning Range        `json:"turning_rad,omitzero"`
	Force   rope.Vector  `json:"force_n,omitzero"` // on the point, at its most: what its bolts must take
	Rated   float64      `json:"rated,omitempty"`  // 0: not known
	Factor  float64      `json:"factor"`
	Margin  float64      `json:"margin,omitempty"` // rated over factor and most: at least 1 if it meets; absent where the verdict is unknown
	Verdict rope.Verdict `json:"verdict"`
	Missing []string     `json:"missing,omitempty"`
}

// Clearance is how near a lead comes to an obstacle, over the boom angles from
// where it is set up to as far as the boom comes in.
type Clearance struct {
	Obstacle string  `json:"obstacle"`
	Least    float64 `json:"least_m"`                 // less than 0: so deep inside it
	Angle    float64 `json:"angle_rad"`               // boom angle at which
	At       Spot    `json:"at"`                      // on the line
	Leg      int     `json:"leg"`                     // 1: from the boom to the first turn
	From     float64 `json:"foul_from_rad,omitempty"` // boom angles between which it fouls
	To       float64 `json:"foul_to_rad,omitempty"`
}

// SheetLoad is the mainsheet's load by the trade's formula.
type SheetLoad struct {
	Load float64 `json:"load_n"`
}

// DipLoad is the end of the boom going into the water.
type DipLoad struct {
	Force Range   `json:"force_n"`
	Roll  float64 `json:"roll_rad"` // heel at which the end touches, as far out as it goes
}
