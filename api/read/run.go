package read

import (
	"reflect"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/domain/day"
)

// run is what is kept of a run that was made in a heat.
type run struct {
	at      int64
	battery *gen.RunBattery
	text    []byte
}

// powered is which battery each run was made with at a position.
type powered struct {
	at int64
	of map[day.RunID]*gen.RunBattery
}

// allRuns are all runs.
func (m *kept) allRuns(v view.MeetView) *text {
	runs, batteries := v.State.SortedRuns(), m.batteries()
	texts := make([][]byte, 0, len(runs))
	for _, r := range runs {
		texts = append(texts, m.run(v, r, batteries[r.ID]))
	}
	return must(assemble(gen.RunList{}, list{"runs", texts}))
}

// run finds the text of a run. One that stands in a heat changes with the heat alone;
// what is known of its battery comes from the inspector's table.
func (m *kept) run(v view.MeetView, r day.Run, battery *gen.RunBattery) []byte {
	was, there := m.runs[r.ID]
	division := v.State.Heats[r.Heat].Division
	holds := there && division != "" && v.State.Changed.Heat(r.Heat, division) <= was.at
	if !holds || !reflect.DeepEqual(was.battery, battery) {
		m.computed("run/" + string(r.ID))
		was = run{v.State.Seq, battery, encode(v.Run(r, battery))}
		m.runs[r.ID] = was
	}
	return was.text
}

// batteries are those of the runs at the position as it is.
func (m *kept) batteries() map[day.RunID]*gen.RunBattery {
	if m.powered.of == nil || m.powered.at != m.view.State.Seq {
		m.powered = powered{m.view.State.Seq, view.RunBatteries(m.view.State)}
	}
	return m.powered.of
}
