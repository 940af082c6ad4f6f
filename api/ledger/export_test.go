package ledger

import "time"

// Loaded is how many streams a ledger holds in memory.
func Loaded[S any, C any, E Fact](l *Ledger[S, C, E]) int { return len(l.loaded()) }

// Closing says that Close was called.
func Closing[S any, C any, E Fact](l *Ledger[S, C, E]) bool { return l.closing() }

// Unload drops the states that nobody asks for at this moment.
func (l *Ledger[S, C, E]) Unload() { l.unload(0) }

// Settle waits until no state is being written.
func (l *Ledger[S, C, E]) Settle() {
	for _, s := range l.loaded() {
		for busy := true; busy; time.Sleep(time.Millisecond) {
			s.mu.Lock()
			busy = s.keeping
			s.mu.Unlock()
		}
	}
}

// ReadAhead is what loads a log.
var ReadAhead = readAhead
