package template

import "dogshore/record"

// hullMould is the stand that the hulls of a catamaran share.
const hullMould = "hull-mould"

func (l *layout) stands() []Subject {
	if !holds(l.build, "catamaran series") {
		return nil
	}
	return []Subject{subject("stand", hullMould, record.Stand{Name: "Hull mould", Room: number(1)})}
}

// inMould lists the stages during which a hull lies in its mould.
var inMould = map[string]bool{"gelcoat": true, "skin-coat": true, "outer-skin": true, "core": true,
	"inner-skin": true, "bagged": true, "infused": true, "cured": true, "demoulded": true}

func (l *layout) parts() []Subject {
	out := []Subject{}
	draw := outlines(l.build)
	add := func(key, name, side, within string) {
		p := record.Part{Name: name, Side: side, Plan: draw[key].plan, Profile: draw[key].profile}
		if within != "" {
			p.Within = record.R("part", within)
		}
		out = append(out, subject("part", key, p))
	}
	for _, p := range l.laid {
		within := boat.key
		if p.key == boat.key {
			within = ""
		}
		add(p.key, p.name, p.side, within)
		for _, c := range p.inside {
			if holds(l.build, c.only) {
				add(c.key, c.name, c.side, p.key)
			}
		}
	}
	return out
}

func (l *layout) stepSubjects() []Subject {
	var out []Subject
	shared := l.stands() != nil
	for _, s := range l.steps {
		x := record.Step{
			Name: s.name, Part: record.R("part", s.part), Stage: s.slug, Rank: number(float64(s.rank)),
			Trade: s.trade, Point: s.point, Look: s.look, Measure: s.measure, Usual: Usual,
		}
		if shared && l.part(s.part).base == hull.key && inMould[s.slug] {
			x.Stand = record.R("stand", hullMould)
		}
		out = append(out, subject("step", s.key, x))
	}
	return out
}

func (l *layout) linkSubjects() []Subject {
	var out []Subject
	for _, k := range l.links {
		out = append(out, subject("link", k[0]+"-then-"+k[1], record.Link{
			From: record.R("step", k[0]), To: record.R("step", k[1]), Type: "FS",
		}))
	}
	return out
}

func (l *layout) coverSubjects() []Subject {
	var out []Subject
	for _, c := range l.covers {
		out = append(out, subject("cover", c.key, record.Cover{
			Step: record.R("step", c.step), What: record.Ref(c.what), Hides: c.hides,
			Look: c.look, Evidence: c.evidence, Gravity: c.gravity, Usual: Usual,
		}))
	}
	return out
}
