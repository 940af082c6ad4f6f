package workshop

// Life is the history of one car: each change is a step. Values in it are replaced and
// never changed in place.
type Life struct {
	Steps []Step `json:"steps,omitempty"` // oldest first
	Plans []Plan `json:"plans,omitempty"` // the comparisons that were announced, oldest first
}

// Step is one change of a car, or one fitting again of what was there.
type Step struct {
	// State numbers the different setups of the car from 1, in the order in which they
	// came: a setup that comes back is the state that it was. Before the first step a
	// car is in state 0, of which nothing is noted.
	State int `json:"state"`
	// Fitting numbers the steps from 1: whatever is fitted once and run one or more
	// times. Before the first step it is 0.
	Fitting int   `json:"fitting"`
	Setup   Setup `json:"setup"`
	AtUS    int64 `json:"at_us"` // from when it counts
	// CameUS is when it came to be known, where that was later.
	CameUS int64 `json:"came_us,omitempty"`
}

// Plan is a comparison that was announced before the second state ran.
type Plan struct {
	From         int   `json:"from"`
	To           int   `json:"to"`
	Fittings     int   `json:"fittings"`
	RunsAFitting int   `json:"runs_a_fitting"`
	AtUS         int64 `json:"at_us"`
}

// At is the step that a car was in at a moment; the zero step before the first.
func (l Life) At(us int64) Step {
	var out Step
	for _, s := range l.Steps {
		if s.AtUS > us {
			break
		}
		out = s
	}
	return out
}

// Now is the newest step.
func (l Life) Now() Step {
	if len(l.Steps) == 0 {
		return Step{}
	}
	return l.Steps[len(l.Steps)-1]
}

// Setup is what the car is made of in a state; false where there is no such state. Of
// state 0 nothing is noted.
func (l Life) Setup(state int) (Setup, bool) {
	if state == 0 {
		return Setup{}, true
	}
	for _, s := range l.Steps {
		if s.State == state {
			return s.Setup, true
		}
	}
	return Setup{}, false
}

// States is the highest number of a state so far.
func (l Life) States() int {
	most := 0
	for _, s := range l.Steps {
		most = max(most, s.State)
	}
	return most
}

// Next is the step that a setup makes: of the state that had it before, or of a new one.
// It is false where the car is so already and nothing is fitted again.
func (l Life) Next(s Setup, refit bool) (Step, bool) {
	now := l.Now()
	if len(l.Steps) > 0 && now.Setup == s && !refit {
		return now, false
	}
	next := Step{State: l.States() + 1, Fitting: now.Fitting + 1, Setup: s}
	for _, old := range l.Steps {
		if old.Setup == s {
			next.State = old.State
		}
	}
	return next, true
}

// Planned is the newest announcement for two states, whichever of them comes first.
func (l Life) Planned(from, to int) (Plan, bool) {
	for i := len(l.Plans) - 1; i >= 0; i-- {
		if p := l.Plans[i]; p.From == from && p.To == to || p.From == to && p.To == from {
			return p, true
		}
	}
	return Plan{}, false
}
