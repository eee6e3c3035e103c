package store

import (
	"context"
	"time"
)

// LastReceived returns when the last entry arrived here, the zero time if
// none did.
func (f *Folder) LastReceived(ctx context.Context) (time.Time, error) {
	f.mu.Lock()
	defer f.mu.Unlock()
	if err := f.refresh(ctx, f.read); err != nil {
		return time.Time{}, err
	}
	var at time.Time
	for _, e := range f.journal.Entries() {
		if e.Arrival == f.last.number {
			at = e.Received
		}
	}
	return at, nil
}
