package intake

import (
	"fmt"
	"math"
	"slices"
	"sort"
	"strings"

	"dogshore/dxf"
	"dogshore/record"
)

// lot is what one question asks about: the runs of a layer or a name, or what
// a small block was inserted for.
type lot struct {
	at     Cell
	name   string
	count  string // what its things are: "run", "insertion"
	things []outlineRun
	hidden bool
}

const (
	mostLots = 200
	mostEach = 60 // runs of a lot that are asked about one by one
	// smallBlock is the greatest side of a block that is one thing on deck, and
	// no part of the plan itself, in metres.
	smallBlock = 1.5
)

// lots parts a plan's runs: what was inserted with a small block is one thing,
// outlined by the hull of its points; all else goes by its layer.
func (p *plan) lots() []*lot {
	inserted := map[int][]outlineRun{}
	for _, run := range p.runs {
		if run.insert != 0 {
			inserted[run.insert] = append(inserted[run.insert], run)
		}
	}
	small := map[int]bool{}
	for n, runs := range inserted {
		low, high := (&plan{runs: runs}).extent()
		small[n] = max(high.X-low.X, high.Y-low.Y) <= smallBlock
	}
	var out []*lot
	by := map[string]*lot{}
	add := func(kind, name, count string, run outlineRun) {
		l := by[kind+name]
		if l == nil {
			at := p.at
			at.Sheet = strings.TrimPrefix(at.Sheet+", "+kind+" "+strings.ReplaceAll(name, "=", "-"), ", ")
			l = &lot{at: at, name: name, count: count}
			by[kind+name] = l
			out = append(out, l)
		}
		l.hidden = l.hidden || run.hidden
		l.things = append(l.things, run)
	}
	word := map[bool]string{true: "layer", false: "outline"}[p.as == drawingPlan]
	for _, run := range p.runs {
		switch {
		case !small[run.insert]:
			add(word, run.group, "run", run)
		case inserted[run.insert] != nil:
			add("block", run.block, "insertion", asOne(inserted[run.insert]))
			inserted[run.insert] = nil
		}
	}
	for _, l := range out {
		for i := range l.things {
			l.things[i].at = l.at
			if len(l.things) > 1 {
				l.things[i].at.Sheet += fmt.Sprintf(", %s %d", l.count, i+1)
			}
		}
	}
	return out
}

// asOne is what was inserted at once as one run: itself if it is one, else
// the hull of its points.
func asOne(runs []outlineRun) outlineRun {
	if len(runs) == 1 {
		return runs[0]
	}
	one := runs[0]
	var points []dxf.Point
	for _, run := range runs {
		points = append(points, run.points...)
	}
	one.points, one.closed, one.of = hull(points), true, fmt.Sprintf("the hull around %d runs", len(runs))
	if len(one.points) < 3 {
		one.closed = false
	}
	return one
}

// hull is the convex hull of points seen from above, anti-clockwise (Andrew's
// monotone chain). Its heights are those of the points on it.
func hull(points []dxf.Point) []dxf.Point {
	points = slices.Clone(points)
	slices.SortFunc(points, func(a, b dxf.Point) int {
		switch {
		case a.X < b.X || a.X == b.X && a.Y < b.Y:
			return -1
		case a.X == b.X && a.Y == b.Y:
			return 0
		}
		return 1
	})
	half := func(points []dxf.Point) (out []dxf.Point) {
		for _, p := range points {
			for n := len(out); n > 1 && (out[n-1].X-out[n-2].X)*(p.Y-out[n-2].Y)-(out[n-1].Y-out[n-2].Y)*(p.X-out[n-2].X) <= 0; n = len(out) {
				out = out[:n-1]
			}
			out = append(out, p)
		}
		return out[:max(len(out)-1, 1)]
	}
	lower := half(points)
	slices.Reverse(points)
	upper := half(points)
	if len(lower) == 1 && len(upper) == 1 && lower[0] == upper[0] {
		return lower
	}
	return append(lower, upper...)
}

