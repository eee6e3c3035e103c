// Package deck is the desk of the deck gear: can one stay clipped on for every
// task, what do lines and anchors see, what does a preventer see, and what
// must be in the laminate before it is closed. It makes the cases of the
// engines jackstay, rope and gybe from the record, once for each arrangement
// that is still open, and says what the answers ask of the next visit.
package deck

import (
	"dogshore/desk"
	"dogshore/figure"
	"dogshore/gybe"
	"dogshore/jackstay"
	"dogshore/record"
	"dogshore/rope"
	"dogshore/unit"
)

// Answer is what the deck desk says of a record.
type Answer struct {
	Plan         Plan
	Arrangements []Arrangement // what stands in every one first, then the options
	Compared     []Comparison  // each two arrangements of one open point
	Cautions     []string      // of everything in the answer, each once
	Missing      []string      // what is not on record, and what it would give; said only once there is a line, a tether or a preventer
	Acts         []desk.Act
	Solves       int // equilibria that the engines found for this answer; 0 when all of it was remembered
}

// Known reports whether the record holds anything that this desk can speak of.
func (a Answer) Known() bool { return len(a.Arrangements) > 0 || a.Plan.drawn() }

// Plan is the deck as it is drawn: what the record says, nothing reckoned.
type Plan struct {
	Levels    []record.Level
	Edges     []record.Edge
	Obstacles []record.Obstacle
	Sweeps    []record.Sweep
	Tracing   *record.Tracing // the latest one; nil if the plan was traced over none
	Off       float64         // how far a traced point may be off, m
}

func (p Plan) drawn() bool { return len(p.Levels)+len(p.Edges)+len(p.Obstacles) > 0 }

// Arrangement is one way to do it: what stands in every arrangement, with what
// one option of an open point adds.
type Arrangement struct {
	Point  record.Ref // "" for what stands in every one
	Option record.Ref
	Name   string
	Built  bool // what is built if nobody says anything, or what was decided

	Lines    []record.Jackstay
	Supports map[record.Ref][]record.Support // of each line, from aft
	Fittings []record.Fitting
	Case     jackstay.Case
	Result   jackstay.Result
	Tasks    []Task
	Rules    []jackstay.Answer
	Gybe     []Gybe
	Sweep    gybe.SweepResult
	Anchors  []Anchor
	Findings []Finding
	Legs     []Leg   // each leg of each tether on each line
	Facts    []Said  // islands, bare deck, friction, swing and dip, where they are known
	Remarks  []Said  // what is often taken to be the other way round, with this arrangement's numbers
	Figures  []About // the numbers of each line, eye, task, fitting and preventer, with their workings
	Cautions []string
	Cost     Cost
}

// Gybe is one boom with the preventers of an arrangement.
type Gybe struct {
	Boom   record.Boom
	Case   gybe.Case
	Result gybe.Result
}

// Task is a task on deck, walked.
type Task struct {
	record.Task
	Walked jackstay.Walked
}

// Anchor is a fitting with what it sees and what is under it.
type Anchor struct {
	record.Fitting
	Case    rope.AnchorCase
	Result  rope.AnchorResult
	Figures []figure.Figure // what share of each part its loads use
}

// Leg is where the harness ring comes on one leg of one tether, clipped to one
// line: with a hook of its own each leg has a result of its own.
type Leg struct {
	Line, Tether record.Ref
	Leg          float64 // m, hooks included
	Hook         int     // which of the tether's hooks, from 1
	Hooks        int
	Far, Error   float64        // farthest from the unloaded line, lying, at half stiffness, m
	Class        jackstay.Class // the worst over the deck's edges; aboard where none is near
	Edge         record.Ref     // over which
	Says         string
	Figures      []figure.Figure
}

// Said is something that the figures say, and that is no finding.
type Said struct {
	Of      record.Ref   // "" for the whole deck
	Also    []record.Ref // of which the same is true
	What    string       // what it is about: "bare deck"
	Says    string
	Figures []figure.Figure
}

// About are the numbers of one thing.
type About struct {
	Of      record.Ref
	Side    string // of a preventer's lead, the side that the boom is out to
	Figures []figure.Figure
}

// Of returns the numbers of a line, an eye, a task, a fitting or a preventer,
// with their workings.
func (a *Arrangement) Of(ref record.Ref) []figure.Figure {
	var out []figure.Figure
	for _, x := range a.Figures {
		if x.Of == ref {
			out = append(out, x.Figures...)
		}
	}
	return out
}

// Finding is one thing that the figures say of an arrangement.
type Finding struct {
	Sort    Sort
	Of      record.Ref   // the line, fitting, task or preventer
	Also    []record.Ref // those of which the same is true: its mirror image, or fittings of one make
	Says    string
	Figures []figure.Figure
	Caution string
}

// Count is of how many things the finding is true.
func (f Finding) Count() int { return 1 + len(f.Also) }

// Sort is what a finding is about.
type Sort string

// The sorts of findings, gravest first.
const (
	Dragged  Sort = "over the side, dragged"
	OverSide Sort = "over the side"
	Gap      Sort = "not clipped on"
	Weak     Sort = "over its rating"
	Unheld   Sort = "preventer does not hold"
	Swept    Sort = "in what the boom sweeps"
	Crossed  Sort = "in the way"
	Snag     Sort = "can catch"
	RuleNot  Sort = "rule not met"
	Unknown  Sort = "not known"
)

// Cost is what an arrangement adds: as its option says, beside what its
// fittings weigh.
type Cost struct {
	Price    unit.Money
	Weight   unit.Quantity
	Days     unit.Quantity
	Fittings float64   // weight of its fittings on record, kg
	By       desk.When // until when it can be chosen
}
