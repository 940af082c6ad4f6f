package day

import (
	"cmp"
	"slices"

	"benchmeet/bracket"
)

// Through says whether every lane of the heat has a result or races a decider.
func (h Heat) Through() bool {
	return !slices.ContainsFunc(h.Lanes, func(l Lane) bool { return l.State != LaneDone && !l.Deciding })
}

// Before orders heats as the programme has them.
func (h Heat) Before(other Heat) bool {
	return cmp.Or(
		cmp.Compare(h.Stage, other.Stage), cmp.Compare(h.Round, other.Round), cmp.Compare(h.Number, other.Number), cmp.Compare(h.ID, other.ID),
	) < 0
}

// Phase says how far a heat is.
type Phase string

// Phases, in the order of a heat's life. A granted re-run leads back from
// the later ones to PhaseDrawn, with only that lane left to race.
const (
	PhaseDrawn       Phase = "drawn"       // its cars are known
	PhaseCalled      Phase = "called"      // cars are to come to their benches
	PhaseRacing      Phase = "racing"      // started, runs are coming in
	PhaseProvisional Phase = "provisional" // posted, protest time runs
	PhaseOfficial    Phase = "official"    // only a numbered correction changes it
)

// Heat is cars racing at the same time, one per bench.
type Heat struct {
	ID       HeatID     `json:"id"`
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"` // from 1
	Round    int        `json:"round"` // from 1
	Number   int        `json:"number"`
	Phase    Phase      `json:"phase"`
	// From says where the cars of a heat of a tree come from, lane by lane.
	From  []bracket.Slot `json:"from,omitempty"`
	Lanes []Lane         `json:"lanes"`
	// Group is the letter of the group that meets, in a stage of groups.
	Group string `json:"group,omitempty"`
	// Reasons explain the pairing of a Swiss round.
	Reasons []bracket.Reason `json:"reasons,omitempty"`
	// Leg counts from 1 where two race several times: the third is the decider.
	Leg int `json:"leg,omitempty"`
	// Third marks the heat for the third place.
	Third          bool  `json:"third,omitempty"`
	CalledUS       int64 `json:"called_us,omitempty"`
	DeadlineUS     int64 `json:"deadline_us,omitempty"` // of the call
	StartedUS      int64 `json:"started_us,omitempty"`
	PostedUS       int64 `json:"posted_us,omitempty"`
	ProtestUntilUS int64 `json:"protest_until_us,omitempty"`
	// BoundUS is until when something kept the heat from being called, as far as is known: what
	// was told of it, until when it was held, a pause, one of its benches that was out. 0
	// where nothing did. It follows from the events and is not kept anywhere.
	BoundUS int64 `json:"-"`
}

// LaneState says how far a lane is.
type LaneState string

// Lane states.
const (
	LaneWaiting LaneState = "waiting" // to be called
	LaneCalled  LaneState = "called"  // the car is to come to the bench
	LaneReady   LaneState = "ready"   // the car number is confirmed at the bench
	LaneRacing  LaneState = "racing"  // started, the run has not come
	LaneDone    LaneState = "done"    // a run counts, or a status stands
)

// LaneStatus says why a lane has no ordinary result.
type LaneStatus string

// Lane statuses.
const (
	StatusNone         LaneStatus = ""
	StatusDidNotStart  LaneStatus = "did-not-start"
	StatusDidNotFinish LaneStatus = "did-not-finish"
	StatusDisqualified LaneStatus = "disqualified"
	StatusWithdrawn    LaneStatus = "withdrawn"
)

// Lane is (heat, bench, entry).
type Lane struct {
	Entry EntryID `json:"entry"`
	Bench BenchID `json:"bench,omitempty"` // from the call on
	// Planned is the bench that the draw has for the lane; the call takes it when it
	// is free.
	Planned BenchID    `json:"planned,omitempty"`
	State   LaneState  `json:"state"`
	Status  LaneStatus `json:"status,omitempty"`
	Attempt int        `json:"attempt"` // calls of this lane so far
	// Armed is the run that the bench is to make now.
	Armed RunID `json:"armed,omitempty"`
	// Counts is the run that is the result.
	Counts RunID `json:"counts,omitempty"`
	// Better is the earlier run that the re-run has to beat, where the ruling
	// lets the better one count.
	Better RunID `json:"better,omitempty"`
	// Deciding says that the lane races a decider, and Better is what stays its
	// result. Decided says that it was given one, Decider is the run that came of it;
	// empty where the car did not make it.
	Deciding bool  `json:"deciding,omitempty"`
	Decided  bool  `json:"decided,omitempty"`
	Decider  RunID `json:"decider,omitempty"`
	// PenaltyUM is taken off the distance, in µm.
	PenaltyUM int64 `json:"penalty_um,omitempty"`
	// Dealt is the pack that was dealt to the lane by lot, Pack the one that stands in
	// the car since it was made ready.
	Dealt PackID `json:"dealt,omitempty"`
	Pack  PackID `json:"pack,omitempty"`
	// Allowed says that an official lets the car race without its checks.
	Allowed bool `json:"allowed,omitempty"`
	// Asked is the last request for a re-run.
	Asked *Ask `json:"asked,omitempty"`
}

// Lane finds an entry's lane.
func (h Heat) Lane(entry EntryID) (int, bool) {
	for i, l := range h.Lanes {
		if l.Entry == entry {
			return i, true
		}
	}
	return 0, false
}

// Settled says whether no lane is left to race.
func (h Heat) Settled() bool {
	for _, l := range h.Lanes {
		if l.State != LaneDone {
			return false
		}
	}
	return len(h.Lanes) > 0
}

// Posted says whether the heat's result has been shown.
func (h Heat) Posted() bool {
	return h.Phase == PhaseProvisional || h.Phase == PhaseOfficial
}

// Begun says whether the heat was ever called, or got a run without a call.
func (h Heat) Begun() bool {
	return h.CalledUS != 0 || slices.ContainsFunc(h.Lanes, func(l Lane) bool { return l.Counts != "" })
}

// ebbed is the heat after a lane was settled: where no car is left at a bench
// but a lane was not called yet (entries that share a car race one after the
// other), the heat waits for its next call.
func (h Heat) ebbed() Heat {
	waiting := false
	for _, l := range h.Lanes {
		if l.State == LaneCalled || l.State == LaneReady || l.State == LaneRacing {
			return h
		}
		waiting = waiting || l.State == LaneWaiting
	}
	if waiting && (h.Phase == PhaseCalled || h.Phase == PhaseRacing) {
		h.Phase, h.DeadlineUS = PhaseDrawn, 0
	}
	return h
}

// withLane is the heat with one lane replaced, in a slice of its own.
func (h Heat) withLane(i int, l Lane) Heat {
	lanes := append([]Lane(nil), h.Lanes...)
	lanes[i] = l
	h.Lanes = lanes
	return h
}

// withLanes is the heat with every lane passed through change.
func (h Heat) withLanes(change func(i int, l Lane) Lane) Heat {
	lanes := make([]Lane, len(h.Lanes))
	for i, l := range h.Lanes {
		lanes[i] = change(i, l)
	}
	h.Lanes = lanes
	return h
}
