package board

import (
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/refusal"
)

// Assignment is what a bench has to do now for the meet.
type Assignment struct {
	Bench        day.BenchID
	OutOfService bool
	// Heat and what follows are empty while no heat needs the bench: it may then
	// take practice runs.
	Heat   day.HeatID
	Entry  day.EntryID
	State  day.LaneState
	Run    day.RunID // the id under which to send
	RaceUS int64     // how long the run lasts
	Class  day.CarClass
	// Gate is what the inspector's table says of the car when the last event came;
	// Says what the rules show of it, and Held whether the car does not race yet.
	Gate inspection.Gate
	Says []*refusal.Refusal
	Held bool
	// Dealt says that the pack was dealt by lot, so that no other is taken.
	Dealt bool
}

// AssignmentOf finds what a bench has to do now.
func AssignmentOf(s *day.State, bench day.BenchID) (Assignment, error) {
	heat, _ := s.HeatOn(bench)
	return AssignmentIn(s, bench, heat)
}

// HeatsOnBenches is which heat is on which bench, of those that have one: State.HeatOn
// for all benches, at the cost of one.
func HeatsOnBenches(s *day.State) map[day.BenchID]day.HeatID {
	out := map[day.BenchID]day.HeatID{}
	for id, h := range s.Heats {
		if h.Phase != day.PhaseCalled && h.Phase != day.PhaseRacing {
			continue
		}
		for _, l := range h.Lanes {
			if first, busy := out[l.Bench]; l.State != day.LaneDone && (!busy || id < first) {
				out[l.Bench] = id
			}
		}
	}
	return out
}

// AssignmentIn finds what a bench has to do in the heat that is on it; without one it
// is free.
func AssignmentIn(s *day.State, bench day.BenchID, heat day.HeatID) (Assignment, error) {
	b, err := s.Bench(bench)
	if err != nil {
		return Assignment{}, err
	}
	out := Assignment{Bench: bench, OutOfService: b.OutOfService}
	if heat == "" {
		return out, nil
	}
	h := s.Heats[heat]
	d := s.Divisions[h.Division]
	for _, l := range h.Lanes {
		if l.Bench == bench && l.State != day.LaneDone {
			out.Heat, out.Entry, out.State, out.Run = heat, l.Entry, l.State, l.Armed
			out.RaceUS, out.Class = d.Stages[h.Stage-1].RaceUS, d.Class
			if l.State == day.LaneCalled || l.State == day.LaneReady {
				out.Gate = inspection.LaneGate(s, h, l, s.TimeUS)
				out.Says, out.Held = inspection.Shown(s, l, out.Gate)
				if s.Rules.BatteryGate == day.GateOff {
					out.Gate.PackValidUS = 0 // nobody looks at it
				}
				out.Dealt = l.Dealt != "" && l.Dealt == out.Gate.Pack
			}
		}
	}
	return out, nil
}
