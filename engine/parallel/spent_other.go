//go:build !unix

package parallel

import "time"

var began = time.Now()

// Spent is the time since the start: no better is to be had here.
func Spent() time.Duration { return time.Since(began) }
