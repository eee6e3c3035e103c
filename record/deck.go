package record

import "dogshore/unit"

// Level is a piece of deck that one can stand on, at one height.
type Level struct {
	Subject
	Name   string        `says:"name of the level: side deck, coachroof, cockpit, trampoline" is:"need,name"`
	Part   Ref           `says:"the part it belongs to" of:"part"`
	Plan   Outline       `says:"outline seen from above: x y; x y; ... in metres" is:"need"`
	Height unit.Quantity `says:"height above the design waterline" in:"length"`
}

// Edge is a run of the deck's edge, over which one can fall.
type Edge struct {
	Subject
	Name      string        `says:"name of the run: port side, transom, forward of the trampoline" is:"need,name"`
	Path      Outline       `says:"its run seen from above: x y; x y; ... in metres" is:"need,path"`
	Height    unit.Quantity `says:"height of the deck edge above the water: freeboard, with its band as 1.1 to 1.3 m" in:"length"`
	Rail      unit.Quantity `says:"height of the upper guard-wire or rail above the deck; 0 m where there is none" in:"length"`
	Gap       unit.Quantity `says:"opening below the lowest wire" in:"length"`
	Footstop  unit.Quantity `says:"height of the toe-rail" in:"length"`
	Stanchion unit.Quantity `says:"distance from stanchion to stanchion" in:"length"`
}

// Obstacle is something on deck that a slack line or a hook can catch on, that
// is in the way, or that swings.
type Obstacle struct {
	Subject
	Name   string        `says:"what it is: midship cleat, port hatch lid" is:"need,name"`
	Sort   string        `says:"what sort of thing" of:"cleat|track|hatch|mast|winch|stanchion|shroud|furler|sharp edge|other" is:"need"`
	Plan   Outline       `says:"outline or run seen from above: x y; x y; ... in metres; one point will do" is:"need,point"`
	Base   unit.Quantity `says:"height of its foot above the design waterline" in:"length"`
	Height unit.Quantity `says:"how far it stands up" in:"length"`
	Swings unit.Quantity `says:"how far its lid or arm swings out" in:"length"`
	Part   Ref           `says:"the part it is on" of:"part"`
}

// Rope is a rope, webbing or wire, as bought.
type Rope struct {
	Subject
	Name      string        `says:"what it is: 25 mm webbing, 6 mm wire" is:"need,name"`
	Make      string        `says:"what it is made of" of:"polyester webbing|nylon webbing|wire 1x19|HMPE|HMPE heat-set|polyester braid|nylon 3-strand"`
	Size      unit.Quantity `says:"diameter, or width of webbing" in:"length"`
	Breaking  unit.Quantity `says:"breaking load when new, from its maker" in:"force"`
	Stiffness unit.Quantity `says:"force that would double its length, from its maker's stretch; empty takes the usual for its make" in:"force"`
	Stretch   string        `says:"its maker's stretch test, in place of that force: 1 % at 2 kN; 4 % at 10 kN"`
	Ending    string        `says:"how its ends are made; tested whole if its breaking load is that of the line with its ends" of:"sewn|splice|knot|terminal|tested whole"`
	Age       unit.Quantity `says:"how long it has been out in the sun" in:"time"`
	Source    string        `says:"where its figures come from: maker's sheet, test report"`
}

