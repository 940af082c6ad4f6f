package ledger

import (
	"context"

	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// Fleet are the servers that share a store, and this one among them. An event is written in
// the newest version that all of them read; what that version cannot say is refused.
type Fleet interface {
	// Common is what all of them read, as far as it is known here. It is asked for every
	// order and asks nobody.
	Common() store.Common
	// Look asks the store who is there.
	Look(ctx context.Context) error
}

// mostEntries is how often a batch is decided anew because another server came in meanwhile.
const mostEntries = 4

// common is what all servers read that share the store.
func (l *Ledger[S, C, E]) common() store.Common {
	if l.fleet == nil {
		return store.Common{}
	}
	return l.fleet.Common()
}

// Reads is up to which version the events of a model are read.
func (m Model[S, C, E]) Reads() map[string]int {
	reads := map[string]int{}
	for _, kind := range m.Kinds() {
		reads[kind] = m.Version(kind)
	}
	return reads
}

// writtenEvent is an event as it goes into the log.
type writtenEvent[E Fact] struct {
	event   E
	version int
}

// written are events that follow from the state in the versions that all servers read.
func (w *work[S, C, E]) written(events []E, atUS int64) ([]writtenEvent[E], error) {
	model := &w.stream.ledger.model
	out := make([]writtenEvent[E], len(events))
	earlier := false
	for i, e := range events {
		out[i] = writtenEvent[E]{e, model.Version(e.Type())}
		if w.common.Reads != nil && w.common.Reads[e.Type()] < out[i].version {
			out[i].version, earlier = w.common.Reads[e.Type()], true
		}
	}
	if !earlier {
		return out, nil
	}
	then := model.Clone(w.state) // what an event of an earlier version is read as depends on those before it
	for i := range out {
		lowered, can := model.Lower(then, out[i].event, out[i].version, atUS)
		if !can {
			return nil, refusal.New("server-earlier")
		}
		out[i].event = lowered
		model.Evolve(then, lowered, atUS)
	}
	return out, nil
}
