package rope

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/spatial/r3"
)

// worst returns the greatest of what of says of the loads, and its load's name.
func (a *anchor) worst(of func(EyeLoad) float64) (float64, string) {
	most, name := 0.0, ""
	for _, l := range a.result.Loads {
		if x := of(l); x > most {
			most, name = x, l.Name
		}
	}
	return most, name
}

// guessed returns what is missing where an input was entered as a guess.
func (a *anchor) guessed(what Assumed, says string) []string {
	if slices.Contains(a.c.Assumed, what) {
		return []string{says + ": measured or from a document, not guessed"}
	}
	return nil
}

// need returns says where value is not known.
func need(value float64, says string) []string {
	if value > 0 {
		return nil
	}
	return []string{says}
}

// close fills in margin and verdict of a part.
func (p ChainPart) close() ChainPart {
	if len(p.Missing) > 0 {
		p.Verdict, p.Holds = NotKnown, 0
		return p
	}
	p.Margin = p.Holds / p.Factor / p.Load
	p.Verdict = Meets
	if p.Margin < 1 {
		p.Verdict = MeetsNot
	}
	return p
}

// parts returns the chain, without the parts that no load reaches.
func (a *anchor) parts() []ChainPart {
	all := []ChainPart{a.line(), a.eye(), a.bolts(), a.plate(), a.bearing(), a.punch(), a.clampPart(), a.corePart()}
	out := make([]ChainPart, 0, len(all))
	for _, p := range all {
		if p.Key != "" {
			out = append(out, p)
		}
	}
	return out
}

func (a *anchor) line() ChainPart {
	if a.c.Ending == (Ending{}) {
		return ChainPart{}
	}
	p := ChainPart{Key: PartLine, Says: "the end of the line", Unit: "N", Factor: a.f.Line, Holds: a.c.Ending.Holds}
	if a.c.Ending.Name != "" {
		p.Says += ": " + a.c.Ending.Name
	}
	p.Load, p.Under = a.worst(func(e EyeLoad) float64 { return math.Hypot(e.Shear, e.Out) })
	p.Missing = append(need(p.Holds, "what the line holds at its end"), a.guessed(AssumedLine, "what the line holds at its end")...)
	return p.close()
}

// eye holds the load against the maker's rating by direction: in the plane of
// the fitting's length, and across it, the two shares added.
func (a *anchor) eye() ChainPart {
	p := ChainPart{Key: PartEye, Says: "the eye by its rated load", Factor: a.f.Eye, Holds: 1}
	aside, _ := a.worst(func(e EyeLoad) float64 { return math.Abs(e.Across) / math.Hypot(e.Shear, e.Out) })
	p.Missing = need(a.c.Rated, "load that the eye is rated for, by its maker")
	if aside > leastAside {
		p.Missing = append(p.Missing, need(a.c.Aside, "load that the eye is rated for across its length")...)
	}
	p.Missing = append(p.Missing, a.guessed(AssumedEye, "what the eye is rated for")...)
	if len(p.Missing) > 0 {
		p.Unit = "N"
		p.Load, p.Under = a.worst(func(e EyeLoad) float64 { return math.Hypot(e.Shear, e.Out) })
		return p.close()
	}
	p.Load, p.Under = a.worst(func(e EyeLoad) float64 {
		share := math.Hypot(e.Along, e.Out) / a.c.Rated
		if a.c.Aside > 0 {
			share += math.Abs(e.Across) / a.c.Aside
		}
		return share
	})
	return p.close()
}

// leastAside is the share of a pull that must go across the fitting's length
// before a rating across it is asked for: half a degree.
const leastAside = 0.01

func (a *anchor) bolts() ChainPart {
	p := ChainPart{Key: PartBolts, Says: "the bolts, in pull and shear together", Factor: 1, Holds: 1}
	p.Missing = a.boltMissing()
	if len(p.Missing) > 0 {
		return p.close()
	}
	p.Load, p.Under = a.worst(func(e EyeLoad) float64 {
		most := 0.0
		for _, b := range e.Bolts {
			most = max(most, b.Used)
		}
		return most
	})
	return p.close()
}

func (a *anchor) boltMissing() []string {
	missing := a.placeMissing()
	if a.boltErr != nil {
		missing = append(missing, "size and grade of the bolts")
	}
	return append(missing, a.guessed(AssumedBolts, "size, grade, number and places of the bolts")...)
}

// placeMissing returns what the load on single bolts would need.
func (a *anchor) placeMissing() []string {
	var missing []string
	if len(a.c.Bolts.At) == 0 {
		return []string{"number and places of the bolts"}
	}
	if a.noFoot || a.noTilt {
		missing = append(missing, "length and width of the foot")
	}
	if a.noTwist {
		missing = append(missing, "a second bolt: one alone does not keep the foot from twisting")
	}
	return missing
}

// mostBolt returns the greatest pull or shear on one bolt.
func mostBolt(of func(BoltLoad) float64) func(EyeLoad) float64 {
	return func(e EyeLoad) float64 {
		most := 0.0
		for _, b := range e.Bolts {
			most = max(most, of(b))
		}
		return most
	}
}

func pullOf(b BoltLoad) float64  { return b.Pull }
func shearOf(b BoltLoad) float64 { return b.Shear }

// pulls returns all pulls of the bolts together.
func pulls(e EyeLoad) float64 {
	sum := 0.0
	for _, b := range e.Bolts {
		sum += b.Pull
	}
	return sum
}

// plateSize returns the least thickness and equivalent diameter of what spreads
// a bolt's pull, in bolt diameters. Practitioners' break tests: a plate of five
// bolt diameters, a third of one thick in metal, two thirds in glass.
func plateSize(sort string) (thick, wide float64) {
	if sort == BackingGlass {
		return 2.0 / 3, 5
	}
	return 1.0 / 3, 5
}

func (a *anchor) plate() ChainPart {
	if most, _ := a.worst(pulls); most == 0 && len(a.c.Bolts.At) > 0 {
		return ChainPart{}
	}
	b, d := a.c.Backing, a.c.Bolts.Size
	p := ChainPart{Key: PartPlate, Says: "the backing plate, against what breaks tell of its size", Factor: 1, Load: 1}
	p.Missing = append(need(d, "size of the bolts"), a.guessed(AssumedPlate, "what backs the bolts")...)
	if b.Sort == "" {
		p.Missing = append(p.Missing, "what backs the bolts: plate, washers or nothing")
	}
	thick, wide := plateSize(b.Sort)
	switch b.Sort {
	case BackingNone:
		p.Says, p.Holds = "the bolts' nuts, with no plate behind them", nutWidth/wide
	case BackingWashers:
		p.Missing = append(p.Missing, append(need(b.Thick, "thickness of the washers"), need(b.Long, "diameter of the washers")...)...)
		p.Holds = min(b.Thick/(thick*d), b.Long/(wide*d))
	default:
		p.Missing = append(p.Missing, append(need(b.Thick, "thickness of the backing plate"), need(b.Long*b.Wide, "length and width of the backing plate")...)...)
		share := math.Sqrt(4 * b.Long * b.Wide / math.Pi / float64(max(len(a.c.Bolts.At), 1)))
		p.Holds = min(b.Thick/(thick*d), share/(wide*d))
	}
	return p.close()
}

// eyeForce is the load of e in the axes of the foot.
func eyeForce(e EyeLoad) r3.Vec { return r3.Vec{X: e.Along, Y: e.Across, Z: e.Out} }
