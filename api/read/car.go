package read

import (
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/domain/day"
)

// car is what is kept of the day of a car.
type car struct {
	at   int64 // the position at which its entry was read
	head gen.CarDay
	rows [][]byte // its heats and runs
	text *text
}

// places is where the cars stand at a position: their heats and runs, in order.
type places struct {
	at    int64
	heats map[day.EntryID][]day.HeatID
	runs  map[day.EntryID][]day.Run
}

// carDay is the day of one car, put together again where its entry may have changed or a
// heat or run of it has: what happens to others costs it a look at its own.
func (m *kept) carDay(v view.MeetView, id day.EntryID) (*text, bool) {
	e, there := v.State.Entries[id]
	if !there {
		return nil, false
	}
	kept := m.cars[id]
	if kept == nil || v.State.Changed.Entries(e.Division) > kept.at {
		kept = &car{at: v.State.Seq, head: view.CarHead(v, e)}
		m.cars[id] = kept
	}
	stands, batteries := m.stands(), m.batteries()
	heats := m.heatList(v, stands.heats[id])
	runs := make([][]byte, 0, len(stands.runs[id]))
	for _, r := range stands.runs[id] {
		runs = append(runs, m.run(v, r, batteries[r.ID]))
	}
	rows := slices.Concat(heats, runs)
	if kept.text == nil || !slices.EqualFunc(kept.rows, rows, same) {
		m.computed("car/" + string(id))
		kept.rows, kept.text = rows, must(assemble(kept.head, list{"heats", heats}, list{"runs", runs}))
	}
	return kept.text, true
}

// stands is where the cars stand at the position as it is.
func (m *kept) stands() places {
	if m.places.heats != nil && m.places.at == m.view.State.Seq {
		return m.places
	}
	found := places{m.view.State.Seq, map[day.EntryID][]day.HeatID{}, map[day.EntryID][]day.Run{}}
	for _, h := range m.view.State.SortedHeats() {
		for _, l := range h.Lanes {
			found.heats[l.Entry] = append(found.heats[l.Entry], h.ID)
		}
	}
	for _, r := range m.view.State.SortedRuns() {
		found.runs[r.Entry] = append(found.runs[r.Entry], r)
	}
	m.places = found
	return found
}

// same says whether two texts are one text that was kept.
func same(a, b []byte) bool { return &a[0] == &b[0] }
