package hosted

import (
	"context"
	"sync"
	"sync/atomic"
	"time"

	"benchmeet/api/store"
)

// lookAgain is how seldom an address that nobody has makes the register look whether
// another server has invited a club meanwhile.
const lookAgain = time.Second

// Kept is what the register asks of the store.
type Kept interface {
	Clubs(ctx context.Context) ([]store.Club, error)
}

// Register is the clubs of a server as it last looked. Its methods may be called from
// many goroutines; a look at it waits for nobody but where an address is not known.
type Register struct {
	kept Kept
	own  string // the club of the server's own address
	now  func() time.Time

	clubs atomic.Pointer[listed]

	mu     sync.Mutex // held while it looks
	looked time.Time
}

type listed struct {
	all    []store.Club
	byID   map[string]store.Club // those with an address
	byHost map[string]store.Club
	shared bool
}

// NewRegister makes a register that knows of nobody until it looks. The clock is the
// machine's.
func NewRegister(kept Kept, own string, now func() time.Time) *Register {
	r := &Register{kept: kept, own: own, now: now}
	r.clubs.Store(&listed{})
	return r
}

// Look reads the clubs anew.
func (r *Register) Look(ctx context.Context) error {
	r.mu.Lock()
	defer r.mu.Unlock()
	return r.look(ctx)
}

func (r *Register) look(ctx context.Context) error {
	r.looked = r.now()
	all, err := r.kept.Clubs(ctx)
	if err != nil {
		return err
	}
	next := &listed{all: all, byID: map[string]store.Club{}, byHost: map[string]store.Club{}}
	for _, c := range all {
		if c.ID != r.own && c.InvitedUS == 0 {
			continue
		}
		next.byID[c.ID] = c
		if c.Host != "" {
			next.byHost[c.Host] = c
		}
		next.shared = next.shared || c.ID != r.own
	}
	r.clubs.Store(next)
	return nil
}

// All are the clubs that the server keeps, with or without an address, in the order of
// their ids. The caller changes nothing of it.
func (r *Register) All() []store.Club { return r.clubs.Load().all }

// Shared says whether more clubs than the server's own have addresses on it.
func (r *Register) Shared() bool { return r.clubs.Load().shared }

// Host finds the club with a host name of its own.
func (r *Register) Host(name string) (store.Club, bool) {
	c, there := r.clubs.Load().byHost[name]
	return c, there
}

// At is the club of an address: by the short name in its path, else by the host name, else
// the server's own, at its root. It is empty where nobody has that address; a host of one's
// own shows nobody else.
func (r *Register) At(ctx context.Context, host, short string) (club string, root bool) {
	own, hasHost := r.Host(host)
	switch {
	case short != "":
		c, _ := r.Short(ctx, short)
		if hasHost && c.ID != own.ID {
			return "", false
		}
		return c.ID, false
	case hasHost:
		return own.ID, false
	}
	return r.own, true
}

// Short finds the club with a short name, also one that another server has invited just
// now.
func (r *Register) Short(ctx context.Context, short string) (store.Club, bool) {
	if c, there := r.clubs.Load().byID[short]; there {
		return c, true
	}
	if !shortName.MatchString(short) {
		return store.Club{}, false
	}
	r.mu.Lock()
	defer r.mu.Unlock()
	// Back where a clock stepped back, too.
	if since := r.now().Sub(r.looked); since >= lookAgain || since < 0 {
		_ = r.look(ctx) // a database that is away knows of no club for now
	}
	c, there := r.clubs.Load().byID[short]
	return c, there
}
