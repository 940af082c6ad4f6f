package view

import (
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// Standings are a division's table.
func (v MeetView) Standings(d day.Division) gen.Standings {
	out := gen.Standings{
		Division: string(d.ID), Name: &d.Name, Seq: v.Head.Seq, Head: v.Head.Hash.String(),
		Final:     programme.Finished(v.State, d.ID),
		Published: len(v.State.Programmes[programme.Host(v.State, d.ID)].Published), Standings: []gen.Standing{},
	}
	// The published table is no screen's alone: it is kept, linked and printed.
	at := shown{onScreen: out.Published == 0, inResults: out.Final || out.Published > 0}
	for _, line := range programme.Standings(v.State, d.ID) {
		if line.Band == d.ID && programme.Host(v.State, d.ID) != d.ID {
			line.Band, line.BandRank = "", 0 // the whole table is of the band
		}
		out.Standings = append(out.Standings, v.standing(line, at))
	}
	return out
}

func (v MeetView) standing(line programme.Standing, at shown) gen.Standing {
	out := gen.Standing{
		Rank: line.Rank, Racer: v.racerAt(line.Entry, at), Stage: line.Stage, Status: wire.Opt(string(line.Status)),
		Exit: wire.Opt(line.Exit), PlateRank: wire.Opt(line.PlateRank), DistanceM: wire.Opt(wire.Metres(line.DistanceUM)), UDistanceM: wire.Opt(wire.Metres(line.UUM)),
		Group: wire.Opt(line.Group), GroupPlace: wire.Opt(line.GroupPlace), Points: line.Points, PointsOver: wire.Opt(line.PointsOver), DecidedBy: wire.Opt(line.DecidedBy), Runs: []gen.StandingRun{},
	}
	if line.Band != "" {
		out.Band, out.BandName, out.BandRank = wire.Opt(string(line.Band)), wire.Opt(v.State.Divisions[line.Band].Name), wire.Opt(line.BandRank)
	}
	if len(line.TooCloseTo) > 0 {
		numbers := []int{}
		for _, id := range line.TooCloseTo {
			numbers = append(numbers, v.State.Entries[id].StartNumber)
		}
		slices.Sort(numbers)
		out.TooCloseTo = &numbers
	}
	for _, r := range line.Runs {
		run := gen.StandingRun{Round: r.Round, Heat: string(r.Heat), Run: wire.Opt(string(r.Run)), Status: wire.Opt(string(r.Status))}
		if r.Valued {
			distance := wire.Metres(r.DistanceUM)
			run.DistanceM, run.UDistanceM = &distance, wire.Opt(wire.Metres(r.UUM))
			run.DistanceLowM, run.DistanceHighM = wire.ShowEnd(r.LowUM, 0), wire.ShowEnd(r.HighUM, 0)
			run.AsReadM, run.Factor = wire.Opt(wire.Metres(r.AsReadUM)), wire.Opt(wire.PerMillion(r.FactorPPM))
		}
		out.Runs = append(out.Runs, run)
	}
	return out
}

// Bracket is a division's rounds, those to come included where a draw says what
// they will be.
func (v MeetView) Bracket(d day.Division) gen.Bracket {
	out := gen.Bracket{Division: string(d.ID), Name: &d.Name, Seq: v.Head.Seq, Rounds: []gen.BracketRound{}}
	host := programme.Host(v.State, d.ID)
	for _, r := range programme.Rounds(v.State, host) {
		round := gen.BracketRound{
			Stage: r.Stage, Round: r.Number, Closed: r.Closed, Drawn: wire.Opt(r.Drawn), Method: wire.Opt(r.Method),
			Heats: []gen.BracketHeat{}, Byes: []gen.Racer{}, ByeReasons: codes(r.ByeReasons),
		}
		round.Part, round.RoundsLeft = v.part(host, r.Stage, r.Number)
		if r.Drawn {
			seed := int64(r.LotSeed) // below 2^53
			round.LotSeed = &seed
		}
		for _, id := range r.Byes {
			round.Byes = append(round.Byes, v.Racer(id))
		}
		for _, h := range r.Heats {
			round.Heats = append(round.Heats, v.bracketHeat(h))
		}
		out.Rounds = append(out.Rounds, round)
	}
	out.LaneDesigns = v.laneDesigns(host)
	if notes := v.notes(host); len(notes) > 0 {
		out.Notes = &notes
	}
	return out
}

// codes are words of the core as texts; nil for none.
func codes[T ~string](of []T) *[]string {
	if len(of) == 0 {
		return nil
	}
	out := make([]string, len(of))
	for i, code := range of {
		out[i] = string(code)
	}
	return &out
}

func (v MeetView) bracketHeat(h programme.RoundHeat) gen.BracketHeat {
	out := gen.BracketHeat{Id: string(h.ID), ThirdPlace: wire.Opt(h.Third), IfNeeded: wire.Opt(h.IfNeeded), Group: wire.Opt(h.Group), Number: wire.Opt(h.Number), Leg: wire.Opt(h.Leg), Purpose: wire.OptWord[gen.HeatPurpose](h.Purpose), Reasons: codes(h.Reasons), Slots: []gen.BracketSlot{}}
	if _, drawn := v.State.Heats[h.ID]; drawn {
		heat := v.Heat(h.ID)
		out.Heat = &heat
	}
	for _, slot := range h.Slots {
		out.Slots = append(out.Slots, gen.BracketSlot{
			Racer: v.optRacer(slot.Entry), WinnerOf: wire.Opt(string(slot.WinnerOf)),
			LoserOf: wire.Opt(string(slot.LoserOf)), Nobody: wire.Opt(slot.Nobody),
			PlaceOf: wire.Opt(string(slot.PlaceOf)), Place: wire.Opt(slot.Place), NextBest: wire.Opt(slot.NextBest), OfRound: wire.Opt(slot.Round),
		})
	}
	return out
}
