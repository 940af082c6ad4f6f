package meet

import (
	"fmt"

	"benchmeet/domain/measure"
	"benchmeet/domain/refusal"
)

// RecordRun takes a measured run in. It is never refused for what the day looks
// like: a run that fits no lane is kept and waits for a ruling.
type RecordRun struct {
	ID      RunID
	Bench   BenchID
	Boot    string
	Trace   string // SHA-256 of the trace
	Figures measure.Figures
}

// RunRecorded says that a bench measured a run, or that one was counted by hand.
type RunRecorded struct {
	ID      RunID           `json:"id"`
	Bench   BenchID         `json:"bench,omitempty"`
	Heat    HeatID          `json:"heat,omitempty"`
	Entry   EntryID         `json:"entry,omitempty"`
	Waiting Waiting         `json:"waiting,omitempty"`
	Source  RunSource       `json:"source"`
	Figures measure.Figures `json:"figures"`
	Boot    string          `json:"boot,omitempty"`
	Trace   string          `json:"trace,omitempty"`
	By      string          `json:"by"`
	// ClaimedUS is when it was counted, by the clock of who counted.
	ClaimedUS int64 `json:"claimed_us,omitempty"`
}

func (c RecordRun) decide(s *State, m Meta) ([]Event, error) {
	if err := s.MustBePlanned(); err != nil {
		return nil, err
	}
	if c.ID == "" {
		return nil, refusal.New("bad-id", "what", "run", "id", "")
	}
	id := c.ID
	for n := 1; ; n++ {
		old, there := s.Runs[id]
		if !there {
			break
		}
		if old.Trace == c.Trace && old.Boot == c.Boot && old.Bench == c.Bench {
			return nil, nil
		}
		// The counter box was started anew and made the same run again, or another
		// one sent under its name: all are kept, the later under names of their own.
		id = RunID(string(c.ID) + "." + c.Boot)
		if n > 1 {
			id = RunID(fmt.Sprintf("%s.%s.%d", c.ID, c.Boot, n))
		}
	}
	e := RunRecorded{
		ID: id, Bench: c.Bench, Source: SourceBench, Figures: c.Figures,
		Boot: c.Boot, Trace: c.Trace, By: m.Actor,
	}
	e.Heat, e.Entry, e.Waiting = s.LaneOf(c.ID, c.Bench)
	if id != c.ID && e.Waiting == WaitsNot {
		e.Waiting = WaitsLaneTaken
	}
	return andPost(s, m, e.Heat, e), nil
}

// LaneOf finds the lane that armed a run, or says why it has to wait.
func (s *State) LaneOf(run RunID, bench BenchID) (HeatID, EntryID, Waiting) {
	for _, h := range s.SortedHeats() {
		for i, l := range h.Lanes {
			if !armedBy(h.ID, i, l, run) {
				continue
			}
			return h.ID, l.Entry, s.mayFill(h, l, run, bench)
		}
	}
	return "", "", WaitsUnknown
}

// armedBy says whether a lane armed this run, now or in an earlier attempt.
func armedBy(h HeatID, lane int, l Lane, run RunID) bool {
	for attempt := 1; attempt <= l.Attempt; attempt++ {
		if RunIDOf(h, lane, attempt) == run {
			return true
		}
	}
	return false
}

func (s *State) mayFill(h Heat, l Lane, run RunID, bench BenchID) Waiting {
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
		Figures: e.Figures, Boot: e.Boot, Trace: e.Trace, AtUS: s.TimeUS,
	}
	s.Runs[e.ID] = r
	if e.Waiting != WaitsNot {
		return
	}
	h := s.Heats[e.Heat]
	if i, in := h.Lane(e.Entry); in {
		s.Heats[e.Heat] = h.withLane(i, s.settle(h.Lanes[i], e.ID)).ebbed()
	}
}

// settle makes a run the result of a lane, or the better of it and an earlier
// one where a ruling said so.
func (s *State) settle(l Lane, run RunID) Lane {
	switch {
	case l.Deciding:
		l.Decider, l.Deciding, run = run, false, l.Better
	case l.Better != "" && s.Worth(l.Better) > s.Worth(run):
		run = l.Better
	}
	l.Counts, l.Better, l.Armed, l.State = run, "", "", LaneDone
	return l
}

// Worth orders runs: the distance, or -1 where the run does not rank.
func (s *State) Worth(run RunID) int64 {
	if r := s.Runs[run]; s.Ranks(r) {
		return s.Value(r).Corrected.Corrected
	}
	return -1
}

// Ranks says whether the rules let a run of this source rank.
func (s *State) Ranks(r Run) bool {
	return r.Source != SourceHand || s.Rules.HandCounts == HandRanks
}

// RecordHandCount takes a result that somebody counted: the only typed figure.
// UDistanceUM is the standard uncertainty of the count; a count of whole laps
// has at least the lap length divided by the square root of 12.
type RecordHandCount struct {
	Heat        HeatID
	Entry       EntryID
	DistanceUM  int64
	UDistanceUM int64
	ClaimedUS   int64
}

// MethodHand is the method of figures that were counted by hand.
const MethodHand = "hand-count/1"

func (c RecordHandCount) decide(s *State, m Meta) ([]Event, error) {
	h, i, err := s.HeatLane(c.Heat, c.Entry)
	if err != nil {
		return nil, err
	}
	l := h.Lanes[i]
	switch {
	case h.Phase != PhaseRacing || l.State != LaneRacing:
		return nil, refusal.New("hand-not-racing", "number", s.Number(c.Entry), "heat", h.ID)
	case c.DistanceUM < 0 || c.DistanceUM > 100_000_000_000 || c.UDistanceUM <= 0 || c.UDistanceUM > c.DistanceUM+1_000_000:
		return nil, refusal.New("hand-distance")
	}
	lap := s.Divisions[h.Division].Class.LapUM
	id := l.Armed + "-hand"
	for s.Runs[id].ID != "" {
		id += "-hand" // a bench sent under this name before
	}
	e := RunRecorded{
		ID: id, Bench: l.Bench, Heat: h.ID, Entry: c.Entry, Source: SourceHand,
		Figures: measure.Figures{
			Method: MethodHand, DistanceUM: c.DistanceUM, UDistanceUM: c.UDistanceUM, Laps: c.DistanceUM / lap,
		},
		By: m.Actor, ClaimedUS: claimed(c.ClaimedUS),
	}
	return andPost(s, m, h.ID, e), nil
}
