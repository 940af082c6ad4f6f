package forecast

import "math"

// Check refuses a day that cannot be played, as [Play] does.
func (d Day) Check() error {
	_, err := newPlaying(d)
	return err
}

// check refuses what cannot be played, but for fields that a draw does not take.
func (d Day) check() error {
	if !(d.Closes > d.Opens) || math.IsInf(d.Closes-d.Opens, 0) {
		return refusef("the day closes at %g and opens at %g: it has to close later", d.Closes, d.Opens)
	}
	if d.Benches < 1 || d.Benches > MaxBenches {
		return refusef("%d benches: give 1 to %d", d.Benches, MaxBenches)
	}
	for _, v := range []struct {
		name        string
		value, most float64
	}{
		{"changeover", d.ChangeOver, 86_400},
		{"rest", d.Rest, 86_400},
		{"wait", d.Wait, 86_400},
		{"changeover_spread", d.HeatSpread, 2},
		{"day_spread", d.DaySpread, 1},
		{"failure_rate", d.FailureRate, 0.5},
		{"rerun_rate", d.RerunRate, 0.5},
	} {
		if !(v.value >= 0 && v.value <= v.most) {
			return refusef("%s is %g: give a number from 0 to %g", v.name, v.value, v.most)
		}
	}
	for _, s := range d.Stops {
		if !(s.From >= d.Opens && s.To > s.From) || math.IsInf(s.To, 0) {
			return refusef("a stop from %g to %g: it lies behind the opening and ends after it begins", s.From, s.To)
		}
	}
	if len(d.Divisions) < 1 || len(d.Divisions) > MaxDivisions {
		return refusef("%d divisions: give 1 to %d", len(d.Divisions), MaxDivisions)
	}
	seen := map[string]bool{}
	for _, v := range d.Divisions {
		if v.ID == "" || seen[v.ID] {
			return refusef("division %q: every division has an id of its own", v.ID)
		}
		seen[v.ID] = true
		if err := v.check(); err != nil {
			return err
		}
	}
	return nil
}

func (d Division) check() error {
	if d.Entries < 1 || d.Entries > MaxEntries {
		return refusef("division %q has %d entries: give 1 to %d", d.ID, d.Entries, MaxEntries)
	}
	if !(d.CarSD >= 0 && d.CarSD <= 1) || !(d.RunSD >= 0 && d.RunSD <= 1) {
		return refusef("division %q: car_sd and run_sd are relative, from 0 to 1 (0.04 is 4 %%)", d.ID)
	}
	if len(d.Stages) < 1 || len(d.Stages) > MaxStages {
		return refusef("division %q has %d stages: give 1 to %d", d.ID, len(d.Stages), MaxStages)
	}
	there := d.Entries
	for i, s := range d.Stages {
		if err := s.check(); err != nil {
			return refusef("stage %d of division %q: %w", i+1, d.ID, err)
		}
		there = s.field(there)
		if there < 2 && (s.Kind.duels() || s.Kind == Heats) {
			return refusef("stage %d of division %q: %s needs two entries, and %d is there", i+1, d.ID, s.Kind, there)
		}
		if s.Kind == Swiss && s.Rounds >= there {
			return refusef("stage %d of division %q: %d entries can meet in %d Swiss rounds at most", i+1, d.ID, there, there-1)
		}
	}
	return nil
}

func (s Stage) check() error {
	switch s.Kind {
	case TimedRounds, PointsRounds, Swiss:
		if s.Rounds < 1 || s.Rounds > 100 {
			return refusef("%d rounds: give 1 to 100", s.Rounds)
		}
	case Groups:
		if s.Groups < 1 {
			return refusef("groups needs the number of groups")
		}
	case Knockout, DoubleElimination, RoundRobin, Heats:
	default:
		return refusef("the kind %q is not known; known are: timed-rounds, points-rounds, knockout, "+
			"double-elimination, round-robin, groups, swiss, heats", s.Kind)
	}
	if !(s.Race > 0 && s.Race <= 86_400) {
		return refusef("race is how long a race takes, in seconds: %g does not do", s.Race)
	}
	if s.Entries < 0 || s.Lanes < 0 || s.Lanes > MaxBenches || s.Advance < 0 || s.NextBest < 0 || s.Cycles < 0 || s.Cycles > 8 {
		return refusef("entries, lanes, advance, next_best and cycles are not negative, lanes at most %d, cycles at most 8", MaxBenches)
	}
	if s.Rule != "" && s.Rule != Best && s.Rule != Mean {
		return refusef("the rule %q is not known; known are: best, mean", s.Rule)
	}
	if s.Legs < 0 || s.Legs > 2 {
		return refusef("legs is 1 or 2")
	}
	return nil
}
