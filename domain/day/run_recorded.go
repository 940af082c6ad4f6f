package day

import "benchmeet/domain/measure"

// Counting says whether a run is the result of its lane.
func (s *State) Counting(r Run) bool {
	if r.Void || r.Waiting != WaitsNot {
		return false
	}
	i, in := s.Heats[r.Heat].Lane(r.Entry)
	return in && s.Heats[r.Heat].Lanes[i].Counts == r.ID
}

// RunRecorded says that a bench measured a run, or that one was counted by hand.
type RunRecorded struct {
	ID      RunID           `json:"id"`
	Bench   BenchID         `json:"bench,omitempty"`
	Heat    HeatID          `json:"heat,omitempty"`
	Entry   EntryID         `json:"entry,omitempty"`
	Waiting Waiting         `json:"waiting,omitempty"`
	Source  runSource       `json:"source"`
	Figures measure.Figures `json:"figures"`
	Boot    string          `json:"boot,omitempty"`
	Trace   string          `json:"trace,omitempty"`
	By      string          `json:"by"`
	// ClaimedUS is when it was counted, by the clock of who counted.
	ClaimedUS int64 `json:"claimed_us,omitempty"`
	// Sent is the name under which its bench sent it, where it is kept under another,
	// because that one was taken.
	Sent RunID `json:"sent,omitempty"`
	// Result is the run that counts in the lane now: this one, or an earlier one that a
	// ruling keeps beside it. It is empty for a run that waits.
	Result RunID `json:"result,omitempty"`
	// Decider says that the run only decides between results too close to call.
	Decider bool `json:"decider,omitempty"`
	Aged
}

// Race finds the lane that armed a run, now or in an earlier attempt. It reads the
// id of the run and looks at no other heat than its own.
func (run RunID) Race(s *State) (Heat, Lane, bool) {
	heat, lane, attempt := run.armed()
	h := s.Heats[heat]
	if lane < 0 || lane >= len(h.Lanes) {
		return Heat{}, Lane{}, false
	}
	l := h.Lanes[lane]
	if attempt < 1 || attempt > l.Attempt || heat.Run(lane, attempt) != run {
		return Heat{}, Lane{}, false
	}
	return h, l, true
}

// LaneOf finds the lane that armed a run, or says why the run has to wait.
func (s *State) LaneOf(run RunID, bench BenchID) (HeatID, EntryID, Waiting) {
	h, l, armed := run.Race(s)
	if !armed {
		return "", "", WaitsUnknown
	}
	return h.ID, l.Entry, mayFill(s, h, l, run, bench)
}

func mayFill(s *State, h Heat, l Lane, run RunID, bench BenchID) Waiting {
	switch {
	case l.State == LaneDone && l.Counts != "":
		return WaitsLaneTaken
	case h.Phase != PhaseRacing || l.State != LaneRacing:
		return WaitsHeatClosed
	case l.Armed != run: // an earlier attempt, sent late
		return WaitsLaneTaken
	case l.Bench != bench:
		return WaitsWrongBench
	case s.Benches[bench].OutOfService:
		return WaitsBenchOut
	}
	return WaitsNot
}

// Type is the name in the log.
func (RunRecorded) Type() string { return "RunRecorded" }

func (e RunRecorded) apply(s *State) {
	r := Run{
		ID: e.ID, Bench: e.Bench, Heat: e.Heat, Entry: e.Entry, Source: e.Source, Waiting: e.Waiting,
		Figures: e.Figures, Boot: e.Boot, Trace: e.Trace, AtUS: s.TimeUS, Sent: e.Sent, Old: e.Old,
	}
	s.Runs[e.ID] = r
	if e.Waiting != WaitsNot {
		return
	}
	h := s.Heats[e.Heat]
	if i, in := h.Lane(e.Entry); in {
		l := h.Lanes[i]
		if e.Decider {
			l.Decider, l.Deciding = e.ID, false
		}
		l.Counts, l.Better, l.Armed, l.State = e.Result, "", "", LaneDone
		s.Heats[e.Heat] = h.withLane(i, l).ebbed()
	}
}

// Worth orders runs: the distance, or -1 where the run does not rank.
func (s *State) Worth(r Run) int64 {
	if s.Ranks(r) {
		return s.Value(r).Corrected.Corrected
	}
	return -1
}

// Ranks says whether the rules let a run of this source rank.
func (s *State) Ranks(r Run) bool {
	return r.Source != SourceHand || s.Rules.HandCounts == HandRanks
}