// Fitting is hardware on a part: an eye, a block, a cleat, a stanchion foot.
type Fitting struct {
	Subject
	Name      string        `says:"what it is and where: port after pad eye" is:"need,name"`
	Sort      string        `says:"what sort of fitting" of:"pad eye|U-bolt|stanchion foot|cleat|block|clutch|winch|track|plate|other"`
	Part      Ref           `says:"the part it is bolted to" of:"part"`
	Spot      Spot          `says:"where: x; y; z in metres" is:"need"`
	Option    Ref           `says:"the arrangement it belongs to; empty if it stands in every one" of:"option"`
	Clip      Flag          `says:"is it meant to clip a hook to?"`
	Rated     unit.Quantity `says:"load it is rated for, by its maker" in:"force"`
	Aside     unit.Quantity `says:"load it is rated for across its length" in:"force"`
	Stands    unit.Quantity `says:"height of the load above the deck" in:"length"`
	PlateLong unit.Quantity `says:"length of its foot" in:"length"`
	PlateWide unit.Quantity `says:"width of its foot" in:"length"`
	Bolts     unit.Quantity `says:"number of bolts" in:"number"`
	BoltSize  unit.Quantity `says:"bolt diameter" in:"length"`
	BoltGrade string        `says:"grade of the bolts" of:"A2-50|A2-70|A4-50|A4-70|A4-80|8.8"`
	Under     string        `says:"what is under it; empty if nobody knows" of:"solid laminate|insert|foam core|balsa core"`
	Laminate  unit.Quantity `says:"thickness of the solid laminate under it" in:"length"`
	PadLong   unit.Quantity `says:"length of the solid laminate or insert" in:"length"`
	PadWide   unit.Quantity `says:"width of the solid laminate or insert" in:"length"`
	OuterSkin unit.Quantity `says:"thickness of the outer skin of the deck around it" in:"length"`
	Core      unit.Quantity `says:"thickness of the core around it" in:"length"`
	InnerSkin unit.Quantity `says:"thickness of the inner skin around it" in:"length"`
	Bearing   unit.Quantity `says:"strength of that laminate where a bolt bears on it, from the designer" in:"pressure"`
	Shear     unit.Quantity `says:"strength of that laminate in shear through its thickness, from the designer" in:"pressure"`
	CoreShear unit.Quantity `says:"strength of the core in shear, from its maker" in:"pressure"`
	Backing   string        `says:"backing: material of the plate" of:"none|washers|stainless plate|aluminium plate|glass plate"`
	BackThick unit.Quantity `says:"thickness of the backing plate" in:"length"`
	BackLong  unit.Quantity `says:"length of the backing plate" in:"length"`
	BackWide  unit.Quantity `says:"width of the backing plate" in:"length"`
	Before    Ref           `says:"the step before which what is under it must be in" of:"step"`
	Weight    unit.Quantity `says:"weight with backing" in:"mass"`
}

// Jackstay is a line along the deck that a tether is clipped to.
type Jackstay struct {
	Subject
	Name    string        `says:"name: port jackstay" is:"need,name"`
	Side    string        `says:"side, as she floats" of:"port|starboard|middle"`
	Rope    Ref           `says:"what it is made of" of:"rope"`
	Option  Ref           `says:"the arrangement it belongs to; empty if it stands in every one" of:"option"`
	Slack   unit.Quantity `says:"how much longer it is than the straight way between its points: 1 %" in:"number"`
	Tension unit.Quantity `says:"or the tension it is set up with" in:"force"`
	Persons unit.Quantity `says:"how many can be clipped to it at once; empty is one" in:"number"`
}

// Support is one point of a jackstay: an end, or a guide that it passes.
type Support struct {
	Subject
	Jackstay Ref           `says:"of which jackstay" of:"jackstay" is:"need"`
	Number   unit.Quantity `says:"its place in the row, from aft" in:"number" is:"need"`
	How      string        `says:"how it holds the line" of:"end|guide|fixed on the way" is:"need"`
	Fitting  Ref           `says:"the fitting it is made fast to" of:"fitting"`
	Spot     Spot          `says:"where, if it is no fitting: x; y; z in metres"`
	Friction unit.Quantity `says:"friction of a guide: 0.15" in:"number"`
}

// Tether is what clips a person to a jackstay or an eye.
type Tether struct {
	Subject
	Name   string        `says:"name: long legs of the watch" is:"need,name"`
	Long   unit.Quantity `says:"length of the longest leg, hooks included" in:"length" is:"need"`
	Short  unit.Quantity `says:"length of the short leg, if there is one" in:"length"`
	Hooks  unit.Quantity `says:"number of hooks at the far ends: 1, 2 or 3" in:"number"`
	Rope   Ref           `says:"what it is made of" of:"rope"`
	Wearer string        `says:"who wears it"`
	Mass   unit.Quantity `says:"weight of who wears it, dressed" in:"mass"`
	Ring   unit.Quantity `says:"height of the harness ring, standing" in:"length"`
}

// Task is what a person must do on deck at sea, and the way there.
type Task struct {
	Subject
	Name    string  `says:"the task: go to the mast and reef" is:"need,name"`
	Way     Outline `says:"the way seen from above, from where one clips on: x y; x y; ... in metres" is:"need,path"`
	Hands   string  `says:"hands that the work needs" of:"one|both"`
	Posture string  `says:"how one does it" of:"standing|kneeling|lying"`
}

