package day

import "benchmeet/domain/measure"

// HandCountCorrected says that what was counted by hand was counted, or written down,
// wrongly, and what it is.
type HandCountCorrected struct {
	Ruled
	Run RunID `json:"run"`
	// WasUM and UWasUM are the distance that stood, in µm, and its standard uncertainty.
	WasUM   int64           `json:"was_um"`
	UWasUM  int64           `json:"u_was_um"`
	Figures measure.Figures `json:"figures"`
}

// CountBefore is a count by hand that was corrected.
type CountBefore struct {
	DistanceUM  int64 `json:"distance_um"`
	UDistanceUM int64 `json:"u_distance_um"`
	UntilUS     int64 `json:"until_us"` // when it was corrected
	// Ruling is the number of the ruling that corrected it.
	Ruling int `json:"ruling"`
}

// Type is the name in the log.
func (HandCountCorrected) Type() string { return "HandCountCorrected" }

func (e HandCountCorrected) apply(s *State) {
	r := s.Runs[e.Run]
	r.Before = append(r.Before[:len(r.Before):len(r.Before)], CountBefore{e.WasUM, e.UWasUM, s.TimeUS, len(s.Rulings) + 1})
	r.Figures = e.Figures
	s.Runs[e.Run] = r
	s.rule(e.Type(), e.Ruled, Ruling{Heat: r.Heat, Entry: r.Entry, Run: r.ID, WasUM: e.WasUM, IsUM: e.Figures.DistanceUM})
}
