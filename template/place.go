package template

import "dogshore/record"

// region is a place, as fractions of the hull's length.
type region struct {
	key, name, side string
	shape
}

func box(x0, x1, y0, y1, z0, z1 float64) shape {
	return shape{rect(x0, y0, x1, y1), rect(x0, z0, x1, z1)}
}

var catamaranPlaces = []region{
	{"bows", "Bows and anchor locker", "middle", box(0.72, 0.95, -0.19, 0.19, 0, 0.13)},
	{"foredeck", "Foredeck", "middle", box(0.6, 0.72, -0.2, 0.2, 0.125, 0.15)},
	{"side-decks", "Side decks", "both", box(0.1, 0.7, -0.26, 0.26, 0.12, 0.14)},
	{"cockpit", "Cockpit", "middle", box(0.04, 0.23, -0.16, 0.16, 0.1, 0.15)},
	{"saloon", "Saloon", "middle", box(0.23, 0.6, -0.15, 0.15, 0.1, 0.21)},
	{"mast-foot", "Mast foot", "middle", box(0.44, 0.49, -0.03, 0.03, 0.06, 0.21)},
	{"port-forward", "Port hull, forward", "port", box(0.6, 0.9, 0.165, 0.255, -0.03, 0.13)},
	{"port-amidships", "Port hull, amidships", "port", box(0.3, 0.6, 0.16, 0.268, -0.045, 0.125)},
	{"port-aft", "Port hull, aft", "port", box(0.16, 0.3, 0.16, 0.268, -0.036, 0.115)},
	{"starboard-forward", "Starboard hull, forward", "starboard", box(0.6, 0.9, -0.255, -0.165, -0.03, 0.13)},
	{"starboard-amidships", "Starboard hull, amidships", "starboard", box(0.3, 0.6, -0.268, -0.16, -0.045, 0.125)},
	{"starboard-aft", "Starboard hull, aft", "starboard", box(0.16, 0.3, -0.268, -0.16, -0.036, 0.115)},
	{"engine-room-port", "Port engine room", "port", box(0.02, 0.16, 0.17, 0.26, -0.015, 0.11)},
	{"engine-room-starboard", "Starboard engine room", "starboard", box(0.02, 0.16, -0.26, -0.17, -0.015, 0.11)},
}

var monohullPlaces = []region{
	{"anchor-locker", "Anchor locker", "middle", box(0.88, 0.96, -0.04, 0.04, 0.03, 0.125)},
	{"foredeck", "Foredeck", "middle", box(0.65, 0.88, -0.09, 0.09, 0.11, 0.14)},
	{"side-decks", "Side decks", "both", box(0.1, 0.65, -0.155, 0.155, 0.105, 0.12)},
	{"cockpit", "Cockpit", "middle", box(-0.02, 0.26, -0.1, 0.1, 0.04, 0.135)},
	{"coachroof", "Coachroof", "middle", box(0.28, 0.7, -0.1, 0.1, 0.13, 0.172)},
	{"forecabin", "Forecabin", "middle", box(0.73, 0.88, -0.1, 0.1, -0.02, 0.115)},
	{"saloon", "Saloon", "middle", box(0.53, 0.72, -0.14, 0.14, -0.045, 0.13)},
	{"galley", "Galley", "port", box(0.3, 0.52, 0.03, 0.15, -0.04, 0.13)},
	{"chart-table", "Chart table", "starboard", box(0.42, 0.52, -0.15, -0.05, -0.04, 0.13)},
	{"aft-cabin", "Aft cabin", "middle", box(0.08, 0.28, -0.13, 0.13, -0.02, 0.1)},
	{"engine-space", "Engine space", "middle", box(0.29, 0.42, -0.04, 0.04, -0.04, 0.06)},
	{"mast-foot", "Mast foot", "middle", box(0.53, 0.57, -0.02, 0.02, -0.045, 0.17)},
	{"lazarette", "Lazarette", "middle", box(-0.02, 0.08, -0.11, 0.11, 0, 0.1)},
}

func (l *layout) places() []Subject {
	regions := monohullPlaces
	if l.build.Boat == "catamaran" {
		regions = catamaranPlaces
	}
	var out []Subject
	for _, r := range regions {
		s := r.of(l.build)
		out = append(out, subject("place", r.key, record.Place{Name: r.name, Side: r.side, Plan: s.plan, Profile: s.profile}))
	}
	return out
}
