package intake

import (
	"path/filepath"
	"strings"
)

// LongestMessage is how many bytes of a message are read.
const LongestMessage = 20 << 20

func isMessage(name string) bool {
	switch strings.ToLower(filepath.Ext(name)) {
	case ".txt", ".eml":
		return true
	}
	return false
}

func (r *reader) message(f File) {}
