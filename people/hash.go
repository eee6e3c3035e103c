package people

import (
	"crypto/rand"
	"crypto/subtle"
	"encoding/base64"
	"errors"
	"fmt"
	"strings"

	"golang.org/x/crypto/argon2"
)

// The cost of one attempt at the passphrase: argon2id (RFC 9106) with 19 MiB,
// two passes, one lane, the least that is common practice for it; about a
// tenth of a second on a small computer.
const (
	hashMemory = 19 << 10 // KiB
	hashPasses = 2
	hashLanes  = 1
	saltLength = 16
	keyLength  = 32
)

// The most that a stored hash may ask for, so that a damaged file can't take
// all of the computer.
const (
	mostMemory = 256 << 10 // KiB
	mostPasses = 16
	mostLanes  = 8
)

var errHash = errors.New("the stored passphrase is damaged: set it anew")

// hashed is a passphrase as it is kept, with the parameters it was made with.
type hashed struct {
	memory, passes uint32
	lanes          uint8
	salt, key      []byte
}

// newHash hashes a passphrase with fresh salt.
func newHash(passphrase string) hashed {
	h := hashed{memory: hashMemory, passes: hashPasses, lanes: hashLanes, salt: random(saltLength)}
	h.key = h.of(passphrase, keyLength)
	return h
}

func (h hashed) of(passphrase string, length int) []byte {
	return argon2.IDKey([]byte(passphrase), h.salt, h.passes, h.memory, h.lanes, uint32(length))
}

// is reports whether this is the passphrase; how long it takes says nothing.
func (h hashed) is(passphrase string) bool {
	return subtle.ConstantTimeCompare(h.of(passphrase, len(h.key)), h.key) == 1
}

// String writes the hash as other programs do: the PHC string format.
func (h hashed) String() string {
	b := base64.RawStdEncoding
	return fmt.Sprintf("$argon2id$v=%d$m=%d,t=%d,p=%d$%s$%s", argon2.Version, h.memory, h.passes, h.lanes, b.EncodeToString(h.salt), b.EncodeToString(h.key))
}

// parseHash reads what String wrote.
func parseHash(text string) (hashed, error) {
	part := strings.Split(text, "$")
	if len(part) != 6 || part[0] != "" || part[1] != "argon2id" || part[2] != fmt.Sprintf("v=%d", argon2.Version) {
		return hashed{}, errHash
	}
	var h hashed
	var rest string
	if n, _ := fmt.Sscanf(part[3]+" .", "m=%d,t=%d,p=%d %s", &h.memory, &h.passes, &h.lanes, &rest); n != 4 || rest != "." {
		return hashed{}, errHash
	}
	if h.memory < 8 || h.memory > mostMemory || h.passes < 1 || h.passes > mostPasses || h.lanes < 1 || h.lanes > mostLanes {
		return hashed{}, errHash
	}
	var err1, err2 error
	h.salt, err1 = base64.RawStdEncoding.Strict().DecodeString(part[4])
	h.key, err2 = base64.RawStdEncoding.Strict().DecodeString(part[5])
	if err1 != nil || err2 != nil || len(h.salt) < 8 || len(h.key) < 16 || len(h.key) > 64 {
		return hashed{}, errHash
	}
	return h, nil
}

// random returns n bytes of the system's chance.
func random(n int) []byte {
	b := make([]byte, n)
	_, _ = rand.Read(b) // never fails: it ends the program instead
	return b
}
