package day

// CutsChosen says what may be left out of the day where it gets late, what comes first first.
// It replaces what was chosen before.
type CutsChosen struct {
	By   string      `json:"by"`
	Cuts []ChosenCut `json:"cuts"`
}

// ChosenCut is one of them, with what was reckoned of it when it was chosen: that is what was
// printed with the rules.
type ChosenCut struct {
	// Code is that of the day's cuts, see package dayplan; Stage the one that is shortened.
	Code     string     `json:"code"`
	Division DivisionID `json:"division"`
	Stage    int        `json:"stage"`
	// SavesUS is how much earlier the day ends for it.
	SavesUS int64 `json:"saves_us"`
	// Entries is how many race less often, RunsBefore and RunsAfter how often each child of
	// the division races at least; all 0 where that was not known.
	Entries    int `json:"entries,omitempty"`
	RunsBefore int `json:"runs_before,omitempty"`
	RunsAfter  int `json:"runs_after,omitempty"`
	// FairUntilUS is the latest moment at which it is fair; 0 where that was not known.
	FairUntilUS int64 `json:"fair_until_us,omitempty"`
}

// CutList is what was chosen last.
type CutList struct {
	AtUS int64       `json:"at_us"`
	By   string      `json:"by"`
	Cuts []ChosenCut `json:"cuts"`
}

// Type is the name in the log.
func (CutsChosen) Type() string { return "CutsChosen" }

func (e CutsChosen) apply(s *State) { s.Cuts = &CutList{s.TimeUS, e.By, e.Cuts} }