// notes say what a lot looks like, so that a person knows it again.
func (l *lot) notes() []string {
	var out []string
	const few = 6
	for i, run := range l.things[:min(len(l.things), few)] {
		low, high := (&plan{runs: l.things[i : i+1]}).extent()
		text := fmt.Sprintf("%s by %s m, x %s to %s, y %s to %s", metresText(high.X-low.X), metresText(high.Y-low.Y), metresText(low.X), metresText(high.X), metresText(low.Y), metresText(high.Y))
		switch {
		case len(run.points) == 1:
			text = fmt.Sprintf("a point at x %s, y %s", metresText(low.X), metresText(low.Y))
		case run.closed:
			text = fmt.Sprintf("closed, %d points, ", len(run.points)) + text
		default:
			text = fmt.Sprintf("open, %d points, ", len(run.points)) + text
		}
		if low.Z != 0 || high.Z != 0 {
			text += ", z " + heightText(low.Z, high.Z)
		}
		if run.of != "" {
			text += "; of " + run.of
		}
		out = append(out, text)
	}
	if n := len(l.things) - few; n > 0 {
		out = append(out, fmt.Sprintf("and %d more", n))
	}
	if l.hidden {
		out = append(out, "its layer is switched off in the drawing")
	}
	return out
}

func heightText(low, high float64) string {
	if math.Abs(high-low) < 0.0005 {
		return metresText(high) + " m"
	}
	return metresText(low) + " to " + metresText(high) + " m"
}

// What a run can be, beside an obstacle of a sort and a region that a sort of
// gear sweeps.
const (
	isLevel   = "deck level"
	isEdge    = "deck edge"
	isApart   = "each by itself"
	isNothing = "leave it out"
)

func obstacleOf(sort string) string { return "obstacle: " + sort }

func sweptBy(sort string) string { return "swept region: " + sort }

// taken is an answer read: the kind that a run is, and the sort of it.
type taken struct{ kind, sort string }

// readTaken reads what a run was said to be.
func readTaken(answer string) (taken, bool) {
	word, what, _ := strings.Cut(answer, ":")
	for _, x := range []struct{ word, kind string }{{isLevel, "level"}, {"level", "level"}, {isEdge, "edge"}, {"edge", "edge"}} {
		if record.Loose(word) == record.Loose(x.word) && what == "" {
			return taken{kind: x.kind}, true
		}
	}
	for _, x := range []struct{ word, kind string }{{"obstacle", "obstacle"}, {"swept region", "sweep"}, {"sweep", "sweep"}} {
		if record.Loose(word) != record.Loose(x.word) {
			continue
		}
		for _, s := range record.KindOf(x.kind).Field("sort").Of {
			if record.Loose(s) == record.Loose(what) {
				return taken{x.kind, s}, true
			}
		}
	}
	return taken{}, false
}

// guesses are words in names, with what they usually stand for. The longest
// word that a name has wins.
var guesses = func() map[string]string {
	out := map[string]string{}
	for what, words := range map[string]string{
		isLevel:              "deck,side deck,foredeck,after deck,coachroof,coach roof,cabin top,hard top,hardtop,roof,cockpit,well,sole,trampoline,net,platform,step,seat,bench,level",
		isEdge:               "edge,deck edge,sheer,gunwale,toe rail,guard rail,guardrail,pulpit,pushpit,lifeline",
		obstacleOf("hatch"):  "port light,portlight,skylight",
		obstacleOf("shroud"): "chain plate,chainplate,rigging",
		obstacleOf("winch"):  "windlass,capstan",
		obstacleOf("other"):  "obstacle,vent,dorade,antenna,solar",
		sweptBy("mainsheet"): "mainsheet,sheet bight",
		sweptBy("traveller"): "traveller,traveler",
		sweptBy("other"):     "sweep,swept,boom",
		isNothing:            "text,note,dimension,dim,defpoints,title,frame,border,centre line,center line,centreline,centerline,hatching,grid,construction,viewport",
	} {
		for word := range strings.SplitSeq(words, ",") {
			out[record.Loose(word)] = what
		}
	}
	for _, s := range record.KindOf("obstacle").Field("sort").Of {
		if s != "other" {
			out[record.Loose(s)] = obstacleOf(s)
		}
	}
	return out
}()

// guess is what a name usually stands for; "" if it says nothing.
func guess(name string) string {
	loose := record.Loose(name)
	words := make([]string, 0, len(guesses))
	for w := range guesses {
		if strings.Contains(loose, w) {
			words = append(words, w)
		}
	}
	if len(words) == 0 {
		return ""
	}
	sort.Slice(words, func(i, k int) bool {
		if len(words[i]) != len(words[k]) {
			return len(words[i]) > len(words[k])
		}
		return words[i] < words[k]
	})
	return guesses[words[0]]
}
