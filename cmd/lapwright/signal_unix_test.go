//go:build unix

package main

import (
	"errors"
	"os"
	"os/exec"
	"path/filepath"
	"syscall"
	"testing"
)

// A real signal while the survey is being read: the program ends by itself
// with its own code and leaves nothing. The survey is a pipe, so that the
// program is known to be running when the other end opens.
func TestSignal(t *testing.T) {
	for _, signal := range []syscall.Signal{syscall.SIGINT, syscall.SIGTERM} {
		t.Run(signal.String(), func(t *testing.T) {
			dir := t.TempDir()
			pipe := filepath.Join(dir, "Walls.csv")
			if err := syscall.Mkfifo(pipe, 0o600); err != nil {
				t.Skip("no named pipes here:", err)
			}
			cmd := exec.Command("lapwright", "Walls.csv") // testscript puts it on the path
			cmd.Dir = dir
			if err := cmd.Start(); err != nil {
				t.Fatal(err)
			}
			w, err := os.OpenFile(pipe, os.O_WRONLY, 0)
			if err != nil {
				t.Fatal(err)
			}
			if err := cmd.Process.Signal(signal); err != nil {
				t.Fatal(err)
			}
			if _, err := w.WriteString("Wall,Width mm,Height mm\nFront,4000,2700\n"); err != nil {
				t.Fatal(err)
			}
			w.Close()
			var exit *exec.ExitError
			if err := cmd.Wait(); !errors.As(err, &exit) || exit.ExitCode() != exitInterrupted {
				t.Errorf("got %v, want exit status %d", err, exitInterrupted)
			}
			entries, err := os.ReadDir(dir)
			if err != nil || len(entries) != 1 {
				t.Errorf("left behind: %v (%v), want the survey alone", entries, err)
			}
		})
	}
}
