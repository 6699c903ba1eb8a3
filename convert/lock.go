package convert

import (
	"path/filepath"
	"strings"
)

// locks are what begins and ends the names of the files that spreadsheet programs
// put beside a workbook that they hold open (from memory).
var locks = [...]struct{ before, after string }{{"~$", ""}, {".~lock.", "#"}}

// Lock returns the file by which a spreadsheet program holds a workbook open;
// blank where there is none.
func Lock(path string) string {
	dir, name := filepath.Split(path)
	for _, l := range locks {
		if at := filepath.Join(dir, l.before+name+l.after); exists(at) {
			return at
		}
	}
	return ""
}

// IsLock reports whether a file of that name is such a one.
func IsLock(path string) bool {
	name := filepath.Base(path)
	for _, l := range locks {
		if strings.HasPrefix(name, l.before) && strings.HasSuffix(name, l.after) {
			return true
		}
	}
	return false
}
