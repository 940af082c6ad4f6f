package day

// ResultsPosted says that a heat's result is shown and may be protested until an
// instant (0 where its round is closed). A walkover is posted without a race of
// the car that is left. A provisional result that a ruling changed is posted
// again.
type ResultsPosted struct {
	Heat           HeatID `json:"heat"`
	ProtestUntilUS int64  `json:"protest_until_us"`
	Walkover       bool   `json:"walkover,omitempty"`
	// Keeps are the lanes whose re-run will not be, because of a walkover, with the
	// earlier runs that count.
	Keeps []LaneNow `json:"keeps,omitempty"`
	Aged
}

// Type is the name in the log.
func (ResultsPosted) Type() string { return "ResultsPosted" }

func (e ResultsPosted) apply(s *State) {
	h := s.Heats[e.Heat]
	if e.Walkover {
		h = h.withLanes(func(_ int, l Lane) Lane {
			l.State, l.Armed = LaneDone, ""
			return l
		})
	}
	for _, now := range e.Keeps {
		if i, in := h.Lane(now.Entry); in {
			h = h.withLane(i, h.Lanes[i].keeping(now.Keeps))
		}
	}
	h.Phase, h.PostedUS, h.ProtestUntilUS = PhaseProvisional, s.TimeUS, e.ProtestUntilUS
	h.DeadlineUS = 0
	if s.RoundClosed(h) {
		h.Phase = PhaseOfficial
	}
	s.Heats[e.Heat] = h
}

// RoundClosed says whether the round of a heat is closed, so that its results are official.
func (s *State) RoundClosed(h Heat) bool {
	p := s.Programmes[h.Division]
	return len(p.Stages) >= h.Stage && len(p.Stages[h.Stage-1].Rounds) >= h.Round &&
		p.Stages[h.Stage-1].Rounds[h.Round-1].Closed
}

// RoundClosed says that a round's results are official.
type RoundClosed struct {
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"`
	Round    int        `json:"round"`
	By       string     `json:"by"`
	Early    *Reason    `json:"early,omitempty"`
	// FactorSet is the number of the bench factors that hold for its results for good,
	// 0 for none.
	FactorSet int `json:"factor_set,omitempty"`
	Aged
}

// Type is the name in the log.
func (RoundClosed) Type() string { return "RoundClosed" }

func (e RoundClosed) apply(s *State) {
	p := s.Programmes[e.Division]
	r := p.Stages[e.Stage-1].Rounds[e.Round-1]
	r.Closed, r.Factors = true, e.FactorSet
	p.SteppedUS = s.TimeUS
	s.Programmes[e.Division] = p.withRound(e.Stage, e.Round, r)
	for _, id := range r.Heats {
		h := s.Heats[id]
		h.Phase = PhaseOfficial
		s.Heats[id] = h
	}
}

// ResultsPublished says what was published.
type ResultsPublished struct {
	Division DivisionID `json:"division"`
	Number   int        `json:"number"`
	Ranks    []Placed   `json:"ranks"`
	By       string     `json:"by"`
}

// Type is the name in the log.
func (ResultsPublished) Type() string { return "ResultsPublished" }

func (e ResultsPublished) apply(s *State) {
	p := s.Programmes[e.Division]
	p.Published = append(p.Published[:len(p.Published):len(p.Published)], Publication{e.Number, s.TimeUS, e.Ranks, len(s.Rulings)})
	s.Programmes[e.Division] = p
}
