//go:build !unix

package spent

import "time"

var began = time.Now()

// Time is what has passed since the start: no better is to be had here.
func Time() time.Duration { return time.Since(began) }
