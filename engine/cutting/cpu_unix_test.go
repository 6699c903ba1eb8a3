//go:build unix

package cutting

import "syscall"

// cpuSeconds is the processor time this process has used, so that a
// measurement does not depend on what else the machine does.
func cpuSeconds() float64 {
	var u syscall.Rusage
	if syscall.Getrusage(syscall.RUSAGE_SELF, &u) != nil {
		return 0
	}
	return float64(u.Utime.Sec+u.Stime.Sec) + float64(u.Utime.Usec+u.Stime.Usec)/1e6
}
