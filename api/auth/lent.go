package auth

import "sync"

// Lent are tokens of this process: they are kept nowhere, and open nothing once it
// has ended.
type Lent struct {
	mu  sync.RWMutex
	who map[[32]byte]Caller
}

// Make draws a secret for a caller of a role.
func (l *Lent) Make(club string, role Role) (secret string) {
	secret, id := byChance()
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.who == nil {
		l.who = map[[32]byte]Caller{}
	}
	l.who[Hash(secret)] = Caller{Role: role, Club: club, Actor: string(role) + "-" + id[:6], Key: id}
	return secret
}

func (l *Lent) caller(secret string) (Caller, bool) {
	if l == nil {
		return Caller{}, false
	}
	l.mu.RLock()
	defer l.mu.RUnlock()
	who, there := l.who[Hash(secret)]
	return who, there
}
