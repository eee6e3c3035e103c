package jackstay

import "dogshore/plane"

// Case is a deck with its lines, clip points, tethers and people.
type Case struct {
	Outline   []plane.Point `json:"outline,omitempty" says:"edge of the deck once around, seen from above; what lies within counts as deck"`
	DeckZ     float64       `json:"deck_z_m,omitempty" says:"height of the deck where no level says otherwise"`
	Levels    []Level       `json:"levels,omitempty" says:"parts of the deck at another height: cockpit, coachroof, net; the last that holds a place counts"`
	Edges     []Edge        `json:"edges,omitempty" says:"where a person can go over, with or without guard-rails; without any, nothing is said of the side"`
	Obstacles []Obstacle    `json:"obstacles,omitempty" says:"what a person walks around or climbs: mast, shrouds, winch islands"`
	Catches   []Catch       `json:"catches,omitempty" says:"what a line or a hook can catch on"`
	Lines     []Line        `json:"lines,omitempty"`
	Points    []ClipPoint   `json:"clip_points,omitempty"`
	Tethers   []Tether      `json:"tethers,omitempty" says:"the usual one of 2 m and 1 m if left out"`
	Persons   []Person      `json:"persons,omitempty" says:"a large man and a small woman if left out"`
	Loads     Loads         `json:"loads,omitzero"`
	Sea       Sea           `json:"sea,omitzero"`
	Tracing   float64       `json:"tracing_error_m,omitempty" says:"how far off a place on the plan may be; 0.1 if left out"`
}

// Spot is a place in the boat's axes.
type Spot struct {
	X float64 `json:"x_m" says:"forward"`
	Y float64 `json:"y_m" says:"to port"`
	Z float64 `json:"z_m,omitempty" says:"up"`
}

// Level is a part of the deck at a height of its own.
type Level struct {
	ID      string        `json:"id"`
	Outline []plane.Point `json:"outline"`
	Z       float64       `json:"z_m"`
}

// Edge is a run of the deck's edge that a person can go over. The water, or
// the drop, lies on the side that Deck is not on.
type Edge struct {
	ID        string        `json:"id"`
	Path      []plane.Point `json:"path"`
	Z         float64       `json:"z_m" says:"height of the edge"`
	Rails     []float64     `json:"rails_m,omitempty" says:"heights of the guard-wires or rails above the edge, lowest first; none: open"`
	Solid     bool          `json:"solid,omitempty" says:"bulwark: nobody slips through under the top rail"`
	Freeboard *float64      `json:"freeboard_m,omitempty" says:"height of the edge above the water, upright; its z if left out"`
	Spread    float64       `json:"freeboard_spread_m,omitempty" says:"half the band of the freeboard: loading, trim; 0.1 if left out"`
	Inside    bool          `json:"inside,omitempty" says:"a drop within the boat (cockpit, net), no water below"`
}

// Obstacle is what a person can't walk through.
type Obstacle struct {
	ID      string        `json:"id"`
	Outline []plane.Point `json:"outline"`
	Z       float64       `json:"z_m,omitempty" says:"height of its top"`
}

// Catch is a fitting or corner that a line or a hook can catch on.
type Catch struct {
	ID       string        `json:"id"`
	Kind     string        `json:"kind,omitempty" says:"cleat, track end, hatch corner, winch, vent, stanchion, windlass, mast, sharp edge"`
	Path     []plane.Point `json:"path" says:"one place, a run, or an outline"`
	Area     bool          `json:"area,omitempty" says:"the path is an outline and all within counts"`
	Z        float64       `json:"z_m,omitempty" says:"height at which it catches"`
	Overhang bool          `json:"overhang,omitempty" says:"has a gap or a horn that a hook can enter"`
	Sharp    bool          `json:"sharp,omitempty"`
}

// SupportKind says how a line is held at a place.
type SupportKind string

// The kinds of supports between the two ends of a line.
const (
	FixedSupport SupportKind = "fixed" // clamped, knotted or spliced: no line passes
	GuideSupport SupportKind = "guide" // slide, fairlead, eye: the line runs through, with friction
)

// Support is a place that holds a line. The first and the last are its ends.
type Support struct {
	ID       string      `json:"id"`
	At       Spot        `json:"at"`
	Kind     SupportKind `json:"kind,omitempty" says:"fixed or guide; ends are always fixed"`
	Friction *float64    `json:"friction,omitempty" says:"of the line in the guide; 0.15 if left out"`
	Passes   bool        `json:"passes,omitempty" says:"a hook can pass it without being unclipped"`
	Spring   float64     `json:"spring_n_per_m,omitempty" says:"stiffness of an end's anchorage; rigid if left out"`
	Rated    float64     `json:"rated_n,omitempty" says:"breaking load of the anchorage along the line, from whoever answers for it; left out: not known"`
}

