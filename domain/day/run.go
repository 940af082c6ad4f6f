package day

import (
	"slices"

	"benchmeet/domain/measure"
)

// runSource says where a run's figures come from.
type runSource string

// Run sources.
const (
	SourceBench runSource = "bench" // computed from the bench's stamps
	SourceHand  runSource = "hand"  // counted by somebody: the only typed figure
)

// Waiting says why a run stands in no lane and waits for a ruling.
type Waiting string

// Reasons for waiting.
const (
	WaitsNot        Waiting = ""
	WaitsUnknown    Waiting = "unknown-run" // no lane armed it
	WaitsHeatClosed Waiting = "heat-closed" // its heat was called off or is over
	WaitsBenchOut   Waiting = "bench-out"   // its bench is out of service
	WaitsWrongBench Waiting = "wrong-bench" // another bench was to make it
	WaitsLaneTaken  Waiting = "lane-taken"  // the lane has its run
	WaitsSetAside   Waiting = "set-aside"   // a ruling took it out of its lane
)

// Run is what one car did on one bench in one heat.
type Run struct {
	ID      RunID           `json:"id"`
	Bench   BenchID         `json:"bench"`
	Heat    HeatID          `json:"heat,omitempty"`
	Entry   EntryID         `json:"entry,omitempty"`
	Source  runSource       `json:"source"`
	Waiting Waiting         `json:"waiting,omitempty"`
	Void    bool            `json:"void,omitempty"`
	Figures measure.Figures `json:"figures"`
	Boot    string          `json:"boot,omitempty"`
	Trace   string          `json:"trace,omitempty"` // SHA-256 of the trace
	AtUS    int64           `json:"at_us"`           // when it was recorded
	// Before are the counts by hand that were corrected, the oldest first.
	Before []CountBefore `json:"before,omitempty"`
	// Sent is the name under which its bench sent it, where that is not its id.
	Sent RunID `json:"sent,omitempty"`
	// Old is the version of the event that told of it, where that is an earlier one;
	// such an event did not say Sent.
	Old int `json:"-"`
}

// RuledOn says whether an official has looked at a run since it came, or was corrected.
func (s *State) RuledOn(r Run) bool {
	since := r.AtUS
	for _, before := range r.Before {
		since = max(since, before.UntilUS+1)
	}
	return slices.ContainsFunc(s.Rulings, func(ruling Ruling) bool {
		return ruling.Heat == r.Heat && ruling.Entry == r.Entry && ruling.AtUS >= since
	})
}
