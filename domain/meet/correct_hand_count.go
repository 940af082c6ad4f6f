package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// CorrectHandCount puts right what was counted by hand and mistyped. It is a ruling;
// where the result was official it is a numbered correction. The run and its place in its
// lane stay, and what was said before stays with it.
type CorrectHandCount struct {
	Run         day.RunID
	DistanceUM  int64
	UDistanceUM int64 // as in RecordHandCount
	Reason      day.Reason
	// Sure says that an official stands by a count that is far from what cars run here.
	Sure bool
}

func (c CorrectHandCount) decide(s *day.State, m Meta) ([]day.Event, error) {
	r, err := s.Run(c.Run)
	if err != nil {
		return nil, err
	}
	h := s.Heats[r.Heat]
	was := r.Figures
	switch {
	case r.Source != day.SourceHand:
		return nil, refusal.New("not-by-hand", "run", r.ID)
	case r.Void:
		return nil, refusal.New("run-void", "run", r.ID)
	case !mayBeCounted(c.DistanceUM, c.UDistanceUM):
		return nil, refusal.New("hand-distance")
	case was.DistanceUM == c.DistanceUM && was.UDistanceUM == c.UDistanceUM:
		return nil, nil
	}
	if !c.Sure {
		if err := likelyCount(s, h, r.ID, c.DistanceUM); err != nil {
			return nil, err
		}
	}
	var heats []day.Heat
	if i, in := h.Lane(r.Entry); in && day.OneOf(r.ID, h.Lanes[i].Counts, h.Lanes[i].Better, h.Lanes[i].Decider) {
		heats = append(heats, h)
	}
	ruled, err := ruledBy(s, m, c.Reason, heats...)
	if err != nil {
		return nil, err
	}
	return andPost(s, m, h.ID, day.HandCountCorrected{
		Ruled: ruled, Run: r.ID, WasUM: was.DistanceUM, UWasUM: was.UDistanceUM,
		Figures: handFigures(s.Divisions[h.Division].Class.LapUM, c.DistanceUM, c.UDistanceUM),
	}), nil
}
