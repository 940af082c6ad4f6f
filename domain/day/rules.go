package day

import (
	"slices"

	"benchmeet/domain/refusal"
)

// maxRunsPromised bounds Rules.RunsAtLeast.
const maxRunsPromised = 50

// Rules are what is fixed before the first heat is called, and printed.
type Rules struct {
	// ProtestUS is how long a posted result may be protested, in µs.
	ProtestUS int64 `json:"protest_us"`
	// CallUS is how long a called car has to stand ready, in µs; after it the
	// official may rule that it did not start.
	CallUS int64 `json:"call_us"`
	// RerunsPerEntry limits granted re-runs of one entry in the whole meet.
	RerunsPerEntry int `json:"reruns_per_entry"`
	// RunsAtLeast is how many races everybody is promised in a division; 0 is no
	// promise. Nothing is drawn for it: who would end below it is said in time.
	RunsAtLeast int `json:"runs_at_least,omitempty"`
	// Tie says what equal results at a prize or qualifying line mean.
	Tie TieRule `json:"tie"`
	// Close says what results at such a line mean that cannot be told apart; empty
	// is CloseSay.
	Close CloseRule `json:"close,omitempty"`
	// DidNotFinish says what a car keeps that stopped before the end.
	DidNotFinish DidNotFinishRule `json:"did_not_finish"`
	// Benches says what happens when benches do not read alike.
	Benches BenchPolicy `json:"benches"`
	// Late says whether somebody may enter after the draw of timed rounds.
	Late LateRule `json:"late"`
	// HandCounts says whether a result counted by hand ranks.
	HandCounts HandRule `json:"hand_counts"`
	// Incidents say beforehand what follows from what may happen on a bench.
	Incidents []IncidentRule `json:"incidents,omitempty"`
	// BatteryGate and InspectionGate say what a missing check at the inspector's
	// table means at the bench.
	BatteryGate    GateRule `json:"battery_gate,omitempty"`
	InspectionGate GateRule `json:"inspection_gate,omitempty"`
}

// TieRule says what equal results mean.
type TieRule string

// Tie rules.
const (
	TieShared   TieRule = "shared"    // the place is shared: 1 1 3
	TieNextBest TieRule = "next-best" // the next-best run decides
	TieDecider  TieRule = "decider"   // they race again
)

// DidNotFinishRule says what a car keeps that stopped before the end.
type DidNotFinishRule string

// Did-not-finish rules.
const (
	KeepDistance DidNotFinishRule = "keep-distance"
	NoResult     DidNotFinishRule = "no-result"
)

// BenchPolicy says what happens when benches do not read alike.
type BenchPolicy string

// Bench policies.
const (
	BenchReport  BenchPolicy = "report"   // say it
	BenchCorrect BenchPolicy = "correct"  // correct results at declared points
	BenchTakeOut BenchPolicy = "take-out" // race on the others
)

// LateRule says whether somebody may enter after a draw.
type LateRule string

// Late rules.
const (
	LateNo        LateRule = "no"
	LateNextRound LateRule = "next-round" // of timed rounds; missed rounds have no run
)

// HandRule says whether a result counted by hand ranks.
type HandRule string

// Hand rules.
const (
	HandRanks HandRule = "ranks"
	HandShown HandRule = "shown" // it is shown and does not rank
)

// Incident is what may happen to a car on a bench.
type Incident string

// Incidents (common practice).
const (
	OffRollers  Incident = "off-rollers"
	Stalled     Incident = "stalled"
	FalseStart  Incident = "false-start"
	BenchFailed Incident = "bench-failed"
)

// Consequence is what follows from an incident.
type Consequence string

// Consequences.
const (
	ConsequenceKeep     Consequence = "keep-distance"
	ConsequenceLane     Consequence = "rerun-lane"
	ConsequenceHeat     Consequence = "rerun-heat"
	ConsequenceNoFinish Consequence = "did-not-finish"
)

// IncidentRule joins an incident to its consequence. It prefills a ruling; a
// named official still makes it.
type IncidentRule struct {
	Incident    Incident    `json:"incident"`
	Consequence Consequence `json:"consequence"`
}

// UsualRules are a start for a new meet (common practice).
func UsualRules() Rules {
	const minute = 60_000_000
	return Rules{
		ProtestUS:      5 * minute,
		CallUS:         3 * minute,
		RerunsPerEntry: 2,
		Tie:            TieNextBest,
		DidNotFinish:   KeepDistance,
		Benches:        BenchReport,
		Late:           LateNextRound,
		HandCounts:     HandRanks,
		Incidents: []IncidentRule{
			{OffRollers, ConsequenceKeep},
			{Stalled, ConsequenceKeep},
			{FalseStart, ConsequenceLane},
			{BenchFailed, ConsequenceLane},
		},
	}
}

// Check refuses rules that contradict themselves or lie outside their ranges.
func (r Rules) Check() error {
	const hour = 3_600_000_000
	ok := r.ProtestUS >= 0 && r.ProtestUS <= 24*hour && r.CallUS >= 0 && r.CallUS <= hour &&
		r.RerunsPerEntry >= 0 && r.RerunsPerEntry <= 20 &&
		r.RunsAtLeast >= 0 && r.RunsAtLeast <= maxRunsPromised
	if !ok {
		return refusal.New("rules-range")
	}
	known := OneOf(r.Tie, TieShared, TieNextBest, TieDecider) &&
		OneOf(r.Close, "", CloseSay, CloseDecider) &&
		OneOf(r.DidNotFinish, KeepDistance, NoResult) &&
		OneOf(r.Benches, BenchReport, BenchCorrect, BenchTakeOut) &&
		OneOf(r.Late, LateNo, LateNextRound) &&
		OneOf(r.HandCounts, HandRanks, HandShown) &&
		OneOf(r.BatteryGate, GateOff, GateWarn, GateHold) && OneOf(r.InspectionGate, GateOff, GateWarn, GateHold)
	if !known {
		return refusal.New("rules-word")
	}
	return checkIncidents(r.Incidents)
}

// checkIncidents refuses words that are not in the table and an incident that is
// there twice: what follows from it has to be clear.
func checkIncidents(rules []IncidentRule) error {
	for i, r := range rules {
		known := OneOf(r.Incident, OffRollers, Stalled, FalseStart, BenchFailed) &&
			OneOf(r.Consequence, ConsequenceKeep, ConsequenceLane, ConsequenceHeat, ConsequenceNoFinish)
		twice := slices.ContainsFunc(rules[:i], func(before IncidentRule) bool { return before.Incident == r.Incident })
		switch {
		case !known:
			return refusal.New("rules-word")
		case twice:
			return refusal.New("incident-twice", "incident", r.Incident)
		}
	}
	return nil
}

// OneOf says whether v is among the words.
func OneOf[T comparable](v T, words ...T) bool {
	for _, w := range words {
		if v == w {
			return true
		}
	}
	return false
}
