package jackstay

// remark.go says, with a line's own numbers, what people often take to be the
// other way round.

// RemarkKey names a remark.
type RemarkKey string

// The remarks.
const (
	SlackDoesNotSpare RemarkKey = "slack does not lower the load of a fall"
	SpanIsReach       RemarkKey = "half the span under the same load: another reach, not another tension"
	ShortIsHard       RemarkKey = "half the span in a fall: less line to give way, so a greater load"
	StuffIsTension    RemarkKey = "wire or webbing: what stretches less is pulled harder"
	HeldIsWorst       RemarkKey = "a hook held by its own support is loaded most"
	JamOrSlide        RemarkKey = "a hook that jams and one that slides are held differently"
)

// Remark sets two numbers of one line beside each other.
type Remark struct {
	Key    RemarkKey `json:"key"`
	What   string    `json:"what"`
	As     float64   `json:"as_entered"`
	Then   float64   `json:"then"`
	Change string    `json:"if"`
	Unit   string    `json:"unit"`
	Told   Told      `json:"told" says:"within the band of half and double stiffness, or beyond it"`
}

// Middle is what happens in the middle of the longest span: the place where
// lines are usually reckoned, and not the worst.
type Middle struct {
	Load    Band `json:"load_n" says:"of the fall, on the line"`
	Tension Band `json:"tension_n"`
	Sag     Band `json:"sag_m" says:"under the load of the fall"`
	Slide   Band `json:"slide_sag_m" says:"under the load of a slide, longest leg"`
}

func (r *lineReady) longest() *spanReady {
	best := &r.spans[0]
	for i := range r.spans {
		if r.spans[i].chord > best.chord {
			best = &r.spans[i]
		}
	}
	return best
}

// middleOf works the fall in the middle of the longest span, jammed; stuck in
// the guides, or, if runs, free in them and running.
func (s *setup) middleOf(r *lineReady, q int, runs bool, solves *int) (load, tension, sag, slideSag float64) {
	best := r.longest()
	var l laid
	if runs {
		r.runIn(best, false, &l)
	} else {
		r.jamAt(best, best.chord/2, false, &l)
	}
	w := sweep{s: s, r: r, q: q}
	slide, fall := w.drops()
	square := &best.dirs[half/2]
	a, p := l.caught(square, w.stiffest(), &fall, 0, solves)
	longest := &s.legs[0].strap[q]
	for i := range s.legs {
		if t := &s.legs[i].strap[q]; t.Length > longest.Length {
			longest = t
		}
	}
	_, p2 := l.caught(square, longest, &slide, 0, solves)
	return a.Line, max(p.ta, p.tb), p.y, p2.y
}

func (s *setup) middle(l *Line, solves *int) Middle {
	var v [4][3]float64
	for q, k := range scales {
		v[0][q], v[1][q], v[2][q], v[3][q] = s.middleOf(l.ready(k), q, false, solves)
	}
	return Middle{band(v[0]), band(v[1]), band(v[2]), band(v[3])}
}

// halved is the line with a fixed support in the middle of each span.
func (l *Line) halved() *Line {
	out := *l
	out.Supports = nil
	for i, p := range l.Supports {
		if i > 0 {
			mid := Support{At: l.Supports[i-1].At.vec().mix(p.At.vec(), 0.5).spot(), Kind: FixedSupport}
			out.Supports = append(out.Supports, mid)
		}
		p.Kind = FixedSupport
		out.Supports = append(out.Supports, p)
	}
	return &out
}

// otherwise is the line of what stretches much more, or much less.
func (l *Line) otherwise() (out *Line, change string) {
	o := *l
	if law, _ := l.Stuff.law(); law.Slope() > 600e3 {
		o.Stuff = Stuff{Material: "polyester webbing 25 mm"}
		return &o, "25 mm polyester webbing instead"
	}
	o.Stuff = Stuff{Material: "1x19 wire 5 mm"}
	return &o, "5 mm wire instead"
}

// loaded is the middle of the longest span under a given load at each
// stiffness, the line stuck at its supports.
func (s *setup) loaded(l *Line, load Band, solves *int) (tension, sag Band) {
	var t, y [3]float64
	for q, f := range [3]float64{load.Soft, load.As, load.Stiff} {
		r := l.ready(scales[q])
		best := r.longest()
		var d laid
		r.jamAt(best, best.chord/2, true, &d)
		square := &best.dirs[half/2]
		p := d.pulled(f*square.fx, f*square.fy, place{}, false)
		t[q], y[q] = max(p.ta, p.tb), p.y
		*solves++
	}
	return band(t), band(y)
}

// remarks sets the line's middle beside those of the same line laid otherwise.
func (s *setup) remarks(l *Line, out *LineResult) []Remark {
	m, n := out.Middle, &out.Solves
	slacker := *l
	slack := out.Rest.As/out.Length - 1 + 0.02
	slacker.Slack, slacker.Pretense = &slack, nil
	a, b := s.middle(&slacker, n), s.middle(l.halved(), n)
	t1, y1 := s.loaded(l, m.Load, n)
	t2, y2 := s.loaded(l.halved(), m.Load, n)
	other, change := l.otherwise()
	c := s.middle(other, n)
	var running [3]float64
	for q, k := range scales {
		_, running[q], _, _ = s.middleOf(l.ready(k), q, true, n)
	}
	held := Band{}
	for _, row := range out.Supports {
		if row.Held.As > held.As {
			held = row.Held
		}
	}
	say := func(key RemarkKey, what string, as, then Band, change, unit string) Remark {
		return Remark{key, what, as.As, then.As, change, unit, Tell(as, then, 0)}
	}
	const fall, slide = "tension in a fall, middle of the span", "sag in a slide, middle of the span"
	return []Remark{
		say(SlackDoesNotSpare, fall, m.Tension, a.Tension, "2 % more slack", "N"),
		say(SlackDoesNotSpare, slide, m.Slide, a.Slide, "2 % more slack", "m"),
		say(SpanIsReach, "tension under the same load, middle of the span", t1, t2, "each span halved by a fixed support", "N"),
		say(SpanIsReach, "sag under the same load, middle of the span", y1, y2, "each span halved by a fixed support", "m"),
		say(ShortIsHard, fall, m.Tension, b.Tension, "each span halved by a fixed support", "N"),
		say(StuffIsTension, fall, m.Tension, c.Tension, change, "N"),
		say(HeldIsWorst, "load on one fitting", m.Tension, held, "hook held by its own support instead of the middle", "N"),
		say(JamOrSlide, fall, m.Tension, band(running), "hook and line run instead of jamming", "N"),
	}
}

// Told says whether two numbers differ by more than is known of them.
type Told string

// What can be told of two numbers.
const (
	NoDifference Told = "no difference that can be told"
	First        Told = "the first is greater"
	Second       Told = "the second is greater"
)

// Tell compares two quantities over their bands; err is what else is open of
// each, such as the error of the tracing. Ends that touch can't be told apart.
func Tell(a, b Band, err float64) Told {
	switch {
	case a.least()-err > b.most()+err:
		return First
	case b.least()-err > a.most()+err:
		return Second
	}
	return NoDifference
}
