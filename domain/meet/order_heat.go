package meet

import (
	"slices"

	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// OrderHeat moves a heat that waits in the order of the call board.
type OrderHeat struct {
	Heat day.HeatID
	Move HeatMove
}

// HeatMove says where a heat is moved.
type HeatMove string

// Moves of a heat.
const (
	MoveSooner HeatMove = "sooner" // one place forward
	MoveLater  HeatMove = "later"  // one place back
	MoveFirst  HeatMove = "first"
	MoveLast   HeatMove = "last"
)

// OrderHeats puts heats that wait into an order; those that are not named come behind, as
// they stand.
type OrderHeats struct{ Heats []day.HeatID }

// HoldHeat keeps a heat from being called until an instant; it keeps its place in the
// order. Calling it lets it go.
type HoldHeat struct {
	Heat day.HeatID
	// UntilUS is until when; 0 lets it go.
	UntilUS int64
}

func (c OrderHeat) decide(s *day.State, m Meta) ([]day.Event, error) {
	if _, err := waiting(s, c.Heat); err != nil {
		return nil, err
	}
	order := board.CallBoardOf(s).Next
	at := slices.Index(order, c.Heat)
	to := at
	switch c.Move {
	case MoveSooner:
		to = max(0, at-1)
	case MoveLater:
		to = min(len(order)-1, at+1)
	case MoveFirst:
		to = 0
	case MoveLast:
		to = len(order) - 1
	}
	if to == at {
		return nil, nil
	}
	order = slices.Insert(slices.Delete(order, at, at+1), to, c.Heat)
	return []day.Event{day.HeatsOrdered{By: m.Actor, Heats: order}}, nil
}

func (c OrderHeats) decide(s *day.State, m Meta) ([]day.Event, error) {
	standing := board.CallBoardOf(s).Next
	order := make([]day.HeatID, 0, len(standing))
	for _, id := range c.Heats {
		if _, err := waiting(s, id); err != nil {
			return nil, err
		}
		if !slices.Contains(order, id) {
			order = append(order, id)
		}
	}
	for _, id := range standing {
		if !slices.Contains(order, id) {
			order = append(order, id)
		}
	}
	if slices.Equal(order, standing) {
		return nil, nil
	}
	return []day.Event{day.HeatsOrdered{By: m.Actor, Heats: order}}, nil
}

func (c HoldHeat) decide(s *day.State, m Meta) ([]day.Event, error) {
	if _, err := waiting(s, c.Heat); err != nil {
		return nil, err
	}
	if c.UntilUS != 0 && (c.UntilUS <= m.NowUS || claimed(c.UntilUS) == 0) {
		return nil, refusal.New("hold-until", "heat", c.Heat)
	}
	if s.Held[c.Heat] == c.UntilUS {
		return nil, nil
	}
	return []day.Event{day.HeatHeld{By: m.Actor, Heat: c.Heat, UntilUS: c.UntilUS}}, nil
}

// waiting finds a heat that is still to be called, or refuses.
func waiting(s *day.State, id day.HeatID) (day.Heat, error) {
	h, err := s.Heat(id)
	switch {
	case err != nil:
	case h.Phase == day.PhaseCalled || h.Phase == day.PhaseRacing:
		err = refusal.New("heat-called", "heat", h.ID)
	case h.Phase != day.PhaseDrawn:
		err = refusal.New("heat-over", "heat", h.ID, "status", h.Phase)
	}
	return h, err
}
