package meet

import "benchmeet/domain/refusal"

// LetDrawStand rules that the last draw of a division stands although a result
// below it has changed: its heats were called already, so that it cannot be drawn
// again, or everybody has agreed to race on. Whoever was wronged by that is for
// the official to weigh; results are not touched.
type LetDrawStand struct {
	Division DivisionID
	Reason   Reason
}

// DrawLetStand says that an outdated draw stands.
type DrawLetStand struct {
	Ruled
	Division DivisionID `json:"division"`
	// Sum is of what would be drawn otherwise, so that a further change is said.
	Sum string `json:"sum"`
}

func (c LetDrawStand) decide(s *State, m Meta) ([]Event, error) {
	d, err := s.Division(c.Division)
	if err != nil {
		return nil, err
	}
	ruled, err := ruledBy(s, m, c.Reason)
	if err != nil {
		return nil, err
	}
	if !Outdated(s, d.ID) {
		return nil, refusal.New("draw-current", "division", d.ID)
	}
	return []Event{DrawLetStand{Ruled: ruled, Division: d.ID, Sum: SumOf(Replaced(s, d.ID))}}, nil
}

// Type is the name in the log.
func (DrawLetStand) Type() string { return "DrawLetStand" }

func (e DrawLetStand) apply(s *State) {
	p := s.Programmes[e.Division]
	p.LetStand = e.Sum
	s.Programmes[e.Division] = p
	s.rule(e.Type(), e.Ruled, Ruling{Div: e.Division})
}
