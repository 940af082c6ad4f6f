package ledger

import (
	"encoding/json"
	"fmt"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// Fact is what all events have: a name in the log, and fields that are JSON.
type Fact interface{ Type() string }

// Model is a decider: the functions of domain/meet or domain/club.
type Model[S any, C any, E Fact] struct {
	New    func() *S
	Clone  func(*S) *S
	Decide func(*S, C, meet.Meta) ([]E, error)
	Evolve func(s *S, e E, atUS int64)
	Decode func(kind string, version int, data []byte) (E, error)
	// About lists the people whom a free text is about, by the events that follow
	// from its order in the state before them, or refuses.
	About func(s *S, text string, events []E) ([]string, error)
	// Version is the version in which events of a type are written.
	Version func(kind string) int
	// Kinds lists the types of events.
	Kinds func() []string
	// Lower is an event that follows from s, as an earlier version had it; false where
	// that version could not say all of it.
	Lower func(s *S, e E, version int, atUS int64) (E, bool)
	// Summarise says what lists ask of a stream.
	Summarise func(*S) Summary
	// Keep says how states are kept between two starts; nil folds the whole log at
	// each.
	Keep *Keep[S]
}

// Meets is the model of meet streams.
func Meets() Model[day.State, meet.Command, day.Event] {
	return Model[day.State, meet.Command, day.Event]{
		New:    day.New,
		Clone:  (*day.State).Clone,
		Decide: meet.Decide,
		Evolve: day.Evolve,
		Decode: day.Decode,
		About: func(s *day.State, text string, events []day.Event) ([]string, error) {
			people, err := day.About(s, text, events...)
			var out []string
			for _, p := range people {
				out = append(out, string(p))
			}
			return out, err
		},
		Version:   day.VersionOf,
		Kinds:     day.Types,
		Lower:     day.Lower,
		Summarise: summary,
	}
}

// summary is that of a meet.
func summary(s *day.State) Summary {
	out := Summary{Name: s.Plan.Name, Place: s.Plan.Place, Date: s.Plan.Date, PutAway: s.Away.Meet}
	for id, p := range s.Programmes {
		if n := len(p.Published); n > 0 {
			if out.Published == nil {
				out.Published = map[string]int{}
			}
			out.Published[string(id)] = n
		}
	}
	return out
}

// A club's state is kept again after so many events, some tens of milliseconds to
// fold; its parts hold so many runs, about half a megabyte to write at once.
const (
	keepEvery  = 4096
	runsInPart = 4096
)

// Clubs is the model of club streams. They have no end, so their states are kept.
func Clubs() Model[club.State, club.Command, club.Event] {
	return Model[club.State, club.Command, club.Event]{
		New:    club.New,
		Clone:  (*club.State).Clone,
		Decide: club.Decide,
		Evolve: club.Evolve,
		Decode: club.Decode,
		About: func(*club.State, string, []club.Event) ([]string, error) {
			return nil, refusal.New("text-about-unknown") // no order of the club has one
		},
		Version:   club.VersionOf,
		Kinds:     club.Types,
		Lower:     club.Lower,
		Summarise: func(*club.State) Summary { return Summary{} }, // no list has clubs
		Keep: &Keep[club.State]{
			Version: fmt.Sprintf("club-%d", club.FoldVersion), Every: keepEvery,
			Pack:   func(s *club.State, from int) ([]byte, [][]byte) { return s.Pack(from, runsInPart) },
			Unpack: club.Unpack,
		},
	}
}

// Fold puts a stored record into a state and checks the hash chain on the way.
// It is the one way from a log to a state: the server, the rehearsal and
// "benchmeet verify" all use it.
func (m Model[S, C, E]) Fold(s *S, head journal.Head, r journal.Record) (journal.Head, error) {
	next, _, err := m.fold(s, head, r)
	return next, err
}

// fold is Fold that also says when the event happened.
func (m Model[S, C, E]) fold(s *S, head journal.Head, r journal.Record) (next journal.Head, atUS int64, err error) {
	if next, err = head.Follow(r); err != nil {
		return head, 0, err
	}
	envelope, err := r.OpenUnread()
	if err != nil {
		return head, 0, err
	}
	e, err := m.Decode(envelope.Type, envelope.V, envelope.Data)
	if err != nil {
		return head, 0, fmt.Errorf("record %d: %w", r.Seq, err)
	}
	m.Evolve(s, e, envelope.Time)
	return next, envelope.Time, nil
}

// encode makes the data of an event.
func encode(e Fact) (json.RawMessage, error) {
	data, err := json.Marshal(e)
	if err != nil {
		return nil, fmt.Errorf("event %s: %w", e.Type(), err)
	}
	return data, nil
}
