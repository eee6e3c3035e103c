package jackstay

import "dogshore/source"

// body is one row of the table of bodies: what is taken for a person of whom
// nothing else is known.
type body struct {
	key                          string
	mass, ring, kneel, arm, tall float64
}

// gear is the mass of wet clothing, kg (assumed).
const gear = 10

// bodies are percentiles of men and women in the public ANSUR II survey (US
// Army, bare feet; others differ): mass; height of the chest for that of the
// harness ring, standing; less the height of the knee for kneeling; reach of
// the thumb less the depth of the chest for the hand beyond the ring. Of the
// small woman's reach less is taken, 0.43 m.
var bodies = []body{
	{"F5", 51.3, 1.080, 0.681, 0.43, 1.525},
	{"F50", 66.8, 1.169, 0.732, 0.497, 1.626},
	{"F95", 87.1, 1.266, 0.787, 0.520, 1.740},
	{"M5", 64.4, 1.200, 0.774, 0.531, 1.648},
	{"M50", 84.6, 1.289, 0.821, 0.558, 1.755},
	{"M95", 110.7, 1.387, 0.874, 0.588, 1.870},
}

var fromBodies = source.Source{How: source.Published, Text: "ANSUR II survey of bodies, 2012, percentiles; 10 kg of wet gear assumed"}

func bodyOf(key string) (body, bool) {
	for _, b := range bodies {
		if b.key == key {
			return b, true
		}
	}
	return body{}, false
}
