package auth

// Occupy takes all turns of hashing, as that many people who sign in would, until it is
// told to let go.
func (p *Passwords) Occupy() (release func()) {
	for range hashesAtOnce {
		p.queue <- struct{}{}
		p.turns <- struct{}{}
	}
	return func() {
		for range hashesAtOnce {
			<-p.turns
			<-p.queue
		}
	}
}

// Fill takes all places of the queue, until it is told to let go.
func (p *Passwords) Fill() (release func()) {
	for range cap(p.queue) {
		p.queue <- struct{}{}
	}
	return func() {
		for range cap(p.queue) {
			<-p.queue
		}
	}
}

// Queued is how many are hashed or wait for it.
func (p *Passwords) Queued() int { return len(p.queue) }

// MostWaiting is how many wait at most.
const MostWaiting = hashesWaiting

// Waiting says whether a try would have to wait.
func (w *Waits) Waiting(account, address string) bool {
	w.mu.Lock()
	defer w.mu.Unlock()
	t, there := w.pairs[pair{account, address}]
	return there && t.from.After(w.now())
}
