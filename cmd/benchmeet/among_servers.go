package main

import (
	"context"
	"maps"
	"time"

	"benchmeet/api/fleet"
	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// models are what a server reads and writes.
type models struct {
	meets ledger.Model[day.State, meet.Command, day.Event]
	clubs ledger.Model[club.State, club.Command, club.Event]
}

// Tests of the whole program run one that knows less, and that beats more often.
var (
	knownModels *models
	beatEvery   time.Duration
)

func (o serverOptions) models() models {
	if o.Models != nil {
		return *o.Models
	}
	return models{meets: ledger.Meets(), clubs: ledger.Clubs()}
}

// reads is up to which version each kind of event is read; no kind is in both.
func (m models) reads() map[string]int {
	reads := m.meets.Reads()
	maps.Copy(reads, m.clubs.Reads())
	return reads
}

// enter makes this server one of those that share its database; nil where none can.
func (s *server) enter(ctx context.Context, known models) (*fleet.Member, error) {
	shared, is := s.store.(store.Fleet)
	if !is {
		return nil, nil
	}
	return fleet.Enter(ctx, fleet.Options{Store: shared, Reads: known.reads(), Every: s.options.Beat, Log: s.options.Log})
}

// leave tells the others that this server is gone. A database that does not answer keeps
// nobody here: the others find out.
func (s *server) leave() {
	if s.fleet == nil {
		return
	}
	if err := s.fleet.Leave(); err != nil {
		s.options.Log.Warn("the other servers wait half a minute for this one, which is gone", "error", err)
	}
}
