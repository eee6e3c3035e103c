package jackstay

import (
	"math"

	"dogshore/source"
)

// The figures of the clauses.
const (
	LineMBL       FigureKey = "jackstay: breaking load, N"
	WireDiameter  FigureKey = "jackstay: diameter of bare 1x19 wire, m"
	LineIsWire    FigureKey = "jackstay: is wire"
	LineCoated    FigureKey = "jackstay: is coated or sleeved wire"
	LineEachSide  FigureKey = "jackstay: one on each side, independent"
	LineBolted    FigureKey = "jackstay: through-bolted or welded plates, or as strong"
	PointsStay    FigureKey = "clip points: beside helm, winches and mast"
	PointsHatch   FigureKey = "clip points: reached before coming on deck"
	PointsShare   FigureKey = "clip points: part of the crew that can clip on without a jackstay"
	PointsApart   FigureKey = "clip points: greatest distance apart, m"
	TetherLength  FigureKey = "tether: longest, hooks included, m"
	TetherShort   FigureKey = "tether: part of the crew with one of 1 m or a hook half-way"
	TetherFlag    FigureKey = "tether: overload shows in its stitching"
	RailUpper     FigureKey = "guard-rail: height of the upper wire, m"
	RailMiddle    FigureKey = "guard-rail: height of the intermediate wire, m"
	RailGap       FigureKey = "guard-rail: greatest opening between wires, m"
	PostsApart    FigureKey = "stanchions: greatest distance apart, m"
	PostsInboard  FigureKey = "stanchions: base inboard of the edge, m"
	PostsLean     FigureKey = "stanchions: lean from upright, rad"
	PulpitGap     FigureKey = "pulpit: opening, m"
	WireHMPE      FigureKey = "guard-line: diameter of HMPE core, m"
	WireUpperSag  FigureKey = "guard-wire: upper, gives under 50 N, m"
	WireMiddleSag FigureKey = "guard-wire: intermediate, gives under 50 N, m"
	HullLength    FigureKey = "boat: length of hull, m"
	Beam          FigureKey = "boat: greatest beam, m"
	FirstLaunched FigureKey = "boat: year of first launch"
	FootStop      FigureKey = "foot-stop: height, m"
	DesignOcean   FigureKey = "boat: design category A or B"
	HandsApart    FigureKey = "handholds: greatest distance apart, m"
	SternGap      FigureKey = "stern: greatest opening, m"
)

func read(text string) source.Source   { return source.Source{How: source.Published, Text: text} }
func recall(text string) source.Source { return source.Source{How: source.Memory, Text: text} }
func at(v float64) *float64            { return &v }

const (
	osr  = "Offshore Special Regulations"
	iso  = "ISO 15085"
	mca  = "UK code for small commercial vessels"
	tcan = "Transport Canada, sail training"
	ft   = 0.3048

	noLimit = 1e9 // above all that a boat can have
)

var (
	wire     = []Limit{{LineIsWire, 1, noLimit}}
	bigger   = []Limit{{HullLength, 8.5, noLimit}}
	recentOf = []Limit{{FirstLaunched, 1993, noLimit}}
	olderOf  = []Limit{{FirstLaunched, 0, 1993}}
	ocean    = []Limit{{DesignOcean, 1, noLimit}}
	inland   = []Limit{{DesignOcean, 0, 1}}

	read404   = read("OSR 4.04.1, 2018, category 0, as quoted by a tester in a forum")
	read404b  = read("OSR 4.04.1a, older text, category 1, as quoted in a forum on stainless jackstays")
	read314   = read("OSR 3.14, as quoted in a forum on lifelines")
	read15085 = read("ISO 15085:2003, as told by a consultancy on CE marking; the 2024 edition goes before")
	recall404 = recall("OSR 4.04.2")
	recall502 = recall("OSR 5.02")
	readMCA   = read("code of practice for small sailing vessels, section 22")
	readTC    = read("protection of personnel, section 19")
)

