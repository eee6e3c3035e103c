package jackstay

// Cautions are the texts that stand wherever an answer of this package is
// shown, printed or sent.
func Cautions() []Caution {
	return []Caution{
		{"estimate", "An estimate for planning and for questions to the yard. It approves no anchorage, line or tether for carrying a life; strength is for the designer, a surveyor or a qualified engineer to judge, and the rules in force go before."},
		{"attached", "Still attached is not still alive. In class C the wearer is dragged through the water: a shorter leg, a line farther inboard, or one that ends farther forward."},
		{"hook", "The hook of a tether can open at some 1.3 to 1.6 kN when it is pulled sideways across an edge. Clear or cover what the scan for catches lists."},
		{"assumed", "What nobody measured is assumed: stiffness, age, friction, bodies, loads. The list of assumed values belongs to the answer."},
		{"test", "Never test by jumping or by dropping a person. A static pull only, with a load cell in the line and nobody in line with it, agreed with the builder; look at everything afterwards."},
		{"renew", "Webbing that is older than three years, faded, stiff with salt, cut, or was once loaded by a fall is replaced, whatever is computed."},
		{"light", "Children and light people: hooks, lengths and the height of the ring differ; harnesses come in sizes by mass (ISO 12401)."},
		{"around", "A tether that lies around a mast or shroud reaches less far than is shown; the reach is drawn as if nothing stood in the way."},
	}
}
