package rope

// Vector is a spot (m), a force (N) or a direction in the boat's axes: x forward
// from the after end of the design waterline, y to port, z up from it.
type Vector struct {
	X float64 `json:"x"`
	Y float64 `json:"y"`
	Z float64 `json:"z"`
}

// Plan is a spot in the plane of a fitting's foot, from its middle: along its
// length, and across it to the left of that (m).
type Plan struct {
	Along  float64 `json:"along_m"`
	Across float64 `json:"across_m"`
}

// AnchorCase is an eye bolted to a deck, what is under it, and the loads on it.
// Whatever is 0 or empty is not known; what is known only by guess is named in
// Assumed, and what rests on it then has no margin.
type AnchorCase struct {
	Name    string        `json:"name" says:"name of the fitting"`
	Normal  Vector        `json:"normal,omitzero" says:"out of the deck at the fitting; straight up if left out"`
	Heading float64       `json:"heading_rad,omitempty" says:"which way the length of the foot points: 0 forward, pi/2 to port"`
	Long    float64       `json:"foot_long_m,omitempty" says:"length of the foot"`
	Wide    float64       `json:"foot_wide_m,omitempty" says:"width of the foot"`
	Stands  float64       `json:"stands_m,omitempty" says:"height of the point that is pulled at above the underside of the foot"`
	Offset  Plan          `json:"offset,omitzero" says:"that point seen from above, from the middle of the foot"`
	Rated   float64       `json:"rated_n,omitempty" says:"load the fitting is rated for in the plane of its length, by its maker"`
	Aside   float64       `json:"aside_n,omitempty" says:"load it is rated for across its length"`
	Bolts   Bolts         `json:"bolts"`
	Backing Backing       `json:"backing,omitzero"`
	Under   Under         `json:"under,omitzero"`
	Ending  Ending        `json:"ending,omitzero" says:"of the line that is made fast to it, if one is"`
	Loads   []AnchorLoad  `json:"loads"`
	Factors AnchorFactors `json:"factors,omitzero"`
	Assumed []Assumed     `json:"assumed,omitempty" says:"what was guessed: bolts, plate, laminate, core, eye, line; what rests on it has no margin"`
}

// Bolts are the bolts through a foot, all of one kind.
type Bolts struct {
	Size        float64 `json:"size_m,omitempty" says:"nominal diameter: 0.008 for M8"`
	Grade       string  `json:"grade,omitempty" says:"A2-50, A2-70, A4-50, A4-70, A4-80 or 8.8"`
	Countersunk bool    `json:"countersunk,omitempty"`
	At          []Plan  `json:"at,omitempty" says:"where each one is, from the middle of the foot"`
	Clamp       float64 `json:"clamp_n,omitempty" says:"clamping load of one, tightened; 0.7 of its proof load if left out"`
}

// Backing is what spreads the bolts' pull on the inside of the deck.
type Backing struct {
	Sort  string  `json:"sort,omitempty" says:"none, washers, stainless plate, aluminium plate or glass plate; empty if not known"`
	Thick float64 `json:"thick_m,omitempty"`
	Long  float64 `json:"long_m,omitempty" says:"of the plate; of washers the outer diameter"`
	Wide  float64 `json:"wide_m,omitempty"`
}

// Under is what lies under the foot, and the sandwich around it.
type Under struct {
	Sort      string  `json:"sort,omitempty" says:"solid laminate, insert, foam core or balsa core; empty if not known"`
	Solid     float64 `json:"solid_m,omitempty" says:"thickness of the solid laminate or insert"`
	Long      float64 `json:"long_m,omitempty" says:"length of the solid laminate or insert, seen from above"`
	Wide      float64 `json:"wide_m,omitempty"`
	Bearing   float64 `json:"bearing_pa,omitempty" says:"ultimate bearing strength of the laminate at a bolt"`
	Shear     float64 `json:"shear_pa,omitempty" says:"ultimate strength of the laminate in shear through its thickness"`
	Edge      float64 `json:"edge_m,omitempty" says:"from the nearest bolt to the edge of the solid laminate"`
	Outer     float64 `json:"outer_skin_m,omitempty" says:"skins and core of the sandwich around it"`
	Core      float64 `json:"core_m,omitempty"`
	Inner     float64 `json:"inner_skin_m,omitempty"`
	CoreShear float64 `json:"core_shear_pa,omitempty" says:"ultimate shear strength of the core"`
	CoreCrush float64 `json:"core_crush_pa,omitempty" says:"compressive strength of the core"`
	AllSolid  bool    `json:"all_solid,omitempty" says:"the deck has no core anywhere near"`
}

// Ending is how the line made fast to a fitting ends.
type Ending struct {
	Name  string  `json:"name,omitempty"`
	Holds float64 `json:"holds_n,omitempty" says:"what the line holds there: its breaking load with knot, splice, age and wet taken off"`
}

// AnchorLoad is one load on the eye.
type AnchorLoad struct {
	Name  string `json:"name" says:"what pulls"`
	Force Vector `json:"force_n" says:"the pull on the eye, with whatever factor on loads is wanted already in it"`
}

// AnchorFactors are what each resistance is divided by before it is held against a
// load; 0 takes the usual one, which the result then names as assumed.
type AnchorFactors struct {
	Eye     float64 `json:"eye,omitempty" says:"on the maker's rated load; 1 if left out"`
	Bolt    float64 `json:"bolt,omitempty" says:"partial factor of bolts, gamma M2; 1.25 if left out"`
	Bearing float64 `json:"bearing,omitempty" says:"on bearing; 3 if left out"`
	Punch   float64 `json:"punch,omitempty" says:"on punching; 4 if left out"`
	Core    float64 `json:"core,omitempty" says:"on shear and crushing of the core; 2 if left out"`
	Line    float64 `json:"line,omitempty" says:"on what the line holds; 2 if left out"`
}

// Assumed names a group of inputs that somebody guessed.
type Assumed string

// What can be guessed of an anchor.
const (
	AssumedBolts    Assumed = "bolts"
	AssumedPlate    Assumed = "plate"
	AssumedLaminate Assumed = "laminate"
	AssumedCore     Assumed = "core"
	AssumedEye      Assumed = "eye"
	AssumedLine     Assumed = "line"
)
