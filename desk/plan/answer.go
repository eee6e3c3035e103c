// Package plan is the desk of the programme: which step stands where, what
// comes next, what it covers up, what must be settled before it, and which
// promises were kept.
package plan

import (
	"dogshore/calendar"
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/programme"
	"dogshore/record"
)

// Answer is what the plan desk says of a record.
type Answer struct {
	Level     desk.Level
	DataDate  calendar.Day       // the day of the record
	LastVisit record.Visit       // the last one that looked; zero if none
	Week      *calendar.Calendar // on which the yard works
	Steps     []Step             // in the order of the network
	Next      []record.Ref       // steps that can come next
	Points    []Point            // open ones, by what can't be undone soonest
	Settled   []Point
	Covers    []Cover
	Holds     []Hold
	Items     []Item
	Promises  []Promise
	Keepers   []Keeper // promises by person
	Launch    Launch
	Network   programme.Result
	Forecast  Forecast
	Doubts    []Doubt
	Acts      []desk.Act
	Figures   []figure.Figure
}

// Step is a step with all that is known of it.
type Step struct {
	record.Step
	State     string         // not started, under way, done, not known
	Grounds   record.Grounds // of State: seen, shown, told, or inferred from a later step
	Since     calendar.Day   // the day of the sighting that says so
	Begun     calendar.Day   // by which it was firmly known to have begun, by a look or by inference; what was only told does not count
	Ahead     int            // steps of the boat that have to begin first; 0 can be next
	Waits     []record.Ref   // what it still waits for
	Covers    []record.Ref   // its covers
	Said      []Promise      // dates said of it, latest first
	Start     desk.When      // when it starts, if a date is earned
	Chance    desk.When      // the last working day over before it starts: by the end of that day
	Finish    desk.When
	Times     programme.Times
	Outlook   programme.StepOutlook // its spread, on the level of the forecast
	NeverSeen bool                  // done by inference only: ask for the record
}

// Point is an open point with what it hangs on.
type Point struct {
	record.Point
	Step     record.Ref // the step that covers it up
	Ahead    int        // steps before that one, -1 not known
	Gone     bool       // that step was seen begun
	Options  []record.Option
	Leads    []record.Lead
	Guess    bool                    // a lead that nobody quoted, or none at all where something is made: ask the lead
	By       desk.When               // decide-by: by the end of that day
	Outlook  *programme.PointOutlook // on the level of the forecast: its chances, and the door of each option
	Doors    []Door                  // the options, each with its own last day
	Cutoff   desk.When               // stated cut-off, beside it; the earlier governs
	Decision *record.Decision
	State    PointState
}

// Governs returns the earlier of decide-by and stated cut-off.
func (p Point) Governs() desk.When { return earlier(p.Cutoff, p.By) }

// Door is one option of a point and the last day on which it can still be
// chosen.
type Door struct {
	Option record.Ref
	Step   record.Ref // with which it ends
	Ahead  int
	Gone   bool      // that step was seen begun
	Guess  bool      // a lead that nobody quoted: no date
	By     desk.When // by the end of that day
}

// PointState is read off observations, never stored.
type PointState string

// The states of a point.
const (
	Open      PointState = "open"
	SaidOnly  PointState = "decided, only told"
	NoPower   PointState = "decided with somebody who may not instruct"
	InWriting PointState = "decided, in writing"
)

// Cover is something that a step covers up, and what of it is on file.
type Cover struct {
	record.Cover
	Ahead  int
	Gone   bool         // the step was seen begun, or that follows from a later one's sighting
	Of     []record.Ref // the steps whose work it hides
	GoneBy calendar.Day // the day by which it had begun
	OnFile []record.Evidence
	File   File
	Looked record.Ref // the visit at which the step before was seen and it could be looked at
	Before desk.When  // the last chance: by the end of that day
}

