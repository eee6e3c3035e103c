//go:build unix

package bench

import (
	"syscall"
	"time"
)

// cpuTime returns the processor time that the process has used: what a busy
// machine changes little.
func cpuTime() time.Duration {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
