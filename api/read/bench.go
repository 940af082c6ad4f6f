package read

import (
	"strings"

	"benchmeet/api/view"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
)

// busy is which heat is on which bench at a position.
type busy struct {
	at    int64
	heats map[day.BenchID]day.HeatID
}

// ForAll stands behind the name of a bench's topic where it is shown to somebody who may
// not ask for the bench's order.
const ForAll = "/all"

// bench is what a bench has to do. What the inspector's table says of the car depends
// on the hour, so it is asked after every event.
func (m *kept) bench(v view.MeetView, of string) (*text, bool) {
	name, shown := strings.CutSuffix(of, ForAll)
	id := day.BenchID(name)
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
	out := v.BenchOrder(order)
	if shown {
		out = view.Shown(out)
	}
	return &text{bytes: encode(out)}, true
}
