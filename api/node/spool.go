package node

import (
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
	"sync"
)

// Spool keeps chunks on disk until the server has them, in the order in which
// they were made.
type Spool struct {
	folder string
	mu     sync.Mutex
	next   int
	wake   chan struct{}
}

// OpenSpool opens the folder, making it if it is not there.
func OpenSpool(folder string) (*Spool, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, fmt.Errorf("the spool folder cannot be made: %w", err)
	}
	s := &Spool{folder: folder, wake: make(chan struct{}, 1)}
	waiting, err := s.Waiting()
	if err != nil {
		return nil, err
	}
	if n := len(waiting); n > 0 {
		s.next = waiting[n-1] + 1
		s.signal()
	}
	return s, nil
}

const chunkFile = ".chunk.json"

// Put keeps a chunk. When it returns, the chunk is on disk.
func (s *Spool) Put(body []byte) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	path := s.path(s.next)
	if err := writeSynced(path+".part", body); err != nil {
		return fmt.Errorf("a chunk cannot be kept: %w", err)
	}
	if err := os.Rename(path+".part", path); err != nil {
		return fmt.Errorf("a chunk cannot be kept: %w", err)
	}
	if err := syncFolder(s.folder); err != nil {
		return err
	}
	s.next++
	s.signal()
	return nil
}

func (s *Spool) signal() {
	select {
	case s.wake <- struct{}{}:
	default:
	}
}

// Waiting lists the numbers of the chunks that are kept, oldest first.
func (s *Spool) Waiting() ([]int, error) {
	entries, err := os.ReadDir(s.folder)
	if err != nil {
		return nil, fmt.Errorf("the spool cannot be read: %w", err)
	}
	var out []int
	for _, e := range entries {
		if name, is := strings.CutSuffix(e.Name(), chunkFile); is {
			if n, err := strconv.Atoi(name); err == nil {
				out = append(out, n)
			}
		}
	}
	slices.Sort(out)
	return out, nil
}

// Get reads a chunk.
func (s *Spool) Get(number int) ([]byte, error) { return os.ReadFile(s.path(number)) }

// Done forgets a chunk that the server has acknowledged.
func (s *Spool) Done(number int) error {
	err := os.Remove(s.path(number))
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return err
}

// SetAside keeps a chunk that the server refuses for good under another name, for
// somebody to look at.
func (s *Spool) SetAside(number int) error {
	return os.Rename(s.path(number), s.path(number)+".refused")
}

func (s *Spool) path(number int) string {
	return filepath.Join(s.folder, fmt.Sprintf("%012d%s", number, chunkFile))
}

func writeSynced(path string, body []byte) error {
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_TRUNC, 0o600)
	if err != nil {
		return err
	}
	_, err = f.Write(body)
	if err == nil {
		err = f.Sync()
	}
	return errors.Join(err, f.Close())
}

func syncFolder(path string) error {
	d, err := os.Open(path)
	if err != nil {
		return err
	}
	return errors.Join(d.Sync(), d.Close())
}
