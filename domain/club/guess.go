package club

import (
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// GuessRun notes how far a child guesses that the armed run of a bench will go. A guess
// may be changed until the run is recorded.
type GuessRun struct {
	Bench      day.BenchID
	DistanceUM int64
	// Run is the run that is guessed; empty, it is the one that the bench is armed with. A
	// phone that was cut off sends its guess when the next car may stand there.
	Run day.RunID
}

// RunGuessed says what was guessed of an armed run.
type RunGuessed struct {
	Bench      day.BenchID `json:"bench"`
	Run        day.RunID   `json:"run"`
	DistanceUM int64       `json:"distance_um"`
}

// mostGuessUM is a hundred kilometres, in µm.
const mostGuessUM = 100_000_000_000

func (c GuessRun) decide(s *State, _ meet.Meta) ([]Event, error) {
	if _, err := s.bench(c.Bench); err != nil {
		return nil, err
	}
	armed, there := s.Armed[c.Bench]
	switch {
	case c.DistanceUM < 1 || c.DistanceUM > mostGuessUM:
		return nil, refusal.New("guess-range", "most", mostGuessUM/1_000_000)
	case c.Run != "" && armed.Run != c.Run:
		return nil, refusal.New("guess-late")
	case !there || armed.Car == "":
		return nil, refusal.New("guess-none", "bench", c.Bench)
	case armed.GuessUM == c.DistanceUM:
		return nil, nil
	}
	return []Event{RunGuessed{Bench: c.Bench, Run: armed.Run, DistanceUM: c.DistanceUM}}, nil
}

// Type is the name in the log.
func (RunGuessed) Type() string { return "RunGuessed" }

func (e RunGuessed) apply(s *State) {
	if armed := s.Armed[e.Bench]; armed.Run == e.Run {
		armed.GuessUM = e.DistanceUM
		s.Armed[e.Bench] = armed
	}
}
