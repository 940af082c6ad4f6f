package ledger

// Loaded is how many streams a ledger holds in memory.
func Loaded[S any, C any, E Fact](l *Ledger[S, C, E]) int { return len(l.loaded()) }

// Unload drops the states that nobody asks for at this moment.
func (l *Ledger[S, C, E]) Unload() { l.unload(0) }

// ReadAhead is what loads a log.
var ReadAhead = readAhead
