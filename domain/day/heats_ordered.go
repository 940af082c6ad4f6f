package day

// HeatsOrdered says in which order the heats that wait are to be called. Those that are
// drawn later come behind them.
type HeatsOrdered struct {
	By    string   `json:"by"`
	Heats []HeatID `json:"heats"`
}

// HeatHeld says until when a heat is not to be called; 0 lets it go. It keeps its place.
type HeatHeld struct {
	By      string `json:"by"`
	Heat    HeatID `json:"heat"`
	UntilUS int64  `json:"until_us,omitempty"`
}

// Type is the name in the log.
func (HeatsOrdered) Type() string { return "HeatsOrdered" }

func (e HeatsOrdered) apply(s *State) { s.Order = e.Heats }

// Type is the name in the log.
func (HeatHeld) Type() string { return "HeatHeld" }

func (e HeatHeld) apply(s *State) { hold(s, e.Heat, e.UntilUS) }

func hold(s *State, heat HeatID, untilUS int64) {
	held := map[HeatID]int64{}
	for id, us := range s.Held {
		if id != heat {
			held[id] = us
		}
	}
	if untilUS != 0 {
		held[heat] = untilUS
	}
	s.Held = held
	if len(held) == 0 {
		s.Held = nil
	}
}

// callHeld takes a heat out of the order that was given, and lets it go.
func callHeld(s *State, heat HeatID) {
	for i, id := range s.Order {
		if id == heat {
			s.Order = append(s.Order[:i:i], s.Order[i+1:]...)
			break
		}
	}
	if len(s.Order) == 0 {
		s.Order = nil
	}
	if _, held := s.Held[heat]; held {
		hold(s, heat, 0)
	}
}
