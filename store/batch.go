package store

import (
	"context"
	"time"
)

// BatchInfo says what one batch is: what was accepted together.
type BatchInfo struct {
	Name     string
	Received time.Time // when its first entry arrived
	Author   string
	Origin   string // where its first entry came from
	Entries  int
	Struck   int // of them, those that no longer count
}

// Batches lists the batches, the latest first.
func (f *Folder) Batches(ctx context.Context) ([]BatchInfo, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.refresh(ctx, f.read); err != nil {
		return nil, err
	}
	strikes := f.journal.Strikes()
	at := map[string]int{}
	var out []BatchInfo
	for _, e := range f.journal.Entries() {
		if e.Batch == "" {
			continue
		}
		i, ok := at[e.Batch]
		if !ok {
			i = len(out)
			at[e.Batch] = i
			out = append(out, BatchInfo{Name: e.Batch, Received: e.Received, Author: e.Author, Origin: e.Origin})
		}
		out[i].Entries++
		if strikes[e.ID] != nil {
			out[i].Struck++
		}
	}
	for i, k := 0, len(out)-1; i < k; i, k = i+1, k-1 {
		out[i], out[k] = out[k], out[i]
	}
	return out, nil
}

// Strikes returns, for each entry that was struck, the ids of the strikes
// that stand against it.
func (f *Folder) Strikes(ctx context.Context) (map[string][]string, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.refresh(ctx, f.read); err != nil {
		return nil, err
	}
	return f.journal.Strikes(), nil
}
