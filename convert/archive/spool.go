package archive

import (
	"bufio"
	"io"
	"os"
)

const (
	spoolMost = 8 << 20 // bytes that a spool holds in memory
	chunkSize = 1 << 16
)

type chunk [chunkSize]byte

// chunks keeps the memory of spools for the next, 4 MB of it.
var chunks = make(spares[*chunk], 64)

// spares keeps what may be used again, as much as it has room for. A sync.Pool
// would be emptied by the collector more often than workbooks are written.
type spares[T any] chan T

func (s spares[T]) take(make func() T) T {
	select {
	case v := <-s:
		return v
	default:
		return make()
	}
}

func (s spares[T]) keep(v T) {
	select {
	case s <- v:
	default:
	}
}

// spool keeps bytes until they are read back: few in memory, more in a
// temporary file. The zero value is empty.
type spool struct {
	held []*chunk // full, but for the last
	file *os.File // nil: all are held
	out  *bufio.Writer
	size int64
}

// Write adds bytes to the end.
func (s *spool) Write(p []byte) (int, error) {
	if s.file == nil && s.size+int64(len(p)) > spoolMost {
		if err := s.spill(); err != nil {
			return 0, err
		}
	}
	if s.file != nil {
		s.size += int64(len(p))
		return s.out.Write(p)
	}
	n := len(p)
	for len(p) > 0 {
		at := s.size % chunkSize
		if at == 0 {
			s.held = append(s.held, chunks.take(func() *chunk { return new(chunk) }))
		}
		took := copy(s.held[len(s.held)-1][at:], p)
		s.size, p = s.size+int64(took), p[took:]
	}
	return n, nil
}

// spill moves what is held into a file.
func (s *spool) spill() error {
	file, err := os.CreateTemp("", "lapwright-*")
	if err != nil {
		return err
	}
	s.out = bufio.NewWriterSize(file, chunkSize)
	err = s.copyTo(s.out, 0, s.size)
	s.file = file
	s.letGo()
	return err
}

// copyTo writes n bytes from a place on.
func (s *spool) copyTo(w io.Writer, from, n int64) error {
	if s.file != nil {
		if err := s.out.Flush(); err != nil {
			return err
		}
		_, err := io.Copy(w, io.NewSectionReader(s.file, from, n))
		return err
	}
	for n > 0 {
		at := from % chunkSize
		part := s.held[from/chunkSize][at:min(chunkSize, at+n)]
		if _, err := w.Write(part); err != nil {
			return err
		}
		from, n = from+int64(len(part)), n-int64(len(part))
	}
	return nil
}

// letGo gives up what is held in memory.
func (s *spool) letGo() {
	for _, c := range s.held {
		chunks.keep(c)
	}
	s.held = nil
}

// close gives up all bytes.
func (s *spool) close() error {
	s.letGo()
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
