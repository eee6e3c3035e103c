package deck

import (
	"strconv"
	"strings"
)

// sized reads the size at the end of a material's key, "HMPE 6 mm", if the key
// is of the make that name calls.
func sized(key, name string) (mm float64, ok bool) {
	rest, ok := strings.CutPrefix(key, name+" ")
	if !ok {
		return 0, false
	}
	number, ok := strings.CutSuffix(rest, " mm")
	if !ok {
		return 0, false
	}
	mm, err := strconv.ParseFloat(number, 64)
	return mm, err == nil
}
