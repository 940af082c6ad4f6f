package day

import "benchmeet/domain/measure"

// RunMeasuredAgain says that a run has other figures from now on. The stamps are
// the same, and so is their SHA-256 in the event that recorded the run.
type RunMeasuredAgain struct {
	Ruled
	Run     RunID           `json:"run"`
	Figures measure.Figures `json:"figures"`
}

// Type is the name in the log.
func (RunMeasuredAgain) Type() string { return "RunMeasuredAgain" }

func (e RunMeasuredAgain) apply(s *State) {
	r := s.Runs[e.Run]
	r.Figures = e.Figures
	s.Runs[e.Run] = r
	about := Ruling{Run: e.Run}
	if s.Counting(r) {
		about.Heat, about.Entry = r.Heat, r.Entry
	}
	s.rule(e.Type(), e.Ruled, about)
}
