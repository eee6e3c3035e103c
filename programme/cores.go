package programme

import (
	"sync"
	"sync/atomic"
)

// onCores does what worker gives out for each of n, in any order and on so many
// cores; 0 stands for all. Each core, by its number, has a worker of its own.
func onCores(cores, n int, worker func(core int) func(i int)) {
	var next atomic.Int64
	var all sync.WaitGroup
	for core := range min(n, Run{Workers: cores}.workers()) {
		all.Go(func() {
			do := worker(core)
			for i := int(next.Add(1)) - 1; i < n; i = int(next.Add(1)) - 1 {
				do(i)
			}
		})
	}
	all.Wait()
}

// firstError returns the first error of many.
func firstError(errs []error) error {
	for _, err := range errs {
		if err != nil {
			return err
		}
	}
	return nil
}
