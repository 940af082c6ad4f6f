package node

import (
	"sync"
	"time"
)

// quietBox is how long a box that tells its clock about once a second may say nothing
// before its line counts as lost: a power bank that switched itself off leaves the line open.
const quietBox = 2 * time.Second

// lineState is whether the line to a counter box is open. The zero value is open: readings
// may come from elsewhere, and a box that only writes passes may have none to write.
type lineState struct {
	mu     sync.Mutex
	gone   bool
	clocks int       // lines that told the box's clock since the line was opened
	last   time.Time // when the newest line came
}

// opened notes that the line was opened.
func (s *lineState) opened(now time.Time) {
	if s == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gone, s.clocks, s.last = false, 0, now
}

// lost notes that the line is gone.
func (s *lineState) lost() {
	if s == nil {
		return
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gone, s.clocks = true, 0
}

// came notes a line of the box.
func (s *lineState) came(text string, at time.Time) {
	if s == nil {
		return
	}
	l, err := ParseLine(text)
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gone, s.last = false, at
	if err == nil && l.Kind == Now {
		s.clocks++
	}
}

// isLost is what the server is told. A box has to have told its clock twice before its
// silence means anything.
func (s *lineState) isLost(at time.Time) bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.gone || s.clocks >= 2 && at.Sub(s.last) > quietBox
}
