package report

import (
	"bufio"
	"io"
	"os"
)

// spoolMost is how many bytes a spool holds in memory.
const spoolMost = 8 << 20

// spool keeps bytes until they are read back: few in memory, more in a
// temporary file. The zero value is empty.
type spool struct {
	held []byte
	file *os.File // nil: all are held
	out  *bufio.Writer
	size int64
}

// Write adds bytes to the end.
func (s *spool) Write(p []byte) (int, error) {
	s.size += int64(len(p))
	if s.file == nil && len(s.held)+len(p) <= spoolMost {
		s.held = append(s.held, p...)
		return len(p), nil
	}
	if s.file == nil {
		if err := s.spill(); err != nil {
			return 0, err
		}
	}
	return s.out.Write(p)
}

// spill moves what is held into a file.
func (s *spool) spill() (err error) {
	if s.file, err = os.CreateTemp("", "lapwright-*"); err != nil {
		return err
	}
	s.out = bufio.NewWriterSize(s.file, 1<<16)
	_, err = s.out.Write(s.held)
	s.held = nil
	return err
}

// copyTo writes n bytes from a place on.
func (s *spool) copyTo(w io.Writer, from, n int64) error {
	if s.file == nil {
		_, err := w.Write(s.held[from : from+n])
		return err
	}
	if err := s.out.Flush(); err != nil {
		return err
	}
	_, err := io.Copy(w, io.NewSectionReader(s.file, from, n))
	return err
}

// close gives up all bytes.
func (s *spool) close() error {
	s.held = nil
	if s.file == nil {
		return nil
	}
	err := s.file.Close()
	if e := os.Remove(s.file.Name()); err == nil {
		err = e
	}
	s.file = nil
	return err
}
