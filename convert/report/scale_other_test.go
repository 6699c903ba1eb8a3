//go:build !unix

package report_test

import "time"

var began = time.Now()

// processorTime is the clock where the system tells no better.
func processorTime() time.Duration { return time.Since(began) }
