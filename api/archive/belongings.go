package archive

import (
	"fmt"

	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/evidence"
	"benchmeet/domain/journal"
	"benchmeet/domain/trace"
)

// belongings are what a meet needs of its club: its people, the texts of its
// rulings, the runs that its log tells of.
type belongings struct {
	meet   string
	people map[string]bool
	texts  map[string]bool
	runs   map[store.RunKey]bool
}

func belongingsOf(id string, s *day.State, texts proofs) *belongings {
	b := &belongings{meet: id, people: map[string]bool{}, texts: map[string]bool{}, runs: map[store.RunKey]bool{}}
	for _, e := range s.Entries {
		b.people[string(e.Entrant)] = true
	}
	for _, r := range s.Rulings {
		b.people[r.By] = true
	}
	for id := range texts {
		b.texts[id] = true
	}
	for _, r := range s.Runs {
		for _, run := range evidence.NamesOf(r) {
			b.runs[store.RunKey{Bench: string(r.Bench), Boot: r.Boot, Run: string(run)}] = true
		}
	}
	return b
}

// hasRun says whether a run is of the meet: its log tells of it, or its bench
// said so and it is not recorded yet.
func (b *belongings) hasRun(run store.RunKey, chunks []trace.Stored) bool {
	if b.runs[run] {
		return true
	}
	for _, c := range chunks {
		if totals, last, err := c.Totals(); err == nil && last && totals.Meet == b.meet {
			return true
		}
	}
	return false
}

// safely turns a panic of a fold into an error: a made-up log may hold events
// that no decider would have made.
func safely(fold func() (journal.Head, error)) (head journal.Head, err error) {
	defer func() {
		if cause := recover(); cause != nil {
			err = fmt.Errorf("an event does not fit those before it: %v", cause)
		}
	}()
	return fold()
}
