package rope

// Caution names a caution that must stand where a result is shown.
type Caution string

// The cautions on lines, anchors and preventers: one list for all engines of
// the deck's gear.
const (
	CautionEstimate Caution = "estimate"
	CautionDragged  Caution = "dragged"
	CautionHooks    Caution = "hooks"
	CautionAssumed  Caution = "assumed"
	CautionProof    Caution = "proof pull"
	CautionWebbing  Caution = "webbing"
	CautionZones    Caution = "zones"
	CautionAback    Caution = "aback"
	CautionLight    Caution = "light crew"
	CautionMargin   Caution = "margin"
	CautionAround   Caution = "around"
)

var cautions = map[Caution]string{
	CautionEstimate: "An estimate, for planning and for questions to the yard. It approves no anchorage, line or preventer for carrying a life; the designer or a licensed engineer decides.",
	CautionDragged:  "Held by the line is not out of danger: whoever hangs in the water is dragged. Shorten the leg, move the line inboard, or end it farther forward.",
	CautionHooks:    "Tether hooks have opened at about 1.3 to 1.6 kN when pulled sideways over an edge. Clear or cover every fitting that the line can be dragged onto.",
	CautionAssumed:  "Some values were assumed, not measured; each is listed.",
	CautionProof:    "Nobody jumps or is dropped to try it. Only a slow pull with a load cell in the line, nobody in line with the rope, agreed with the builder; look at everything afterwards.",
	CautionWebbing:  "Webbing older than three years, faded, stiff with salt, cut, or once loaded by a fall is replaced whatever the figures say.",
	CautionZones:    "Where the boom and the bight of the mainsheet sweep can kill with a preventer rigged too, for it can fail. A clip point, seat or winch in there is an open point.",
	CautionAback:    "A preventer with the sail aback is let go under control, from the cockpit, never by hand and never from the foredeck. A pinned boom can hold a boat down.",
	CautionLight:    "Children and light crew need other hooks, tether lengths and ring heights (sizes 2 and 3 of ISO 12401).",
	CautionMargin:   "A margin says how far the figures entered are met, under the rule and edition named, and nothing about what was not entered.",
	CautionAround:   "A tether that lies around a mast or shroud reaches less far than is shown; the reach is drawn as if nothing stood in the way.",
}

// Text returns the words of the caution, or "" for one that there is not.
func (c Caution) Text() string { return cautions[c] }
