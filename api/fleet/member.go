package fleet

import (
	"context"
	"crypto/rand"
	"log/slog"
	"maps"
	"slices"
	"sync"
	"sync/atomic"
	"time"

	"benchmeet/api/store"
)

// Times of a fleet.
const (
	// every is how long a server waits between two beats.
	every = 5 * time.Second
	// stillFor is how many looks in a row must find a beat unmoved, so that its server is
	// dead: half a minute.
	stillFor = 6
	// leaveWithin is how long leaving may take; who does not come to it is found dead.
	leaveWithin = time.Second
)

// Member is a server in its fleet. Its methods may be called from many goroutines.
type Member struct {
	options Options
	self    store.Server
	common  atomic.Pointer[store.Common]

	looking sync.Mutex // held while the store is asked, and guards what follows
	still   map[string]still
	earlier []string // the servers that read less than this one, when it was said last
}

// still is a beat and how many looks have found it so.
type still struct {
	beat  int64
	looks int
}

// Options are what a member needs.
type Options struct {
	Store store.Fleet
	// Reads is up to which version this server reads each kind of event.
	Reads map[string]int
	// Every is the time between two beats; 0 is the usual one.
	Every time.Duration
	Log   *slog.Logger
}

// Enter makes this server one of its fleet: when it returns, no other writes what this one
// cannot read.
func Enter(ctx context.Context, o Options) (*Member, error) {
	m := newMember(o)
	if err := o.Store.EnterServer(ctx, m.self); err != nil {
		return nil, err
	}
	return m, m.Look(ctx)
}

// Guest is who writes for a moment and reads nothing later: it goes by what the servers
// read and is none of them.
func Guest(ctx context.Context, o Options) (*Member, error) {
	m := newMember(o)
	return m, m.Look(ctx)
}

func newMember(o Options) *Member {
	if o.Every == 0 {
		o.Every = every
	}
	if o.Log == nil {
		o.Log = slog.New(slog.DiscardHandler)
	}
	return &Member{options: o, self: store.Server{ID: rand.Text(), Beat: 1, Reads: o.Reads}, still: map[string]still{}}
}

// Common is what all servers read, as it was known when the store was last asked.
func (m *Member) Common() store.Common { return *m.common.Load() }

// Look asks the store who is there.
func (m *Member) Look(ctx context.Context) error {
	m.looking.Lock()
	defer m.looking.Unlock()
	now, err := m.options.Store.Servers(ctx)
	if err != nil {
		return err
	}
	m.know(now)
	return nil
}

// Keep beats until ctx is done. While the store is away, what was known is gone by: whoever
// enters meanwhile raises the epoch, so nothing is written by it that should not be.
func (m *Member) Keep(ctx context.Context) {
	tick := time.NewTicker(m.options.Every)
	defer tick.Stop()
	for failed := false; ; {
		select {
		case <-ctx.Done():
			return
		case <-tick.C:
		}
		err := m.beat(ctx)
		if err != nil && !failed && ctx.Err() == nil {
			m.options.Log.Warn("this server could not say that it lives; trying again", "error", err)
		}
		failed = err != nil
	}
}

// beat says that this server lives, enters again where others took it for dead, and removes
// those whose beat stands still.
func (m *Member) beat(ctx context.Context) error {
	m.looking.Lock()
	defer m.looking.Unlock()
	now, err := m.options.Store.BeatServer(ctx, m.self.ID)
	if err != nil {
		return err
	}
	if !slices.ContainsFunc(now.All, m.isSelf) {
		m.options.Log.Warn("the other servers took this one for dead; it is one of them again")
		if err := m.options.Store.EnterServer(ctx, m.self); err != nil {
			return err
		}
		if now, err = m.options.Store.Servers(ctx); err != nil {
			return err
		}
	}
	for _, dead := range m.listen(now.All) {
		if err := m.options.Store.BuryServer(ctx, dead.ID, dead.Beat); err != nil {
			return err
		}
		m.options.Log.Warn("another server of this database has not been heard for long, and is not waited for any more", "server", dead.ID)
		now.All = slices.DeleteFunc(now.All, func(s store.Server) bool { return s.ID == dead.ID })
	}
	m.know(now)
	return nil
}

func (m *Member) isSelf(s store.Server) bool { return s.ID == m.self.ID }

// listen counts who has not beaten since the last beats of this server, and says who is dead.
func (m *Member) listen(all []store.Server) (dead []store.Server) {
	heard := map[string]still{}
	for _, s := range all {
		before := m.still[s.ID]
		switch {
		case m.isSelf(s):
			continue
		case before.beat != s.Beat:
			before = still{beat: s.Beat}
		default:
			before.looks++
		}
		if before.looks >= stillFor {
			dead = append(dead, s)
			continue
		}
		heard[s.ID] = before
	}
	m.still = heard
	return dead
}

// know works out what all read.
func (m *Member) know(now store.Servers) {
	common := store.Common{Epoch: now.Epoch, Alone: len(now.All) == 1 && m.isSelf(now.All[0])}
	least := maps.Clone(m.self.Reads)
	var earlier []string
	for _, s := range now.All {
		for kind, version := range m.self.Reads {
			if reads := s.Reads[kind]; reads < version {
				least[kind] = min(least[kind], reads)
				if !slices.Contains(earlier, s.ID) {
					earlier = append(earlier, s.ID)
				}
			}
		}
	}
	if len(earlier) > 0 {
		common.Reads = least
	}
	m.common.Store(&common)
	switch {
	case slices.Equal(earlier, m.earlier):
	case len(earlier) > 0:
		m.options.Log.Info("events are written as an earlier version of the program has them, for servers that still run it", "servers", earlier)
	default:
		m.options.Log.Info("all servers of this database read what this version of the program writes")
	}
	m.earlier = earlier
}

// Leave takes this server out, when it writes and reads no more.
func (m *Member) Leave() error {
	ctx, stop := context.WithTimeout(context.Background(), leaveWithin)
	defer stop()
	return m.options.Store.LeaveServer(ctx, m.self.ID)
}
