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
	table := v.Table(d)
	out := table.Head
	for _, line := range table.Lines {
		out.Standings = append(out.Standings, v.Line(table, line))
	}
	return out
}

// Table is a division's table before its lines are written.
type Table struct {
	// Head is all but the lines.
	Head  gen.Standings
	Lines []programme.Standing
	at    shown
}

// Table ranks a division.
func (v MeetView) Table(d day.Division) Table {
	host := programme.Host(v.State, d.ID)
	published := v.State.Programmes[host].Published
	out := Table{Head: gen.Standings{
		Division: string(d.ID), Name: &d.Name, Seq: v.Head.Seq, Head: v.Head.Hash.String(),
		Final: programme.Finished(v.State, d.ID), Published: len(published), Standings: []gen.Standing{}, Rounds: tableRounds(v, host),
	}, Lines: programme.Standings(v.State, d.ID)}
	if len(published) > 0 {
		out.Head.PublishedAt = wire.OptInstant(published[len(published)-1].AtUS)
		out.Head.Changed = wire.Opt(programme.PublishedIsOld(v.State, host))
	}
	// The published table is no screen's alone: it is kept, linked and printed.
	out.at = shown{onScreen: out.Head.Published == 0, inResults: out.Head.Final || out.Head.Published > 0}
	alone := host != d.ID
	for i := range out.Lines {
		if line := &out.Lines[i]; alone && line.Band == d.ID {
			line.Band, line.BandRank = "", 0 // the whole table is of the band
		}
	}
	return out
}

// Line is a line of a table.
func (v MeetView) Line(of Table, line programme.Standing) gen.Standing {
	return v.standing(line, of.at)
}

func (v MeetView) standing(line programme.Standing, at shown) gen.Standing {
	out := gen.Standing{
		Rank: line.Rank, Racer: v.racerAt(line.Entry, at), Stage: line.Stage, Status: wire.Opt(string(line.Status)),
		Exit: wire.Opt(line.Exit), PlateRank: wire.Opt(line.PlateRank), DistanceM: wire.Opt(wire.Metres(line.DistanceUM)),
		UDistanceM: wire.Opt(wire.Metres(line.UUM)),
		Group:      wire.Opt(line.Group), GroupPlace: wire.Opt(line.GroupPlace), Points: line.Points,
		PointsOver: wire.Opt(line.PointsOver), DecidedBy: wire.Opt(line.DecidedBy), Runs: wire.ShowTimedRuns(line.Runs),
		Corrections: wire.ShowCorrections(line.Corrections),
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
	if len(line.Earlier) > 0 {
		earlier := []gen.StandingStage{}
		for _, before := range line.Earlier {
			earlier = append(earlier, wire.ShowStandingStage(before))
		}
		out.Earlier = &earlier
	}
	return out
}

// tableRounds are the rounds that runs of a table belong to.
func tableRounds(v MeetView, host day.DivisionID) *[]gen.StandingsRound {
	out := []gen.StandingsRound{}
	for i, st := range v.State.Programmes[host].Stages {
		for k := range st.Rounds {
			round := gen.StandingsRound{Stage: i + 1, Round: k + 1}
			round.Part, round.RoundsLeft, round.PartRound = v.part(host, i+1, k+1)
			out = append(out, round)
		}
	}
	if len(out) == 0 {
		return nil
	}
	return &out
}

// Bracket is a division's rounds, those to come included where a draw says what
// they will be.
func (v MeetView) Bracket(d day.Division) gen.Bracket {
	out, rounds := v.Rounds(d)
	for _, r := range rounds {
		round := v.Round(d, r)
		for _, h := range r.Heats {
			round.Heats = append(round.Heats, v.BracketHeat(h))
		}
		out.Rounds = append(out.Rounds, round)
	}
	return out
}

// Rounds is a bracket without its rounds, and these as the programme has them.
func (v MeetView) Rounds(d day.Division) (gen.Bracket, []programme.Round) {
	host := programme.Host(v.State, d.ID)
	out := gen.Bracket{
		Division: string(d.ID), Name: &d.Name, Seq: v.Head.Seq, Rounds: []gen.BracketRound{}, LaneDesigns: v.laneDesigns(host),
	}
	if notes := v.notes(host); len(notes) > 0 {
		out.Notes = &notes
	}
	return out, programme.Rounds(v.State, host)
}

// Round is a round of a bracket without its heats.
func (v MeetView) Round(d day.Division, r programme.Round) gen.BracketRound {
	out := gen.BracketRound{
		Stage: r.Stage, Round: r.Number, Closed: r.Closed, Drawn: wire.Opt(r.Drawn), Method: wire.Opt(r.Method),
		Heats: []gen.BracketHeat{}, Byes: []gen.Racer{}, ByeReasons: codes(r.ByeReasons),
	}
	out.Part, out.RoundsLeft, out.PartRound = v.part(programme.Host(v.State, d.ID), r.Stage, r.Number)
	if r.Drawn {
		seed := int64(r.LotSeed) // below 2^53
		out.LotSeed = &seed
	}
	for _, id := range r.Byes {
		out.Byes = append(out.Byes, v.Racer(id))
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

// BracketHeat is a heat of a round, with all of it where it is drawn.
func (v MeetView) BracketHeat(h programme.RoundHeat) gen.BracketHeat {
	out := gen.BracketHeat{
		Id: string(h.ID), ThirdPlace: wire.Opt(h.Third), IfNeeded: wire.Opt(h.IfNeeded), Group: wire.Opt(h.Group), Number: wire.Opt(h.Number),
		Leg: wire.Opt(h.Leg), Purpose: wire.OptWord[gen.HeatPurpose](h.Purpose), Reasons: codes(h.Reasons), Slots: []gen.BracketSlot{},
	}
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