// CurvePoint is one point of a stretch test.
type CurvePoint struct {
	Strain  float64 `json:"strain"`
	Tension float64 `json:"tension_n"`
}

// Stuff is what a line or a tether is made of.
type Stuff struct {
	Material  string       `json:"material,omitempty" says:"a key of the sheet's materials, whose values fill what is left out"`
	Stiffness float64      `json:"ea_n,omitempty" says:"axial stiffness per unit of strain"`
	Curve     []CurvePoint `json:"curve,omitempty" says:"or a stretch test, tension never falling"`
	MBL       float64      `json:"mbl_n,omitempty" says:"breaking load of the new line, from its maker"`
	Factors   []string     `json:"factors,omitempty" says:"keys of what takes strength away: eye splice, bowline, wet nylon ..."`
	Years     *float64     `json:"years,omitempty" says:"age in the sun; left out: not known"`
}

// Line is a jackstay.
type Line struct {
	ID        string    `json:"id"`
	Supports  []Support `json:"supports" says:"end, what is between, end"`
	Stuff     Stuff     `json:"stuff"`
	Slack     *float64  `json:"slack,omitempty" says:"unstretched length over the length between supports, less 1; the line is taut without pretension if neither this nor a pretension is entered"`
	Pretense  *float64  `json:"pretension_n,omitempty" says:"tension with no load"`
	Together  int       `json:"persons,omitempty" says:"how many can be clipped to it at once; 1 if left out"`
	HandForce float64   `json:"hand_force_n,omitempty" says:"that pulls the unloaded line aside in the scan for catches; 100 if left out"`
}

// ClipPoint is a fixed eye for a hook.
type ClipPoint struct {
	ID        string  `json:"id"`
	At        Spot    `json:"at"`
	Rated     float64 `json:"rated_n,omitempty" says:"breaking load of the anchorage in any direction; left out: not known"`
	Stanchion bool    `json:"stanchion,omitempty" says:"foot of a stanchion or pulpit: counted by the standard, not by racing practice"`
}

// Tether ties a person to a line. Each leg has one hook: one leg is a single
// hook, two a double, three a triple.
type Tether struct {
	ID    string    `json:"id"`
	Legs  []float64 `json:"legs_m" says:"length of each leg, hooks included"`
	Stuff Stuff     `json:"stuff,omitzero"`
}

// Person is who wears the tether.
type Person struct {
	ID    string   `json:"id"`
	Body  string   `json:"body,omitempty" says:"F5 F50 F95 M5 M50 M95: fills what is left out"`
	Mass  float64  `json:"mass_kg,omitempty" says:"with wet gear"`
	Ring  float64  `json:"ring_standing_m,omitempty" says:"height of the harness ring above the deck, standing"`
	Kneel float64  `json:"ring_kneeling_m,omitempty"`
	Reach float64  `json:"hand_reach_m,omitempty" says:"of the hand beyond the ring"`
	Tall  float64  `json:"stature_m,omitempty"`
	Uses  []string `json:"tethers,omitempty" says:"ids; all of them if left out"`
}

// Loads say what the lines are asked to hold.
type Loads struct {
	Slide     *float64 `json:"slide_m_per_s,omitempty" says:"speed of a person sliding across a wet deck into the tether; 3 if left out"`
	Fall      *float64 `json:"fall_m,omitempty" says:"free fall over the edge before the tether comes tight; 1 if left out"`
	EdgeMu    *float64 `json:"edge_friction,omitempty" says:"of the tether over the edge; 0 if left out, which loads the line most"`
	EdgeAngle *float64 `json:"edge_angle_rad,omitempty" says:"by which it bends there; a right angle if left out"`
	AnchorMin *float64 `json:"anchor_min_n,omitempty" says:"least load that an anchor is asked to hold along the line; 20 kN if left out"`
	Margin    *float64 `json:"margin_m,omitempty" says:"wanted between reach and edge; 0.3 if left out"`
}

// Sea is how she lies.
type Sea struct {
	Heel float64 `json:"heel_rad,omitempty" says:"toward whichever side is looked at"`
	Wave float64 `json:"wave_m,omitempty" says:"taken off the freeboard"`
	Tow  float64 `json:"speed_m_per_s,omitempty" says:"of the boat, for the drag on somebody towed"`
}
