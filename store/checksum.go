package store

import (
	"crypto/sha256"
	"encoding/binary"
	"hash"
	"time"

	"dogshore/journal"
)

// checksum chains an entry to the one that arrived before it. Values count by
// their own SHA-256, which value returns for each fact, so that one can be
// taken out and the chain still holds.
func checksum(before []byte, e *journal.Entry, value func(n int) []byte) []byte {
	h := sha256.New()
	h.Write(before)
	number(h, e.Arrival)
	word(h, e.ID)
	number(h, int64(e.Stamp))
	word(h, e.Since.String())
	word(h, text(e.Wall))
	word(h, text(e.Received))
	word(h, e.Author)
	word(h, string(e.Visit))
	word(h, string(e.Grounds))
	word(h, e.Origin)
	word(h, e.Batch)
	number(h, int64(e.Version))
	number(h, int64(len(e.Facts)))
	for n, f := range e.Facts {
		word(h, f.Kind)
		word(h, f.Key)
		word(h, f.Field)
		h.Write(value(n))
		word(h, f.Over)
	}
	return h.Sum(nil)
}

// text writes a time so that it reads back exactly.
func text(t time.Time) string { return t.Format(time.RFC3339Nano) }

func number(h hash.Hash, n int64) {
	var b [8]byte
	binary.BigEndian.PutUint64(b[:], uint64(n))
	h.Write(b[:])
}

func word(h hash.Hash, s string) {
	number(h, int64(len(s)))
	h.Write([]byte(s))
}
