package programme

import (
	"context"
	"sync"
	"sync/atomic"
)

// each calls do with 0 to n-1 from a number of goroutines, and returns the error
// of the first of them that has one, or of ctx when it was done before all.
func each(ctx context.Context, workers, n int, do func(i int) error) error {
	var next atomic.Int64
	var wait sync.WaitGroup
	errs := make([]error, n)
	for range min(workers, n) {
		wait.Go(func() {
			for i := int(next.Add(1) - 1); i < n; i = int(next.Add(1) - 1) {
				if errs[i] = ctx.Err(); errs[i] == nil {
					errs[i] = do(i)
				}
			}
		})
	}
	wait.Wait()
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