// Hold is a step that waits for a release, or is announced.
type Hold struct {
	Step     record.Ref
	Kind     string       // hold or witness
	Binding  bool         // it has a clause and somebody who may release
	Next     record.Ref   // the first step that comes after it
	Passed   calendar.Day // by which a binding hold's step, or the step after another kind, was firmly known to have begun
	Released *record.Release
	ByRight  bool // whoever released it may
}

// Item is a bought-in item and where it stands.
type Item struct {
	record.Item
	Step    record.Ref // that needs it
	Ahead   int        // steps before that one, -1 not known
	Begun   bool       // that step was seen begun
	Ordered calendar.Day
	Arrived calendar.Day
	Whole   bool // all of it was found
	Lacking bool // it was found that some is missing
	Said    []Promise
	Needed  desk.When
	OrderBy desk.When // needed less quoted leads, by the end of that day
	Guess   bool
	Late    bool // said or computed to arrive after it is needed
}

// Promise is one date that somebody said.
type Promise struct {
	record.Statement
	State    PromiseState
	Late     int          // civil days late at least, if not kept
	Replaced record.Ref   // the later statement that says another date
	Again    bool         // the same date was said once more later: counted there
	SeenOn   calendar.Day // the day of the look that settled it; zero if their own later word did
	// Within: kept or broken can't be told closer than between two visits.
	Within bool
}

// PromiseState is read off sightings and later statements.
type PromiseState string

// The states of a promise.
const (
	Kept      PromiseState = "kept"
	Broken    PromiseState = "not kept"
	Moved     PromiseState = "moved before it was due"
	Pending   PromiseState = "still to come"
	Unseen    PromiseState = "due, nobody has looked"
	EitherWay PromiseState = "kept or not can't be told"
)

// Keeper counts one person's promises.
type Keeper struct {
	Who                       record.Ref
	Kept, Broken, Moved, Open int
	Unclear                   int // kept or not can't be told
}

// Launch is what is known of the launch.
type Launch struct {
	Step     record.Ref
	Said     desk.When
	First    desk.When // the first date ever said
	Contract desk.When
	Computed desk.When
	Done     bool   // seen
	Caution  string // what a launch date is not
}

// Doubt is a contradiction of the record that the desk found.
type Doubt struct {
	Kind  DoubtKind
	About []record.Ref
	Says  string
	Sides []string
}

// DoubtKind tells doubts apart.
type DoubtKind string

// The contradictions that this desk finds.
const (
	Sightings        DoubtKind = "sightings"  // no course of the programme allows them
	WordAgainstSight DoubtKind = "told"       // what was told, against what was seen
	Ring             DoubtKind = "ring"       // steps that wait for themselves
	Unreadable       DoubtKind = "unreadable" // a calendar or the whole programme
	Meaning          DoubtKind = "meaning"    // a date without what happens then
	TooEarly         DoubtKind = "start"      // a told start that the durations can't meet
	Built            DoubtKind = "built"      // begun without what it needs
	Deliveries       DoubtKind = "deliveries" // order and arrival
	Delivery         DoubtKind = "delivery"   // arrives after it is needed
	Decisions        DoubtKind = "decisions"  // two that differ
	Power            DoubtKind = "power"      // released by somebody who may not
	Released         DoubtKind = "released"   // after what it holds back had begun
	Premature        DoubtKind = "premature"  // released before the work before it was done
)

// Forecast is what can be said by chance: how pace and waiting were learned,
// and the spread of every date. Each step and point carries its own part of
// it. Below its threshold it says what it would need, and nothing else.
type Forecast struct {
	Enough  bool              // chances may be named
	Needs   string            // what it would need, in words; empty if Enough
	Learned programme.Learned // pace and waiting, from how many chains and visits
	Launch  programme.LaunchOutlook
	Early   desk.When // one chance in ten that the launch is earlier
	Even    desk.When // as likely before as after
	Late    desk.When // four chances in five that she is launched by then
	Trials  int
	Seed    uint64
	Order   []programme.Link // the order at moulds, cradles and bays that was counted with
	Stands  []StandOrder     // the same in words, where a part waits for another, and how often it is regretted

	asked programme.ForecastCase // what the forecast was asked
}
