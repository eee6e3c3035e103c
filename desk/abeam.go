package desk

import "fmt"

// Abeam says how far off the centreline something lies, y metres to port of it.
func Abeam(y float64) string {
	switch {
	case y > 0.05:
		return fmt.Sprintf("%.1f m to port", y)
	case y < -0.05:
		return fmt.Sprintf("%.1f m to starboard", -y)
	}
	return "on the centreline"
}
