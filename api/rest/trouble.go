package rest

import (
	"sync"
	"time"

	"benchmeet/domain/refusal"
)

// troubleFor is how long trouble is told of after it was last met. Phones and counter
// boxes send again all the time, so it is met again as long as it lasts.
const troubleFor = 30 * time.Second

// databaseAway is what those at the desk are told, too, when the database is there again:
// what was not acknowledged has to be sent once more.
const databaseAway = "database-away"

// trouble is what keeps the server from keeping anything: those at the desk have to know
// it, and not only who wanted something kept.
type trouble struct {
	mu   sync.Mutex
	code refusal.Code
	met  time.Time
}

// note notes trouble that was met; it is fresh where it was not there before.
func (t *trouble) note(code refusal.Code) (fresh bool) {
	if t == nil {
		return true
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	fresh = t.code != code || time.Since(t.met) > troubleFor
	t.code, t.met = code, time.Now()
	return fresh
}

// now is the trouble that there is, if any.
func (t *trouble) now() (refusal.Code, bool) {
	if t == nil {
		return "", false
	}
	t.mu.Lock()
	defer t.mu.Unlock()
	return t.code, t.code != "" && time.Since(t.met) <= troubleFor
}
