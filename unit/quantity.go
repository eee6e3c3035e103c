package unit

// Dimension says what a quantity measures, and so which units it may be
// written in.
type Dimension string

// The dimensions and the unit that SI holds for each.
const (
	Number      Dimension = "number"           // 1: a count or a ratio
	Length      Dimension = "length"           // m
	Area        Dimension = "area"             // m²
	Volume      Dimension = "volume"           // m³
	Mass        Dimension = "mass"             // kg
	Force       Dimension = "force"            // N
	Pressure    Dimension = "pressure"         // Pa
	Angle       Dimension = "angle"            // rad
	Temperature Dimension = "temperature"      // K
	Speed       Dimension = "speed"            // m/s
	Barcol      Dimension = "Barcol hardness"  // of the scale: no scale of hardness becomes another
	ShoreD      Dimension = "Shore D hardness" // of the scale
	Work        Dimension = "work"             // working days
	Time        Dimension = "time"             // s of elapsed time, through nights and weekends
	Any         Dimension = "any"              // whatever its written unit says
)

// Quantity is one number with its unit. The zero value is "not known".
type Quantity struct {
	Known bool      `json:"known"`
	SI    float64   `json:"si"`           // in the unit of its dimension
	Low   float64   `json:"low"`          // "12-14": the ends of what was said; Low = High = SI if exact
	High  float64   `json:"high"`         //
	About bool      `json:"about"`        // "ca. 12": the writer was not sure
	Dim   Dimension `json:"dim"`          //
	As    string    `json:"as,omitempty"` // as it was written
}

// Q returns a known, exact quantity of dimension dim, in SI.
func Q(si float64, dim Dimension) Quantity {
	return Quantity{Known: true, SI: si, Low: si, High: si, Dim: dim}
}

// Money is an amount in minor units of an ISO 4217 currency. The zero value
// is "not known"; nothing at all is Money{Currency: "EUR"}.
type Money struct {
	Minor    int64  `json:"minor"`
	Currency string `json:"currency"`
	As       string `json:"as,omitempty"`
}

// Known reports whether m says anything.
func (m Money) Known() bool { return m.Currency != "" }
