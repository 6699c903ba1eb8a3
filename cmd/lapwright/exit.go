package main

import (
	"errors"

	"lapwright/convert"
)

// Exit codes, after sysexits.h where it has one.
const (
	exitDone        = 0
	exitStops       = 1  // done, but a stop left part out (with --strict: nothing written)
	exitUsage       = 2  // the command line is off
	exitUnusable    = 65 // the input is not a survey
	exitMissing     = 66 // the input is not there
	exitOurs        = 70 // our fault
	exitCannotMake  = 73 // the output may not be made there
	exitCannotSave  = 74 // the output could not be written whole
	exitInterrupted = 75 // interrupted; try again
)

// usageError is a command line that cannot be carried out.
type usageError struct{ text string }

func (e usageError) Error() string { return e.text }

// exitCode maps a failure to its exit code: the one place that does.
func exitCode(err error) int {
	var usage usageError
	switch {
	case err == nil:
		return exitDone
	case errors.As(err, &usage):
		return exitUsage
	}
	switch convert.KindOf(err) {
	case convert.Missing:
		return exitMissing
	case convert.Unusable:
		return exitUnusable
	case convert.Refused:
		return exitStops
	case convert.CannotMake:
		return exitCannotMake
	case convert.CannotSave:
		return exitCannotSave
	case convert.Interrupted:
		return exitInterrupted
	default:
		return exitOurs
	}
}
