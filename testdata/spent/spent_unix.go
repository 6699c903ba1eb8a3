//go:build unix

// Package spent measures for benchmarks.
package spent

import (
	"syscall"
	"time"
)

// Time is what this process has used of all processors, which other work
// on the machine hardly stretches: benchmarks tell their ratios by it. It is 0
// where the system does not say.
func Time() time.Duration {
	var u syscall.Rusage
	if err := syscall.Getrusage(syscall.RUSAGE_SELF, &u); err != nil {
		return 0
	}
	return time.Duration(u.Utime.Nano() + u.Stime.Nano())
}
