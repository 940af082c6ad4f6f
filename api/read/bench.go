package read

import (
	"benchmeet/api/view"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
)

// busy is which heat is on which bench at a position.
type busy struct {
	at    int64
	heats map[day.BenchID]day.HeatID
}

// bench is what a bench has to do. What the inspector's table says of the car depends
// on the hour, so it is asked after every event.
func (m *kept) bench(v view.MeetView, id day.BenchID) (*text, bool) {
	if _, there := v.State.Benches[id]; !there {
		return nil, false
	}
	if m.busy.heats == nil || m.busy.at != v.State.Seq {
		m.busy = busy{v.State.Seq, board.HeatsOnBenches(v.State)}
	}
	order, err := board.AssignmentIn(v.State, id, m.busy.heats[id])
	if err != nil {
		return nil, false
	}
	return &text{bytes: encode(v.BenchOrder(order))}, true
}
