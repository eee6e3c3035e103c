package rope

// UnderFoot is what is missing of an anchor where nobody knows what it stands on:
// of all that can be missing the first to ask, since it is covered up.
const UnderFoot = "what is under the foot: solid laminate, insert or core"

// Verdict is how a part stands against the figures entered. There is no word
// for more than that.
type Verdict string

// The verdicts.
const (
	Meets    Verdict = "meets the figures entered"
	MeetsNot Verdict = "does not meet the figures entered"
	NotKnown Verdict = "unknown"
)

// AnchorResult is what each part of an anchor carries, and what the deck under
// it must be.
type AnchorResult struct {
	Name  string      `json:"name"`
	Loads []EyeLoad   `json:"loads"`
	Parts []ChainPart `json:"parts"` // from the line to the core; each under the load that is worst for it

	Verdict Verdict  `json:"verdict"`           // of the chain: unknown if a part is, unless a known part fails
	Weakest string   `json:"weakest,omitempty"` // the part with the least margin; only if every part is known, or one fails
	Margin  float64  `json:"margin,omitempty"`  // of the weakest part, factors taken off; absent where the verdict is unknown
	Missing []string `json:"missing,omitempty"` // what would have to be known

	Demand   Demand    `json:"demand"`
	Assumed  []string  `json:"assumed,omitempty"`
	Cautions []Caution `json:"cautions"`
}

// EyeLoad is one load on an eye, in the axes of its foot, and on its bolts.
type EyeLoad struct {
	Name   string     `json:"name"`
	Along  float64    `json:"along_n"`
	Across float64    `json:"across_n"`
	Out    float64    `json:"out_n"`   // out of the deck; less than 0: into it
	Shear  float64    `json:"shear_n"` // in the plane of the deck
	Tilt   float64    `json:"tilt_nm"` // moment that turns the foot over, about the middle of its bolts
	Twist  float64    `json:"twist_nm"`
	Bolts  []BoltLoad `json:"bolts,omitempty"`
	Model  string     `json:"model,omitempty"` // which model of the two gave the greatest pull on a bolt
}

// BoltLoad is what one bolt takes.
type BoltLoad struct {
	At      Plan    `json:"at"`
	Elastic float64 `json:"elastic_n"`         // pull, all bolts as springs about their middle; less than 0: the foot presses there
	Pivot   float64 `json:"pivot_n,omitempty"` // pull, the foot turning about its edge; 0 where it does not turn
	Pull    float64 `json:"pull_n"`            // the greater of the two, not less than 0
	Shear   float64 `json:"shear_n"`
	Used    float64 `json:"used,omitempty"` // of the bolt's resistance in pull and shear together; 0 if it is not known
}

// ChainPart is one part of an anchor, under the load that is worst for it.
type ChainPart struct {
	Key     PartKey  `json:"key"`
	Says    string   `json:"says"`
	Under   string   `json:"under,omitempty"`   // name of the load that is worst for it
	Load    float64  `json:"load,omitempty"`    // in Unit
	Holds   float64  `json:"holds,omitempty"`   // in Unit, before its factor; 0 if not known
	Unit    string   `json:"unit,omitempty"`    // N, Pa, or empty for a share
	Factor  float64  `json:"factor,omitempty"`  // what it is divided by
	Margin  float64  `json:"margin,omitempty"`  // Holds / Factor / Load; absent where the verdict is unknown
	Verdict Verdict  `json:"verdict"`           //
	Missing []string `json:"missing,omitempty"` // what would have to be known or measured
}

// PartKey names a part of an anchor.
type PartKey string

// The parts, from the line to the core.
const (
	PartLine    PartKey = "line"
	PartEye     PartKey = "eye"
	PartBolts   PartKey = "bolts"
	PartPlate   PartKey = "plate"
	PartBearing PartKey = "bearing"
	PartPunch   PartKey = "punching"
	PartClamp   PartKey = "clamp"
	PartCore    PartKey = "core"
)

// Demand is what a cored deck must have under a fitting for the loads given:
// an act, not something that is there. Sizes are seen from above.
type Demand struct {
	Replace string   `json:"replace,omitempty"`  // the core that must come out; empty where the deck is solid
	Long    float64  `json:"long_m,omitempty"`   // of the solid laminate or insert, along the foot
	Wide    float64  `json:"wide_m,omitempty"`   //
	Radius  float64  `json:"radius_m,omitempty"` // if it is round instead
	Taper   float64  `json:"taper_m,omitempty"`  // beyond that, all round: length over which the core runs down
	Thick   float64  `json:"thick_m,omitempty"`  // least solid laminate
	Plate   float64  `json:"plate_m2,omitempty"` // area that the bolts' clamping needs, if it stood on the core
	Rests   []Rest   `json:"rests_on,omitempty"` // the strengths it was reckoned with
	Missing []string `json:"missing,omitempty"`  // what could not be reckoned, and what it would need
}

// Rest is a strength that a demand was reckoned with.
type Rest struct {
	What    string  `json:"what"`
	Value   float64 `json:"value"`
	Unit    string  `json:"unit"`
	Assumed bool    `json:"assumed,omitempty"` // the low end of what is usual, because none was entered
}
