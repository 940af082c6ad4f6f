package read

import (
	"sync"
	"time"

	"benchmeet/api/store"
	"benchmeet/api/view"
)

// Model keeps what is shown of the meets of a server. Its methods may be called from
// many goroutines.
type Model struct {
	computed func(what string)

	mu    sync.Mutex
	meets map[store.Stream]*kept
}

// idleAfter is how long what nobody asks for is kept.
const idleAfter = 10 * time.Minute

// New makes a model. Computed, where it is not nil, is called for each thing that is
// computed, for tests: "standings/junior", "heat/junior-1.2.3", "meet/junior", "car/e7".
func New(computed func(what string)) *Model {
	if computed == nil {
		computed = func(string) {}
	}
	return &Model{computed: computed, meets: map[store.Stream]*kept{}}
}

// Show is what a topic or a page shows of a meet at the position of v or, where this
// process has shown a later one, at that: nobody is shown an older day than somebody
// before. It is false for what is not there. Topics are those of the live feed, and
// "heats", "runs", "entries" and "entries/official".
//
// What was computed for the position costs a look into a table. Readers of one meet
// wait for each other while something of it is computed.
func (m *Model) Show(s store.Stream, v view.MeetView, topic string) (*Shown, bool) {
	return m.find(s).show(v, topic)
}

func (m *Model) find(s store.Stream) *kept {
	m.mu.Lock()
	defer m.mu.Unlock()
	of, there := m.meets[s]
	if !there {
		of = newKept(m.computed)
		of.idle = time.AfterFunc(idleAfter, func() { m.drop(s, of) })
		m.meets[s] = of
	}
	of.idle.Reset(idleAfter)
	return of
}

func (m *Model) drop(s store.Stream, of *kept) {
	m.mu.Lock()
	defer m.mu.Unlock()
	if m.meets[s] == of {
		delete(m.meets, s)
	}
}
