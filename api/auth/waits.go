package auth

import (
	"net/netip"
	"sync"
	"time"
)

// How long somebody waits after wrong tries.
const (
	// freeTries are wrong ones without a wait: people mistype.
	freeTries = 3
	firstWait = time.Second
	// longestWait is short enough to be waited for, and allows 60 guesses an hour.
	longestWait = time.Minute
	// waitsForget is how long after the last wrong try they count as none.
	waitsForget = time.Hour
	// mostWaits bounds how many are remembered.
	mostWaits = 10_000
)

// Waits slows down guesses at passwords, by account and by address. Nobody is locked out
// by somebody else: a wait is told to one address for one account, once, and what others
// do afterwards does not lengthen it; an address from which the account has signed in
// waits for its own wrong tries alone. This machine never waits. It may be used from many
// goroutines, and keeps nothing beyond the process.
type Waits struct {
	now func() time.Time

	mu        sync.Mutex
	pairs     map[pair]*turn
	accounts  map[string]tries
	addresses map[string]tries
}

// pair is an address that tries an account.
type pair struct{ account, address string }

// turn is from when on a pair may try.
type turn struct {
	tries
	from  time.Time
	known bool // it has signed in from here
}

// tries are the wrong ones, and when the last one was.
type tries struct {
	wrong int
	last  time.Time
}

// NewWaits makes Waits by a clock.
func NewWaits(now func() time.Time) *Waits {
	return &Waits{now: now, pairs: map[pair]*turn{}, accounts: map[string]tries{}, addresses: map[string]tries{}}
}

// Try asks to have a password looked at. It says how long the address has to wait for
// that, and changes nothing then; with zero the try counts as a wrong one from now on,
// until Right says otherwise, so that many at once are no way around the wait.
func (w *Waits) Try(account, address string) time.Duration {
	if loopback(address) {
		return 0
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	now := w.now()
	p := pair{account, address}
	t, there := w.pairs[p]
	if !there {
		// A newcomer waits as long as those who guess at this account, or from this address, have to.
		others := max(w.accounts[account].at(now), w.addresses[address].at(now))
		t = &turn{tries: tries{last: now}, from: now.Add(waitFor(others))}
		w.keep(p, t)
	}
	// A clock that was set back makes nobody wait for longer than there is.
	if wait := min(t.from.Sub(now), longestWait); wait > 0 {
		return wait
	}
	t.tries = t.more(now)
	wrong := t.wrong
	w.accounts[account] = w.accounts[account].more(now)
	w.addresses[address] = w.addresses[address].more(now)
	if !t.known {
		wrong = max(wrong, w.accounts[account].wrong, w.addresses[address].wrong)
	}
	t.from = now.Add(waitFor(wrong))
	return 0
}

// Right notes that the try before was right: the address is known to the account from
// now on, and that try counts for nothing.
func (w *Waits) Right(account, address string) {
	if loopback(address) {
		return
	}
	w.mu.Lock()
	defer w.mu.Unlock()
	w.keep(pair{account, address}, &turn{tries: tries{last: w.now()}, known: true})
	w.forgive(account, address)
}

// Know has an address count as known to the account, as if it had signed in from there.
func (w *Waits) Know(account, address string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if t, there := w.pairs[pair{account, address}]; there {
		t.known = true
		return
	}
	w.keep(pair{account, address}, &turn{tries: tries{last: w.now()}, known: true})
}

// Undo notes that the password of the try before was not looked at, so that it counts for nothing.
func (w *Waits) Undo(account, address string) {
	w.mu.Lock()
	defer w.mu.Unlock()
	if t, there := w.pairs[pair{account, address}]; there && t.wrong > 0 {
		t.wrong--
		t.from = w.now()
	}
	w.forgive(account, address)
}

// forgive takes back the try before from what is counted of all at an account, and of all from an address.
func (w *Waits) forgive(account, address string) {
	for _, of := range []struct {
		counted map[string]tries
		who     string
	}{{w.accounts, account}, {w.addresses, address}} {
		if t := of.counted[of.who]; t.wrong > 0 {
			t.wrong--
			of.counted[of.who] = t
		}
	}
}

// keep remembers a pair, and makes room for it: first of what has no weight any more,
// then of strangers, who are as many as somebody likes.
func (w *Waits) keep(p pair, t *turn) {
	now := w.now()
	if len(w.pairs) >= mostWaits {
		for other, of := range w.pairs {
			if !of.known && of.at(now) == 0 && !of.from.After(now) {
				delete(w.pairs, other)
			}
		}
	}
	if len(w.pairs) >= mostWaits {
		for other, of := range w.pairs {
			if !of.known {
				delete(w.pairs, other)
			}
		}
	}
	if len(w.pairs) >= mostWaits {
		clear(w.pairs)
	}
	w.pairs[p] = t
	for _, counted := range []map[string]tries{w.accounts, w.addresses} {
		if len(counted) < mostWaits {
			continue
		}
		for who, of := range counted {
			if of.at(now) == 0 {
				delete(counted, who)
			}
		}
		if len(counted) >= mostWaits {
			clear(counted)
		}
	}
}

// at is how many wrong tries count now.
func (t tries) at(now time.Time) int {
	if now.Sub(t.last) >= waitsForget {
		return 0
	}
	return t.wrong
}

func (t tries) more(now time.Time) tries { return tries{wrong: t.at(now) + 1, last: now} }

// waitFor is the wait after so many wrong tries.
func waitFor(wrong int) time.Duration {
	if wrong < freeTries {
		return 0
	}
	wait := firstWait
	for range wrong - freeTries {
		if wait *= 2; wait >= longestWait {
			return longestWait
		}
	}
	return wait
}

func loopback(address string) bool {
	at, err := netip.ParseAddr(address)
	return err == nil && at.Unmap().IsLoopback()
}