// Boom is the boom with its sail, for the preventer and for what it sweeps.
type Boom struct {
	Subject
	Name      string        `says:"name: main boom" is:"need,name"`
	Gooseneck Spot          `says:"where it is hinged: x; y; z in metres" is:"need"`
	Length    unit.Quantity `says:"from the mast to its end" in:"length" is:"need"`
	Depth     unit.Quantity `says:"depth of its section" in:"length"`
	Mass      unit.Quantity `says:"weight of the boom" in:"mass"`
	Bending   unit.Quantity `says:"bending strength: the force that it bears at 1 m from a clamp" in:"force"`
	Squeeze   unit.Quantity `says:"compression that it bears along its length" in:"force"`
	Luff      unit.Quantity `says:"hoist of the sail set" in:"length"`
	Foot      unit.Quantity `says:"foot of the sail" in:"length"`
	SailArea  unit.Quantity `says:"area of the sail set" in:"area"`
	SailMass  unit.Quantity `says:"weight of the sail" in:"mass"`
	Wind      unit.Quantity `says:"true wind the preventer must hold, as 20 to 30 kn" in:"speed"`
	Out       unit.Quantity `says:"how far out it can go before the shroud: 75°" in:"angle"`
	Rise      unit.Quantity `says:"height of its end above the gooseneck" in:"length"`
	Speed     unit.Quantity `says:"speed at which its end might go into the water, as 6 to 8 kn" in:"speed"`
	Dips      unit.Quantity `says:"how much of it would be in the water then" in:"length"`
	Sheet     Spot          `says:"where the mainsheet meets the deck: x; y; z in metres"`
	SheetAt   unit.Quantity `says:"where the mainsheet meets the boom, from the mast" in:"length"`
}

// Preventer is a line that holds the boom out.
type Preventer struct {
	Subject
	Name   string        `says:"name: port preventer" is:"need,name"`
	Boom   Ref           `says:"of which boom" of:"boom" is:"need"`
	Side   string        `says:"side it is led on; both if one line is shifted" of:"port|starboard|both"`
	At     unit.Quantity `says:"where it is made fast on the boom, from the mast" in:"length" is:"need"`
	Rope   Ref           `says:"what it is made of" of:"rope"`
	Slack  unit.Quantity `says:"slack in it when the gybe comes" in:"length"`
	Option Ref           `says:"the arrangement it belongs to; empty if it stands in every one" of:"option"`
}

// Turn is a point of a preventer's way: a block it turns in, or its end.
type Turn struct {
	Subject
	Preventer Ref           `says:"of which preventer" of:"preventer" is:"need"`
	Number    unit.Quantity `says:"its place in the row, from the boom" in:"number" is:"need"`
	Fitting   Ref           `says:"the block, eye, clutch or cleat" of:"fitting"`
	Spot      Spot          `says:"where, if it is no fitting: x; y; z in metres"`
	Rated     unit.Quantity `says:"load the block or clutch is rated for, if it is no fitting" in:"force"`
}

// Sweep is a region that moving gear sweeps, besides the boom.
type Sweep struct {
	Subject
	Name string        `says:"what sweeps: the bight of the mainsheet, the traveller" is:"need,name"`
	Sort string        `says:"what sort of gear" of:"mainsheet|traveller|preventer|sheet|other"`
	Plan Outline       `says:"what it sweeps, seen from above: x y; x y; ... in metres" is:"need"`
	Low  unit.Quantity `says:"from this height above the design waterline" in:"length"`
	High unit.Quantity `says:"to this height" in:"length"`
}

// Tracing is a picture that the deck plan is traced over, scaled by two
// points that are known on both.
type Tracing struct {
	Subject
	Name  string        `says:"what it is: deck plan, sheet 4, revision C" is:"need,name"`
	File  File          `says:"the picture"`
	A     Spot          `says:"a point known on the boat: x; y; z in metres"`
	ALeft unit.Quantity `says:"where it is on the picture, from its left edge, in pixels" in:"number"`
	ADown unit.Quantity `says:"and from its upper edge" in:"number"`
	B     Spot          `says:"a second point known on the boat: x; y; z in metres"`
	BLeft unit.Quantity `says:"where it is on the picture, from its left edge, in pixels" in:"number"`
	BDown unit.Quantity `says:"and from its upper edge" in:"number"`
	Off   unit.Quantity `says:"how far a traced point may be off" in:"length"`
}
