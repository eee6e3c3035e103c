package rope

import "dogshore/source"

// Fibre is what a line is made of, as far as ageing goes.
type Fibre string

// The fibres of the tables.
const (
	Wire      Fibre = "stainless wire"
	HMPE      Fibre = "HMPE"
	Polyester Fibre = "polyester"
	Nylon     Fibre = "nylon"
)

// Textile says whether it is no wire.
func (f Fibre) Textile() bool { return f != Wire }

// Stuff is one line of the table of materials.
type Stuff struct {
	Key      string
	Fibre    Fibre
	MBLLow   float64 // breaking load of the new line, straight, no knots, N
	MBLHigh  float64
	EA       float64 // usual stiffness, N per unit of strain
	Strength source.Source
	Stretch  source.Source
}

func read(text string) source.Source {
	return source.Source{How: source.Published, Text: text}
}

func memory(text string) source.Source {
	return source.Source{How: source.Memory, Text: text}
}

func derived(text string) source.Source {
	return source.Source{How: source.Derived, Text: text}
}

const wireEA = "0.76 of the circle is metal, E 120 GPa of it (107-130, rigging practice, EN 12385)"

// stuffs is section 3 of the reference sheet. Where only a range of stiffness
// is known its middle stands here: the band of half and double covers it.
var stuffs = []Stuff{
	{"1x19 wire 4 mm", Wire, 12600, 12600, 1.146e6, read("1x19 316, 4 mm 1285 kgf: quoted in a catamaran owners' forum"), memory(wireEA)},
	{"1x19 wire 5 mm", Wire, 19700, 19700, 1.79e6, derived("from 4 mm by the square of the diameter; class of OSR 4.04, 2040 kg"), memory(wireEA)},
	{"1x19 wire 6 mm", Wire, 28400, 28400, 2.58e6, derived("from 4 mm by the square of the diameter"), memory(wireEA)},
	{"HMPE 5 mm", HMPE, 25000, 28000, 0.66e6, memory("makers' tables"), memory("3.5-4.5 % at break, 25 times the breaking load")},
	{"HMPE 6 mm", HMPE, 35000, 40000, 1.0e6, memory("makers' tables"), memory("3.5-4.5 % at break, 25 times the breaking load")},
	{"HMPE 8 mm", HMPE, 58000, 65000, 1.54e6, memory("makers' tables"), memory("3.5-4.5 % at break, 25 times the breaking load")},
	{"HMPE heat-set 5 mm", HMPE, 25000, 28000, 1.76e6, memory("makers' tables, as of ordinary HMPE"), derived("a rigger's stretch test of 9 mm, by the square of the diameter, after bedding in")},
	{"HMPE heat-set 6 mm", HMPE, 35000, 40000, 2.53e6, memory("makers' tables, as of ordinary HMPE"), derived("a rigger's stretch test of 9 mm, by the square of the diameter, after bedding in")},
	{"HMPE heat-set 8 mm", HMPE, 58000, 65000, 4.5e6, memory("makers' tables, as of ordinary HMPE"), derived("a rigger's stretch test of 9 mm, by the square of the diameter, after bedding in")},
	{"polyester webbing 25 mm", Polyester, 20000, 24000, 150e3, memory("makers' tables"), memory("10-15 % at break, some 8 times the breaking load")},
	{"nylon webbing 25 mm", Nylon, 15000, 18000, 60e3, memory("makers' tables, dry"), memory("25-30 % at break; wet it is weaker and stretches more")},
	{"polyester braid 12 mm", Polyester, 27000, 27000, 197e3, read("supplier's sheet for polyester mooring line"), derived("3.5-5 % at 30 % of the breaking load: 6.0-8.6 times it")},
	{"polyester braid 14 mm", Polyester, 39000, 39000, 285e3, read("supplier's sheet for polyester mooring line"), derived("3.5-5 % at 30 % of the breaking load: 6.0-8.6 times it")},
	{"polyester braid 16 mm", Polyester, 46000, 46000, 336e3, read("supplier's sheet for polyester mooring line"), derived("3.5-5 % at 30 % of the breaking load: 6.0-8.6 times it")},
	{"tether webbing 25 mm", Polyester, 15000, 22000, 150e3, memory("makers' tables"), memory("as polyester webbing; the elastic cover takes up nothing")},
	{"nylon three-strand 12 mm", Nylon, 28000, 30000, 70e3, memory("makers' tables"), memory("some 25 % at break")},
}

// Stuffs lists the materials of the table.
func Stuffs() []Stuff { return append([]Stuff(nil), stuffs...) }

// StuffOf returns a material by its key.
func StuffOf(key string) (Stuff, bool) {
	for _, s := range stuffs {
		if s.Key == key {
			return s, true
		}
	}
	return Stuff{}, false
}
