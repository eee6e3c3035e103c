package picture

import (
	"context"
	"sync"
)

// memory is the budget that all decoding in this process shares.
var memory = &purse{left: budget, given: make(chan struct{})}

// purse hands out shares of a budget, and lets those wait for whom it does not
// suffice.
type purse struct {
	mu    sync.Mutex
	left  int64
	given chan struct{} // closed, and made anew, when something is given back
}

func (p *purse) take(ctx context.Context, n int64) error {
	for {
		p.mu.Lock()
		if p.left >= n {
			p.left -= n
			p.mu.Unlock()
			return nil
		}
		wait := p.given
		p.mu.Unlock()
		select {
		case <-wait:
		case <-ctx.Done():
			return ctx.Err()
		}
	}
}

func (p *purse) give(n int64) {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.left += n
	close(p.given)
	p.given = make(chan struct{})
}
