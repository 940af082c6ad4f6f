package auth

// Occupy takes all turns of hashing, as that many people who sign in would, until it is
// told to let go.
func (p *Passwords) Occupy() (release func()) {
	for range hashesAtOnce {
		p.turns <- struct{}{}
	}
	return func() {
		for range hashesAtOnce {
			<-p.turns
		}
	}
}

// Waiting says whether a try would have to wait.
func (w *Waits) Waiting(account, address string) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	t, there := w.pairs[pair{account, address}]
	return there && t.from.After(w.now())
}
