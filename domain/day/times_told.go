package day

// TimesTold says which times an official told the hall: promises that nobody is called
// before. It replaces what was told before.
type TimesTold struct {
	By string `json:"by"`
	// FinishUS is when the day was said to be over, in whole five minutes.
	FinishUS int64 `json:"finish_us,omitempty"`
	// Reason is why times moved, where that was said.
	Reason ReasonCode `json:"reason,omitempty"`
	// Heats are those that were drawn and not called, Rounds those that were not drawn.
	Heats  []HeatTold  `json:"heats"`
	Rounds []RoundTold `json:"rounds,omitempty"`
}

// HeatTold is what was told of a heat.
type HeatTold struct {
	Heat HeatID `json:"heat"`
	ToldTime
}

// RoundTold is what was told of a round that was not drawn: it holds for its heats, until
// something is told of them.
type RoundTold struct {
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"`
	Round    int        `json:"round"`
	ToldTime
}

// ToldTime is a promise: not before an instant, in whole five minutes.
type ToldTime struct {
	NotBeforeUS int64 `json:"not_before_us"`
	// WasUS is what was told before, where that was another instant.
	WasUS int64 `json:"was_us,omitempty"`
}

// Told is what was told of the day last.
type Told struct {
	AtUS     int64      `json:"at_us"`
	By       string     `json:"by"`
	FinishUS int64      `json:"finish_us,omitempty"`
	Reason   ReasonCode `json:"reason,omitempty"`
	// Heats and Rounds are the promises, by heat and by [DivisionID.Round].
	Heats  map[HeatID]ToldTime `json:"heats"`
	Rounds map[string]ToldTime `json:"rounds"`
	// Times is how often times were told on the day so far, FirstUS when for the first time.
	// They follow from the events and are not kept anywhere.
	Times   int   `json:"-"`
	FirstUS int64 `json:"-"`
}

// HeatPromise is what was told of a heat: of itself, or of its round before that was drawn;
// 0 where nothing was.
func (s *State) HeatPromise(h Heat) ToldTime {
	if s.Told == nil {
		return ToldTime{}
	}
	if t, told := s.Told.Heats[h.ID]; told {
		return t
	}
	return s.Told.Rounds[h.Division.Round(h.Stage, h.Round)]
}

// RoundPromise is what was told of a round that is not drawn; 0 where nothing was.
func (s *State) RoundPromise(d DivisionID, stage, round int) ToldTime {
	if s.Told == nil {
		return ToldTime{}
	}
	return s.Told.Rounds[d.Round(stage, round)]
}

// Type is the name in the log.
func (TimesTold) Type() string { return "TimesTold" }

func (e TimesTold) apply(s *State) {
	t := &Told{
		AtUS: s.TimeUS, By: e.By, FinishUS: e.FinishUS, Reason: e.Reason, Heats: map[HeatID]ToldTime{}, Rounds: map[string]ToldTime{},
	}
	t.Times, t.FirstUS = 1, s.TimeUS
	if s.Told != nil {
		t.Times, t.FirstUS = s.Told.Times+1, s.Told.FirstUS
	}
	for _, h := range e.Heats {
		t.Heats[h.Heat] = h.ToldTime
	}
	for _, r := range e.Rounds {
		t.Rounds[r.Division.Round(r.Stage, r.Round)] = r.ToldTime
	}
	s.Told = t
}

// shifted are the promises later by a pause, those that are still to be kept.
func (t *Told) shifted(byUS, sinceUS int64) *Told {
	out := *t
	out.Heats, out.Rounds = map[HeatID]ToldTime{}, map[string]ToldTime{}
	later := func(p ToldTime) ToldTime {
		if p.NotBeforeUS > sinceUS {
			p.WasUS, p.NotBeforeUS = p.NotBeforeUS, p.NotBeforeUS+byUS
		}
		return p
	}
	for id, p := range t.Heats {
		out.Heats[id] = later(p)
	}
	for id, p := range t.Rounds {
		out.Rounds[id] = later(p)
	}
	return &out
}
