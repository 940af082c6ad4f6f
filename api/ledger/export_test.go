package ledger

// Loaded is how many streams a ledger holds in memory.
func Loaded[S any, C any, E Fact](l *Ledger[S, C, E]) int { return len(l.loaded()) }
