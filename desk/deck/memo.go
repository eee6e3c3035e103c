package deck

import (
	"crypto/sha256"
	"encoding/json"
	"sync"

	"dogshore/gybe"
	"dogshore/jackstay"
)

// Memo remembers what the engines answered: the deck changes far less often
// than the record. An answer is a function of its case alone, so remembering
// changes nothing but the time. It is safe for use from any goroutine; the nil
// Memo remembers nothing.
type Memo struct {
	mu   sync.Mutex
	kept map[[32]byte]any
}

// most is how many answers are kept: two builds' arrangements, and more.
const most = 64

// recall answers a case from memory, or works it out; fresh says which, and key
// names the case.
func recall[C, R any](m *Memo, kind string, c C, work func(C) (R, error)) (res R, key [32]byte, fresh bool, err error) {
	if m == nil {
		res, err = work(c)
		return res, key, true, err
	}
	text, err := json.Marshal(c)
	if err != nil {
		return res, key, true, err
	}
	key = sha256.Sum256(append([]byte(kind+"\n"), text...))
	m.mu.Lock()
	was, ok := m.kept[key]
	m.mu.Unlock()
	if ok {
		return was.(R), key, false, nil
	}
	if res, err = work(c); err != nil {
		return res, key, true, err
	}
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.kept == nil || len(m.kept) >= most {
		m.kept = map[[32]byte]any{}
	}
	m.kept[key] = res
	return res, key, true, nil
}

func (m *Memo) deck(c jackstay.Case) (res jackstay.Result, key [32]byte, fresh bool, err error) {
	return recall(m, "deck", c, jackstay.Deck)
}

func (m *Memo) gybe(c gybe.Case) (gybe.Result, error) {
	res, _, _, err := recall(m, "gybe", c, gybe.Reckon)
	return res, err
}

func (m *Memo) sweep(c gybe.SweepCase) (gybe.SweepResult, error) {
	res, _, _, err := recall(m, "sweep", c, gybe.Sweep)
	return res, err
}

// walk remembers by the deck's own key, and walks only if the deck is one that
// was not walked yet.
func (m *Memo) walk(deck [32]byte, c jackstay.Case, r jackstay.Result, way jackstay.Way) (jackstay.Walked, error) {
	res, _, _, err := recall(m, string(deck[:]), way, func(w jackstay.Way) (jackstay.Walked, error) { return jackstay.Walk(c, r, w) })
	return res, err
}
