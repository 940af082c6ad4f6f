package archive

import "fmt"

// Report is what Verify found.
type Report struct {
	Streams []StreamReport `json:"streams"`
	// RunsChecked had their trace compared with the SHA-256 in their event.
	RunsChecked int `json:"runs_checked"`
	// RunsMeasured were measured again and gave the same figures, or are among
	// the problems.
	RunsMeasured int `json:"runs_measured"`
	// RunsNotMeasured were measured by another version of the method, or under
	// conditions that the source does not tell (a single meet's archive does not
	// have the club's log).
	RunsNotMeasured int `json:"runs_not_measured"`
	// HandCounts are results that somebody counted: there is no trace to check.
	HandCounts int `json:"hand_counts"`
	// TracesUnrecorded are traces that no log tells of: runs that did not end,
	// or that a server records when it starts next.
	TracesUnrecorded int `json:"traces_unrecorded"`
	// ChunksLate came for runs that were recorded already; they are kept apart and
	// wait.
	ChunksLate int `json:"chunks_late"`
	// TextsChecked were compared with their salted hashes.
	TextsChecked int       `json:"texts_checked"`
	Found        *Place    `json:"found,omitempty"`
	Problems     []Problem `json:"problems"`
}

// StreamReport is what was found of a stream.
type StreamReport struct {
	Stream string `json:"stream"`
	Events int64  `json:"events"` // as far as they hold
	Head   string `json:"head"`
	// State is the SHA-256 of the state that the log folds to, as JSON: equal on
	// every machine.
	State string `json:"state,omitempty"`
	OK    bool   `json:"ok"`
}

// Place is where a hash stands.
type Place struct {
	Stream string `json:"stream"`
	Seq    int64  `json:"seq"`
}

// Problem is something that is wrong.
type Problem struct {
	Where string `json:"where"`
	Says  string `json:"says"`
}

// OK says whether nothing is wrong.
func (r Report) OK() bool { return len(r.Problems) == 0 }

func (r *Report) problem(where, says string, args ...any) {
	r.Problems = append(r.Problems, Problem{where, fmt.Sprintf(says, args...)})
}
