package heic

import "syscall"

// Bound bounds the memory of this process to about n bytes beside what it
// takes to start: beyond it, it ends.
func Bound(n int64) {
	const toStart = 3 << 30 // addresses that Go and WebAssembly set aside without using them
	limit := uint64(n + toStart)
	_ = syscall.Setrlimit(syscall.RLIMIT_AS, &syscall.Rlimit{Cur: limit, Max: limit}) // where it can't be set, time is the bound
}
