package inspection

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// RestUntilUS is until when the pack that a lane is to race with has to rest in its
// division, in µs since 1970; 0 where it has rested.
func RestUntilUS(s *day.State, h day.Heat, l day.Lane, nowUS int64) int64 {
	p, known := PackFor(s, l, nowUS)
	if !known || len(p.Runs) == 0 {
		return 0
	}
	last, _ := p.Last()
	w, _ := Windows(s, h.Division).For(last.Chemistry)
	until := p.Runs[len(p.Runs)-1].ToUS + w.RestUS
	if w.RestUS == 0 || until <= nowUS {
		return 0
	}
	return until
}

// RestsUntilUS is until when the rules keep a car from its bench for nothing but its
// pack's rest; 0 where they do not, or where something else is missing too.
func RestsUntilUS(s *day.State, h day.Heat, l day.Lane, nowUS int64) int64 {
	if s.Rules.BatteryGate != day.GateHold || l.Allowed {
		return 0
	}
	g := LaneGate(s, h, l, nowUS)
	inspected := s.Rules.InspectionGate != day.GateHold || len(g.Inspection) == 0
	if !inspected || len(g.Battery) != 1 || g.Battery[0].Code != "pack-tired" {
		return 0
	}
	return RestUntilUS(s, h, l, nowUS)
}

// NotResting refuses the call of a car that the rules keep from its bench until its pack
// has rested: its call would run out while it must not come.
func NotResting(s *day.State, h day.Heat, l day.Lane, nowUS int64) error {
	const minuteUS = 60_000_000
	until := RestsUntilUS(s, h, l, nowUS)
	if until == 0 {
		return nil
	}
	return refusal.New("car-rests", "number", s.Number(l.Entry), "minutes", (until-nowUS+minuteUS-1)/minuteUS)
}
