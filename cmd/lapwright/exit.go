package main

import (
	"errors"

	"github.com/urfave/cli/v2"

	"lapwright/convert"
)

// Exit codes, after sysexits.h where it has one.
const (
	exitDone        = 0
	exitStops       = 1
	exitUsage       = 2
	exitUnusable    = 65
	exitMissing     = 66
	exitOurs        = 70
	exitCannotMake  = 73
	exitCannotSave  = 74
	exitInterrupted = 75
)

// exitMeanings says what each code means, for the help and the README.
var exitMeanings = []struct {
	code    int
	meaning string
}{
	{exitDone, "all done"},
	{exitStops, "done, but something stopped a wall, which was left out (with --strict nothing was written)"},
	{exitUsage, "the command line is not understood"},
	{exitUnusable, "the input is no survey that can be read, or of which nothing can be taken off, or none that can be split as asked; or takeoffs that count the same twice"},
	{exitMissing, "the input is not there, or may not be read"},
	{exitOurs, "a fault of this program; nothing was written"},
	{exitCannotMake, "the output may not be made there"},
	{exitCannotSave, "the output could not be written whole; nothing was left behind"},
	{exitInterrupted, "interrupted; nothing was left behind; run it again"},
}

// usageError is a command line that cannot be carried out.
type usageError struct{ text string }

func (e usageError) Error() string { return e.text }

// stopsError says that the work was done but stops left part of it out.
type stopsError struct{}

func (stopsError) Error() string { return "stops left part out" }

// outputError says that standard output took no more.
type outputError struct{ error }

// exitCode maps a failure to its exit code: the one place that does.
func exitCode(err error) int {
	if err == nil {
		return exitDone
	}
	switch {
	case errors.As(err, new(*convert.Error)): // below
	case errors.As(err, new(usageError)), errors.As(err, new(cli.ExitCoder)):
		return exitUsage
	case errors.As(err, new(outputError)):
		return exitCannotSave
	case errors.As(err, new(stopsError)):
		return exitStops
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
