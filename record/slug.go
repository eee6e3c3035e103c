package record

import (
	"crypto/sha256"
	"encoding/hex"
	"strings"
)

// longestSlug bounds a key made of a name; longer ones are cut at a word and
// told apart by four digits of their hash.
const longestSlug = 48

var accents = strings.NewReplacer(
	"ä", "ae", "ö", "oe", "ü", "ue", "ß", "ss", "å", "a", "æ", "ae", "ø", "oe", "é", "e", "è", "e", "ê", "e", "ë", "e",
	"á", "a", "à", "a", "â", "a", "ã", "a", "í", "i", "ì", "i", "î", "i", "ï", "i", "ó", "o", "ò", "o", "ô", "o", "õ", "o",
	"ú", "u", "ù", "u", "û", "u", "ç", "c", "ñ", "n", "ł", "l", "š", "s", "ś", "s", "ž", "z", "ź", "z", "ż", "z", "č", "c",
	"ć", "c", "ę", "e", "ą", "a", "ń", "n", "ý", "y", "ř", "r", "ě", "e", "ů", "u", "ğ", "g", "ş", "s", "ı", "i",
)

// Slug makes a key of a name: "Port hull, inner skin" is port-hull-inner-skin.
// The same name gives the same key; a name without letters or digits gives a
// hash.
func Slug(name string) string {
	words := strings.FieldsFunc(accents.Replace(strings.ToLower(strings.ReplaceAll(name, "'", ""))), func(r rune) bool {
		return (r < 'a' || r > 'z') && (r < '0' || r > '9')
	})
	out, whole := "", strings.Join(words, "-")
	for _, w := range words {
		if len(out)+1+len(w) > longestSlug {
			break
		}
		out = strings.TrimPrefix(out+"-"+w, "-")
	}
	if out == whole && out != "" {
		return out
	}
	sum := sha256.Sum256([]byte(Loose(name)))
	return strings.TrimPrefix(out+"-"+hex.EncodeToString(sum[:2]), "-")
}
