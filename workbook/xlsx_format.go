package workbook

import (
	"encoding/xml"
	"math"
	"strconv"
	"strings"
	"time"

	"dogshore/calendar"
	"dogshore/unit"
)

// format is what a cell's number format says of its value.
type format struct {
	day  bool   // shown as a day
	unit string // printed behind the number
}

// readFormats reads the formats that cells name by their place in the list.
func (x *xlsx) readFormats() error {
	codes := map[string]string{}
	inCells := false
	return x.each("xl/styles.xml", func(s xml.StartElement) error {
		switch s.Name.Local {
		case "numFmt":
			codes[attr(s, "numFmtId")] = attr(s, "formatCode")
		case "cellXfs":
			inCells = true
		case "cellStyles", "dxfs":
			inCells = false
		case "xf":
			if inCells {
				id := attr(s, "numFmtId")
				code, own := codes[id]
				f := formatOf(code)
				if n, err := strconv.Atoi(id); err == nil && !own {
					f.day = builtInDay(n)
				}
				x.formats = append(x.formats, f)
			}
		}
		return nil
	})
}

func (x *xlsx) format(style string) format {
	i, err := strconv.Atoi(style)
	if err != nil || i < 0 || i >= len(x.formats) {
		return format{}
	}
	return x.formats[i]
}

// builtInDay reports whether a number format that every spreadsheet knows
// shows a day: 14 to 17 and 22, and those of East Asia. Source: ECMA-376 part
// 1, section 18.8.30, from memory.
func builtInDay(id int) bool {
	return id >= 14 && id <= 17 || id == 22 || id >= 27 && id <= 31 || id == 36 || id >= 50 && id <= 54 || id == 57 || id == 58
}

// formatOf reads a format's code: d, y, or m without h and s make a day; what
// stands in quotes is printed as it is, and may be a unit.
func formatOf(code string) format {
	var f format
	letters := ""
	first, _, _ := strings.Cut(code, ";")
	for i := 0; i < len(first); i++ {
		switch c := first[i]; c {
		case '"':
			end := strings.IndexByte(first[i+1:], '"')
			if end < 0 {
				return f
			}
			f.unit += first[i+1 : i+1+end]
			i += end + 1
		case '[':
			end := strings.IndexByte(first[i:], ']')
			if end < 0 {
				return f
			}
			i += end
		case '\\', '_', '*':
			i++
		default:
			letters += strings.ToLower(string(c))
		}
	}
	if !strings.Contains(letters, "general") {
		f.day = strings.ContainsAny(letters, "dy") || strings.Contains(letters, "m") && !strings.ContainsAny(letters, "hs0#")
	}
	f.unit = strings.TrimSpace(f.unit)
	if _, u := unit.HeaderUnit("x [" + f.unit + "]"); u == "" || f.day {
		f.unit = ""
	}
	return f
}

// The first day of each way of counting days. Counting from 1900 has a 29
// February 1900 that never was (day 60), so that from day 61 on each number is
// one too high. Source: ECMA-376 part 1, section 18.17.4, from memory.
const phantom = 60

// day turns a serial number into the day that it is shown as.
func (x *xlsx) day(value string) (string, bool) {
	v, err := strconv.ParseFloat(value, 64)
	if err != nil {
		return "", false
	}
	d, ok := Serial(v, x.from04)
	return d.String(), ok
}

// Serial returns the day of a spreadsheet's serial number, counted from 1900
// or from 1904; ok is false outside the years 1950 to 2199. The time of day is
// dropped.
func Serial(v float64, from04 bool) (d calendar.Day, ok bool) {
	if math.IsNaN(v) || v < 0 || v > 200_000 {
		return 0, false
	}
	d = calendar.Day(math.Floor(v))
	switch {
	case from04:
		d += calendar.Date(1904, time.January, 1)
	case d > phantom:
		d--
	}
	return d, d >= calendar.Date(1950, 1, 1) && d <= calendar.Date(2199, 12, 31)
}

// serialOf returns the serial number, counted from 1900, that shows as d.
func serialOf(d calendar.Day) int {
	if d >= phantom {
		return int(d) + 1
	}
	return int(d)
}
