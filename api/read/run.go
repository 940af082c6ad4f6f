package read

import (
	"reflect"

	"benchmeet/api/gen"
	"benchmeet/api/view"
)

// run is what is kept of a run that was made in a heat.
type run struct {
	at      int64
	battery *gen.RunBattery
	text    []byte
}

// allRuns are all runs. One that stands in a heat changes with the heat alone; what is
// known of its battery comes from the inspector's table.
func (m *kept) allRuns(v view.MeetView) *text {
	batteries := view.RunBatteries(v.State)
	runs := v.State.SortedRuns()
	texts := make([][]byte, 0, len(runs))
	for _, r := range runs {
		was, there := m.runs[r.ID]
		division := v.State.Heats[r.Heat].Division
		holds := there && division != "" && v.State.Changed.Heat(r.Heat, division) <= was.at
		if !holds || !reflect.DeepEqual(was.battery, batteries[r.ID]) {
			m.computed("run/" + string(r.ID))
			was = run{v.State.Seq, batteries[r.ID], encode(v.Run(r, batteries[r.ID]))}
			m.runs[r.ID] = was
		}
		texts = append(texts, was.text)
	}
	return must(assemble(gen.RunList{}, list{"runs", texts}))
}
