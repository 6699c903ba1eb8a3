//go:build !unix

package cutting

import "time"

var started = time.Now()

// cpuSeconds is the time since the start, where processor time is not to be had.
func cpuSeconds() float64 { return time.Since(started).Seconds() }