// clauses is section 2 of the reference sheet. Two of them contradict each
// other in spirit: the standard counts a stanchion foot as a hooking point,
// racing and pilot practice never clips to one.
var clauses = []Clause{
	{"osr-jackstay-strength", osr, "2018", "4.04.1c", "a jackstay breaks at no less than 2040 kg (20.0 kN)", LineMBL, at(2040 * Gravity), nil, nil, "N", nil, read404},
	{"osr-jackstay-wire", osr, "2018", "4.04.1c", "wire is 1x19 of at least 5 mm", WireDiameter, at(0.005), nil, nil, "m", wire, read404},
	{"osr-jackstay-bare", osr, "2018", "4.04.1c", "wire is neither coated nor sleeved", LineCoated, nil, at(0), nil, "", wire, read404},
	{"osr-jackstay-sides", osr, "2018", "4.04.1a,b", "independent on each side, few changes between working places and cockpit", LineEachSide, at(1), nil, nil, "", nil, read404},
	{"osr-jackstay-bolted", osr, "older, category 1", "4.04.1a", "fast to through-bolted or welded plates or an anchorage as strong", LineBolted, at(1), nil, nil, "", nil, read404b},
	{"osr-points-stay", osr, "not seen", "4.04.2", "clip points beside helm, sheet winches and mast", PointsStay, at(1), nil, nil, "", nil, recall404},
	{"osr-points-hatch", osr, "not seen", "4.04.2", "clipped on before coming on deck, off after going below", PointsHatch, at(1), nil, nil, "", nil, recall404},
	{"osr-points-share", osr, "not seen", "4.04.2", "two thirds of the crew can clip on at once without a jackstay", PointsShare, at(2.0 / 3), nil, nil, "", nil, recall404},
	{"osr-tether-length", osr, "not seen", "5.02", "a tether is at most 2 m long, hooks included", TetherLength, nil, at(2), nil, "m", nil, recall502},
	{"osr-tether-short", osr, "not seen", "5.02", "three in ten of the crew have a tether of at most 1 m, or a hook half-way", TetherShort, at(0.3), nil, nil, "", nil, recall502},
	{"osr-tether-flag", osr, "not seen", "5.02", "stitching shows when it was overloaded", TetherFlag, at(1), nil, nil, "", nil, recall502},
	{"osr-rail-upper", osr, "not told", "3.14.1b", "upper guard-wire at least 600 mm high", RailUpper, at(0.6), nil, nil, "m", bigger, read314},
	{"osr-rail-small", osr, "not told", "3.14", "categories 3 and 4, hull shorter than 8.5 m: a single wire of at least 450 mm", RailUpper, at(0.45), nil, nil, "m", []Limit{{HullLength, 0, 8.5}}, read314},
	{"osr-rail-middle", osr, "not told", "3.14", "intermediate wire at least 230 mm high", RailMiddle, at(0.23), nil, nil, "m", bigger, read314},
	{"osr-rail-gap", osr, "not told", "3.14", "no opening of more than 380 mm", RailGap, nil, at(0.38), nil, "m", recentOf, read314},
	{"osr-rail-gap-older", osr, "not told", "3.14", "launched before 1993: no opening of more than 560 mm", RailGap, nil, at(0.56), nil, "m", olderOf, read314},
	{"osr-posts-apart", osr, "not told", "3.14", "stanchions at most 2.2 m apart", PostsApart, nil, at(2.2), nil, "m", nil, read314},
	{"osr-posts-inboard", osr, "not told", "3.14", "base at most 150 mm inboard of the edge (or 5 % of the beam, if that is more)", PostsInboard, nil, at(0.15), &PartOf{Beam, 0.05}, "m", nil, read314},
	{"osr-posts-lean", osr, "not told", "3.14", "above its first 50 mm a stanchion leans at most 10 degrees", PostsLean, nil, at(10 * math.Pi / 180), nil, "rad", nil, read314},
	{"osr-pulpit-gap", osr, "not told", "3.14", "bow pulpit open by at most 360 mm", PulpitGap, nil, at(0.36), nil, "m", nil, read314},
	{"osr-hmpe-small", osr, "international, 2014", "3.14", "hull up to 28 ft: HMPE guard-line of at least 4 mm, its core alone", WireHMPE, at(0.004), nil, nil, "m", []Limit{{HullLength, 0, 28 * ft}}, read("paper on HMPE lifelines, 2014")},
	{"osr-hmpe", osr, "international, 2014", "3.14", "hull of 28 ft and more: HMPE guard-line of at least 5 mm, its core alone", WireHMPE, at(0.005), nil, nil, "m", []Limit{{HullLength, 28 * ft, noLimit}}, read("paper on HMPE lifelines, 2014")},
	{"osr-wire-upper", osr, "not seen", "3.14.2", "upper wire gives at most 50 mm under 50 N half-way", WireUpperSag, nil, at(0.05), nil, "m", nil, recall("OSR 3.14.2")},
	{"osr-wire-middle", osr, "not seen", "3.14.2", "intermediate wire gives at most 120 mm under 50 N half-way", WireMiddleSag, nil, at(0.12), nil, "m", nil, recall("OSR 3.14.2")},
	{"iso-foot-stop", iso, "2003", "", "sailing, category A or B: foot-stop at least 30 mm high", FootStop, at(0.03), nil, nil, "m", ocean, read15085},
	{"iso-foot-stop-other", iso, "2003", "", "sailing, other categories: foot-stop at least 25 mm high", FootStop, at(0.025), nil, nil, "m", inland, read15085},
	{"iso-rail-low", iso, "2003", "", "low guard-rail at least 450 mm", RailUpper, at(0.45), nil, nil, "m", nil, read15085},
	{"iso-rail-high", iso, "2003", "", "high guard-rail at least 600 mm", RailUpper, at(0.6), nil, nil, "m", nil, read15085},
	{"iso-handholds", iso, "2003", "", "handholds at most 1.5 m apart", HandsApart, nil, at(1.5), nil, "m", nil, read15085},
	{"iso-points", iso, "2003", "", "hooking points at most 3 m apart, at hatch, steering, windlass, mast and winches (a stanchion foot counts; racing practice never clips to one)", PointsApart, nil, at(3), nil, "m", nil, read15085},
	{"iso-jackstay-sides", iso, "2003", "", "attachments of jack-lines to port and starboard", LineEachSide, at(1), nil, nil, "", nil, read15085},
	{"mca-rail", mca, "not told", "22", "bulwark or two courses of rail, at least 600 mm", RailUpper, at(0.6), nil, nil, "m", []Limit{{HullLength, 9, noLimit}}, readMCA},
	{"mca-rail-small", mca, "not told", "22", "shorter than 9 m: a single course of 450 mm", RailUpper, at(0.45), nil, nil, "m", []Limit{{HullLength, 0, 9}}, readMCA},
	{"mca-posts", mca, "not told", "22", "supports at most 2.2 m apart", PostsApart, nil, at(2.2), nil, "m", nil, readMCA},
	{"mca-stern", mca, "not told", "22", "cockpit open aft: no opening of more than 500 mm", SternGap, nil, at(0.5), nil, "m", nil, readMCA},
	{"tc-foot-stop", tcan, "not told", "19", "toe-rail at least 25 mm high", FootStop, at(0.025), nil, nil, "m", nil, readTC},
	{"tc-rail", tcan, "not told", "19", "double rail of 600 mm", RailUpper, at(0.6), nil, nil, "m", nil, readTC},
	{"tc-posts", tcan, "not told", "19", "supports at most 2.2 m apart", PostsApart, nil, at(2.2), nil, "m", nil, readTC},
	{"tc-jackstay-sides", tcan, "not told", "19", "lines fore and aft on each side", LineEachSide, at(1), nil, nil, "", nil, readTC},
}
