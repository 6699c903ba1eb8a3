package convert

import (
	"errors"
	"io/fs"
	"os"
	"slices"
)

// Kind says whose fault a failure is, so that a caller can choose an exit code
// without reading messages.
type Kind int

// The kinds of failure.
const (
	Internal   Kind = iota // ours: the audit found a fault in a result
	Missing                // the input is not there or may not be read
	Unusable               // the input is not a survey we can read
	Refused                // stops were found and the caller asked for none
	CannotMake             // the output may not be made there
	CannotSave             // the output could not be written whole
	Interrupted
)

// kinds are the words for the kinds, as the report of a batch has them.
var kinds = [...]string{"fault of the program", "input missing", "input unusable", "refused", "output not allowed", "output not written", "interrupted"}

func (k Kind) String() string { return kinds[k] }

// KindNamed returns the kind with that word; one that is not known is Internal.
func KindNamed(word string) Kind { return Kind(max(0, slices.Index(kinds[:], word))) }

// Error is a failed conversion. What goes on from the name of the file: "is
// empty". Do is a sentence of its own without its full stop: "Save it again".
type Error struct {
	Kind Kind
	Path string
	What string
	Do   string
	Err  error
}

// Error returns the sentences a user reads: what is wrong with which file and
// what to do about it.
func (e *Error) Error() string {
	s := e.Path + " " + e.What + "."
	if e.Do != "" {
		s += " " + e.Do + "."
	}
	return s
}

// Unwrap returns the cause.
func (e *Error) Unwrap() error { return e.Err }

// KindOf returns the kind of a failure; an error of another type is Internal.
func KindOf(err error) Kind {
	var e *Error
	if errors.As(err, &e) {
		return e.Kind
	}
	return Internal
}

// reason is the system's own word for a failure, without the operation and
// the path, which the sentence around it names.
func reason(err error) string {
	var path *fs.PathError
	var link *os.LinkError
	switch {
	case errors.As(err, &path):
		return path.Err.Error()
	case errors.As(err, &link):
		return link.Err.Error()
	}
	return err.Error()
}
