package inspection

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// Gate is what the inspector's table says of a car that is to race.
type Gate struct {
	// Battery and Inspection are what is missing, empty where nothing is or the class
	// asks for nothing, whatever the rules make of it.
	Battery    []*refusal.Refusal
	Inspection []*refusal.Refusal
	// Pack is the pack to race with; empty where none is known.
	Pack day.PackID
	// PackValidUS is until when its check counts; see [PackValidUS].
	PackValidUS int64
}

// LaneGate finds what the table says of a lane at an instant.
func LaneGate(s *day.State, h day.Heat, l day.Lane, nowUS int64) Gate {
	out := Gate{Inspection: InspectionGrounds(s, l.Entry)}
	p, known := PackFor(s, l, nowUS)
	if known {
		out.Pack, out.PackValidUS = p.ID, PackValidUS(s, p, h.Division)
	}
	if len(Windows(s, h.Division)) == 0 {
		return out
	}
	if !known {
		out.Battery = []*refusal.Refusal{refusal.New("battery-none")}
		return out
	}
	if other, busy := packInCar(s, p.ID, l.Entry); busy {
		out.Battery = []*refusal.Refusal{refusal.New("pack-in-car", "pack", p.ID, "number", s.Number(other))}
		return out
	}
	out.Battery = PackReady(s, p, h.Division, nowUS)
	return out
}

// packInCar finds another entry whose car stands ready or races with a pack.
func packInCar(s *day.State, pack day.PackID, entry day.EntryID) (day.EntryID, bool) {
	if pack == "" {
		return "", false
	}
	for _, h := range s.Heats {
		for _, l := range h.Lanes {
			if l.Pack == pack && l.Entry != entry && (l.State == day.LaneReady || l.State == day.LaneRacing) {
				return l.Entry, true // no other has it at the same time
			}
		}
	}
	return "", false
}

// EntryGate finds what the table says of an entry's car: as it is to race next,
// with the pack that was dealt to it, or between heats.
func EntryGate(s *day.State, entry day.EntryID, nowUS int64) Gate {
	h, l := nextLane(s, entry)
	return LaneGate(s, h, l, nowUS)
}

// EntryRestsUntilUS is [RestsUntilUS] of an entry's car as it is to race next.
func EntryRestsUntilUS(s *day.State, entry day.EntryID, nowUS int64) int64 {
	h, l := nextLane(s, entry)
	return RestsUntilUS(s, h, l, nowUS)
}

// nextLane is the lane in which an entry is to race next; without a heat where none is
// drawn.
func nextLane(s *day.State, entry day.EntryID) (day.Heat, day.Lane) {
	next, lane := day.Heat{Division: s.Entries[entry].Division}, day.Lane{Entry: entry}
	for _, h := range s.Heats {
		i, in := h.Lane(entry)
		if in && h.Lanes[i].State != day.LaneDone && (next.ID == "" || h.Before(next)) {
			next, lane = h, h.Lanes[i]
		}
	}
	return next, lane
}

// Shown is what the rules let a gate show, the battery first, and whether the car
// is held. A lane that an official let race is neither.
func Shown(s *day.State, l day.Lane, g Gate) (says []*refusal.Refusal, held bool) {
	if l.Allowed {
		return nil, false
	}
	for _, side := range []struct {
		rule day.GateRule
		list []*refusal.Refusal
	}{{s.Rules.BatteryGate, g.Battery}, {s.Rules.InspectionGate, g.Inspection}} {
		if side.rule != day.GateOff {
			says = append(says, side.list...)
			held = held || side.rule == day.GateHold && len(side.list) > 0
		}
	}
	return says, held
}

// inOther refuses a pack that another car has in it; nil where none has.
func inOther(s *day.State, pack day.PackID, entry day.EntryID) error {
	if other, busy := packInCar(s, pack, entry); busy {
		return refusal.New("pack-in-car", "pack", pack, "number", s.Number(other))
	}
	return nil
}

// MayRace refuses a car whose checks are missing where the rules hold it, and
// finds the pack that it races with.
func MayRace(s *day.State, h day.Heat, l day.Lane, read day.PackID, nowUS int64) (day.PackID, error) {
	number := s.Number(l.Entry)
	if read != "" {
		p, err := FindPack(s, read)
		switch {
		case err != nil:
			return "", err
		case p.Hurt: // no ruling lets this one race
			return "", refusal.New("pack-hurt")
		case inOther(s, read, l.Entry) != nil:
			return "", inOther(s, read, l.Entry)
		case p.Lent && p.Entry != "" && p.Entry != l.Entry:
			return "", refusal.New("pack-out", "pack", read, "number", s.Number(p.Entry))
		case !p.Lent && p.Entry != l.Entry:
			return "", refusal.New("pack-others", "pack", read, "number", number)
		case l.Dealt != "" && l.Dealt != read && !l.Allowed:
			return "", refusal.New("pack-dealt", "pack", read, "expected", l.Dealt, "number", number)
		}
		l.Pack = read
	}
	g := LaneGate(s, h, l, nowUS)
	if s.Packs[g.Pack].Hurt || inOther(s, g.Pack, l.Entry) != nil {
		g.Pack = "" // whatever is in the car is another one
	}
	if l.Allowed {
		return g.Pack, nil
	}
	for _, side := range []struct {
		rule day.GateRule
		list []*refusal.Refusal
	}{{s.Rules.BatteryGate, g.Battery}, {s.Rules.InspectionGate, g.Inspection}} {
		if side.rule == day.GateHold && len(side.list) > 0 {
			return "", refusal.New("car-held", "number", number, "why", side.list[0])
		}
	}
	return g.Pack, nil
}
