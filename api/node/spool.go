package node

import (
	"encoding/json"
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
// they were made, and beside them what is open of the run under way.
type Spool struct {
	folder string
	mu     sync.Mutex
	next   int
	open   *openRun
	wake   chan struct{}
}

const (
	chunkFile   = ".chunk.json"
	refusedFile = chunkFile + ".refused"
	partFile    = chunkFile + ".part"
	openFile    = "open.json"
)

// opened is what stands in the file of the open run: which chunk it goes with.
type opened struct {
	Chunk int      `json:"chunk"`
	Open  *openRun `json:"open"`
}

// OpenSpool opens the folder, making it if it is not there. Chunks that the server
// has refused wait again: a newer server may take them.
func OpenSpool(folder string) (*Spool, error) {
	if err := os.MkdirAll(folder, 0o700); err != nil {
		return nil, fmt.Errorf("the spool folder cannot be made: %w", err)
	}
	s := &Spool{folder: folder, wake: make(chan struct{}, 1)}
	with, err := s.readOpen()
	if err != nil {
		return nil, err
	}
	s.open, s.next = with.Open, with.Chunk+1
	for _, file := range []struct {
		suffix string
		keep   func(number int) bool
	}{
		{refusedFile, func(int) bool { return true }},
		// The open run was on disk before the chunk had its name: it goes with it. What
		// was not got that far is not there.
		{partFile, func(number int) bool { return number == with.Chunk }},
	} {
		numbers, err := s.numbers(file.suffix)
		if err != nil {
			return nil, err
		}
		for _, number := range numbers {
			from := s.path(number, file.suffix)
			if !file.keep(number) {
				err = os.Remove(from)
			} else {
				err = os.Rename(from, s.path(number, chunkFile))
			}
			if err != nil {
				return nil, fmt.Errorf("the spool cannot be put in order: %w", err)
			}
		}
	}
	waiting, err := s.Waiting()
	if err != nil {
		return nil, err
	}
	if n := len(waiting); n > 0 {
		s.next = max(s.next, waiting[n-1]+1)
		s.signal()
	}
	return s, syncFolder(folder)
}

// readOpen reads what was open; chunk -1 is nothing.
func (s *Spool) readOpen() (opened, error) {
	none := opened{Chunk: -1}
	text, err := os.ReadFile(filepath.Join(s.folder, openFile))
	if errors.Is(err, os.ErrNotExist) {
		return none, nil
	}
	if err != nil {
		return none, fmt.Errorf("the spool cannot be read: %w", err)
	}
	var out opened
	if err := json.Unmarshal(text, &out); err != nil {
		return none, fmt.Errorf("%s in the spool cannot be read; put it elsewhere and start again: %w", openFile, err)
	}
	return out, nil
}

// Open is the run that was under way when the node was stopped; nil is none.
func (s *Spool) Open() *openRun { return s.open }

// Put keeps a chunk, and what is open after it. When it returns, both are on disk;
// where the power goes meanwhile, both are or neither.
func (s *Spool) Put(body []byte, open *openRun) error {
	s.mu.Lock()
	defer s.mu.Unlock()
	part, path := s.path(s.next, partFile), s.path(s.next, chunkFile)
	with, err := json.Marshal(opened{Chunk: s.next, Open: open})
	if err != nil {
		return err
	}
	openPath := filepath.Join(s.folder, openFile)
	for _, step := range []func() error{
		func() error { return writeSynced(part, body) },
		func() error { return writeSynced(openPath+".part", with) },
		func() error { return os.Rename(openPath+".part", openPath) },
		func() error { return syncFolder(s.folder) },
		func() error { return os.Rename(part, path) },
		func() error { return syncFolder(s.folder) },
	} {
		if err := step(); err != nil {
			return fmt.Errorf("a chunk cannot be kept: %w", err)
		}
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
func (s *Spool) Waiting() ([]int, error) { return s.numbers(chunkFile) }

// numbers lists the numbers of the files of one kind, ascending.
func (s *Spool) numbers(suffix string) ([]int, error) {
	entries, err := os.ReadDir(s.folder)
	if err != nil {
		return nil, fmt.Errorf("the spool cannot be read: %w", err)
	}
	var out []int
	for _, e := range entries {
		if name, is := strings.CutSuffix(e.Name(), suffix); is {
			if n, err := strconv.Atoi(name); err == nil {
				out = append(out, n)
			}
		}
	}
	slices.Sort(out)
	return out, nil
}

// Get reads a chunk.
func (s *Spool) Get(number int) ([]byte, error) { return os.ReadFile(s.path(number, chunkFile)) }

// Done forgets a chunk that the server has acknowledged.
func (s *Spool) Done(number int) error {
	err := os.Remove(s.path(number, chunkFile))
	if errors.Is(err, os.ErrNotExist) {
		return nil
	}
	return err
}

// SetAside keeps a chunk that the server refuses for good under another name, until
// the spool is opened again.
func (s *Spool) SetAside(number int) error {
	return os.Rename(s.path(number, chunkFile), s.path(number, refusedFile))
}

func (s *Spool) path(number int, suffix string) string {
	return filepath.Join(s.folder, fmt.Sprintf("%012d%s", number, suffix))
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
