package record

// Stage is one stage of the picture key: what one sees when a step is done.
type Stage struct {
	Slug    string  // as in Step.Stage: "skin-coat"
	Name    string  // as pages write it
	Sees    string  // what one sees
	Leave   string  // what not to touch
	Next    string  // what usually comes next
	Density float64 // of the hatching that tones a part at this stage, 0 to 1
}

// Stages lists the picture key, roughly in the order in which a boat goes
// through it. No part goes through all of it.
var Stages = []Stage{
	{"mould", "Mould ready", "a bare mould, polished, with marks scratched or taped along its flange",
		"the polished face: a fingerprint stays in the gelcoat", "gelcoat", 0.03},
	{"gelcoat", "Gelcoat", "the mould turned into one even colour, seen from its back",
		"the film, until it no longer comes off on a glove", "skin coat", 0.06},
	{"skin-coat", "Skin coat", "a thin layer of glass mat over the colour, which still shows through",
		"anything uncured; point at bubbles, do not press them", "outer skin", 0.10},
	{"outer-skin", "Outer skin", "woven or stitched cloth over the whole face, dry and white, or wetted out and clear",
		"dry cloth: a shifted edge is a missing overlap", "core", 0.15},
	{"core", "Core", "sheets of foam, with denser or solid pieces where something will be bolted",
		"the foam's face: dust and grease spoil the bond", "inner skin", 0.20},
	{"inner-skin", "Inner skin", "cloth again, and the foam gone from sight",
		"dry cloth", "vacuum bag", 0.25},
	{"bagged", "Under vacuum", "clear film pulled tight over everything, hoses, and a gauge",
		"the film, its seal and the hoses: a pinhole can cost the part", "resin", 0.29},
	{"infused", "Resin in", "resin has run through: the cloth has turned from white to dark and clear",
		"the bag, the hoses, the resin; keep clear of the fumes", "cure", 0.33},
	{"cured", "Cured", "hard; the bag, the hoses and the peel ply come off",
		"peel ply where something is still to be bonded", "structure, or out of the mould", 0.37},
	{"laminated", "Laminated", "glass and resin laid by hand, wetted out, no white spots",
		"wet resin; keep clear of the fumes", "cure", 0.35},
	{"stiffened", "Stiffened", "stringers, frames and floors glassed onto the shell",
		"fresh fillets", "bulkheads", 0.42},
	{"demoulded", "Out of the mould", "the outside for the first time, on a cradle or trestles",
		"nothing under a part that hangs; it can still change its shape", "post-cure, cut-outs, joining", 0.45},
	{"post-cured", "Post-cured", "a tent or an oven has been round it; a strip of paper shows the heat",
		"the tent while it is warm", "cutting out and bonding", 0.48},
	{"prepared", "Prepared for bonding", "ground dull, vacuumed, with lines marked where the part goes",
		"the ground strips: a hand leaves grease", "dry fit", 0.40},
	{"fitted", "Dry-fitted", "in its place, held by clamps, wedges or screws, nothing glued",
		"clamps and wedges", "bonding", 0.46},
	{"bonded", "Bonded", "in its place in adhesive, with a bead squeezed out along both edges",
		"the part until the adhesive is hard", "taping", 0.52},
	{"taped", "Taped in", "strips of glass over a rounded fillet, on both sides",
		"wet tape", "what goes on it", 0.56},
	{"first-fix", "First fix", "pipes, hoses and cables in their runs, ends hanging loose",
		"loose ends and their labels", "linings, second fix", 0.60},
	{"installed", "Installed", "bolted down on its bed, and not yet connected",
		"the machine's openings; they are plugged for a reason", "connecting, testing", 0.64},
	{"joined", "Joined", "two large parts have become one: an edge with a bead, or a row of bolts",
		"adhesive that is still soft", "glass over the joint", 0.66},
	{"second-fix", "Second fix", "ends connected: taps, lamps, switches, pumps",
		"switches and valves", "testing", 0.72},
	{"lined", "Lined", "panels over hull side and overhead; no pipe or cable in sight",
		"soft panels and veneers", "trim, cleaning", 0.74},
	{"faired", "Faired", "patches of filler sanded smooth, in more than one colour",
		"sanded faces", "primer", 0.70},
	{"primed", "Primed", "one dull, even colour all over",
		"the primed face: no bare hands before paint", "paint", 0.76},
	{"painted", "Painted", "gloss, or the finished colour under water",
		"everything, until it is hard", "hardware, launch", 0.80},
	{"hardware", "Hardware on", "winches, cleats, tracks and stanchions bolted down",
		"fittings with fresh sealant", "tests, linings under them", 0.82},
	{"tested", "Tested", "a gauge, a hose or a load has been on it, and a paper says so",
		"seals and tags", "closing in", 0.85},
	{"rigged", "Rigged", "the mast stands, with its wires and lines",
		"turnbuckles and pins", "tuning, trial", 0.90},
	{"weighed", "Weighed", "she hangs in slings, and a load cell shows a figure",
		"nothing; stand clear of the slings", "launch", 0.915},
	{"launched", "Afloat", "she floats, on her own, with her marks at the water",
		"valves: ask which are open", "checks afloat, trial", 0.93},
	{"trialled", "Tried", "she has been out under engine and sail, and a list has come back",
		"machines that are still hot", "the list put right", 0.96},
	{"put-right", "List put right", "the list of the trial, every line ticked or valued",
		"the list: it is signed line by line", "hand-over", 0.98},
	{"delivered", "Handed over", "papers signed, keys and manuals on board",
		"nothing: she is yours to look at", "keeping her", 1},
}

// StageOf returns the stage of that slug.
func StageOf(slug string) (Stage, bool) {
	for _, s := range Stages {
		if s.Slug == slug {
			return s, true
		}
	}
	return Stage{}, false
}
