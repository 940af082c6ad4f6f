package view

import (
	"slices"

	"benchmeet/api/gen"
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
		Rank: line.Rank, Racer: v.racerAt(line.Entry, at), Stage: line.Stage, Status: opt(string(line.Status)),
		Exit: opt(line.Exit), PlateRank: opt(line.PlateRank), DistanceM: opt(metres(line.DistanceUM)), UDistanceM: opt(metres(line.UUM)),
		Group: opt(line.Group), GroupPlace: opt(line.GroupPlace), Points: line.Points, PointsOver: opt(line.PointsOver), DecidedBy: opt(line.DecidedBy), Runs: []gen.StandingRun{},
	}
	if line.Band != "" {
		out.Band, out.BandName, out.BandRank = opt(string(line.Band)), opt(v.State.Divisions[line.Band].Name), opt(line.BandRank)
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
		run := gen.StandingRun{Round: r.Round, Heat: string(r.Heat), Run: opt(string(r.Run)), Status: opt(string(r.Status))}
		if r.Valued {
			distance := metres(r.DistanceUM)
			run.DistanceM, run.UDistanceM = &distance, opt(metres(r.UUM))
			run.DistanceLowM, run.DistanceHighM = end(r.LowUM, 0), end(r.HighUM, 0)
			run.AsReadM, run.Factor = opt(metres(r.AsReadUM)), opt(perMillion(r.FactorPPM))
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
			Stage: r.Stage, Round: r.Number, Closed: r.Closed, Drawn: opt(r.Drawn), Method: opt(r.Method),
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
	out := gen.BracketHeat{Id: string(h.ID), ThirdPlace: opt(h.Third), IfNeeded: opt(h.IfNeeded), Group: opt(h.Group), Number: opt(h.Number), Leg: opt(h.Leg), Purpose: optWord[gen.HeatPurpose](h.Purpose), Reasons: codes(h.Reasons), Slots: []gen.BracketSlot{}}
	if _, drawn := v.State.Heats[h.ID]; drawn {
		heat := v.Heat(h.ID)
		out.Heat = &heat
	}
	for _, slot := range h.Slots {
		out.Slots = append(out.Slots, gen.BracketSlot{
			Racer: v.optRacer(slot.Entry), WinnerOf: opt(string(slot.WinnerOf)),
			LoserOf: opt(string(slot.LoserOf)), Nobody: opt(slot.Nobody),
			PlaceOf: opt(string(slot.PlaceOf)), Place: opt(slot.Place), NextBest: opt(slot.NextBest), OfRound: opt(slot.Round),
		})
	}
	return out
}
