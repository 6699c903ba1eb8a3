package convert

import (
	"crypto/sha256"
	"encoding/hex"
	"os"

	"lapwright/convert/survey"
)

// Print is by what a takeoff that was written is known again: its size and sum, and
// what it says of itself, which stays when somebody writes into it.
type Print struct {
	Size  int64  `json:"size"`
	Sum   string `json:"sha256"`
	Stamp string `json:"stamp"` // SHA-256 too
}

// PrintOf takes the print of a takeoff.
func PrintOf(path string) (Print, error) {
	data, err := os.ReadFile(path)
	if err != nil {
		return Print{}, err
	}
	return Print{int64(len(data)), sumOf(string(data)), sumOf(survey.Stamp(path))}, nil
}

func sumOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// IsOf reports whether a file is the takeoff that a print was taken of: the same
// bytes, or a whole workbook that was changed since.
func (p Print) IsOf(path string) (is, changed bool) {
	data, err := os.ReadFile(path)
	if err != nil || p.Sum == "" {
		return false, false
	}
	if int64(len(data)) == p.Size && sumOf(string(data)) == p.Sum {
		return true, false
	}
	_, err = survey.ReadWritten(path)
	return err == nil && sumOf(survey.Stamp(path)) == p.Stamp, true
}
