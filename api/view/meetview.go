package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/wire"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/journal"
	"benchmeet/domain/programme"
)

// MeetView shows one meet at one position of its log.
type MeetView struct {
	ID    string
	State *day.State
	Head  journal.Head
	Names Names
}

// Racer is an entry as public pages call it. What screens show of a division whose
// results are published is of those results too.
func (v MeetView) Racer(id day.EntryID) gen.Racer {
	return v.racerAt(id, shown{onScreen: true, inResults: v.published(v.State.Entries[id].Division)})
}

func (v MeetView) racerAt(id day.EntryID, at shown) gen.Racer {
	e := v.State.Entries[id]
	return gen.Racer{
		Entry: string(id), StartNumber: e.StartNumber, DisplayName: wire.Opt(v.Names.displayAt(string(e.Entrant), at)),
	}
}

// published says whether a division's results were published.
func (v MeetView) published(d day.DivisionID) bool {
	return len(v.State.Programmes[programme.Host(v.State, d)].Published) > 0
}

func (v MeetView) optRacer(id day.EntryID) *gen.Racer {
	if id == "" {
		return nil
	}
	r := v.Racer(id)
	return &r
}

// Meet is the meet as a whole.
func (v MeetView) Meet() gen.Meet {
	out := v.MeetAlone()
	for _, d := range v.State.SortedDivisions() {
		out.Divisions = append(out.Divisions, v.Division(d))
	}
	return out
}

// MeetAlone is the meet without its divisions.
func (v MeetView) MeetAlone() gen.Meet {
	s := v.State
	out := gen.Meet{
		Id: v.ID, Seq: v.Head.Seq, Head: v.Head.Hash.String(), Plan: wire.ShowPlan(s.Plan), Rules: wire.ShowRules(s.Rules),
		PlanEdition: wire.Opt(s.Plan.Edition()), RulesEdition: wire.Opt(s.Rules.Edition()), RulesFixed: wire.Opt(board.RulesFixed(s)),
		Divisions: []gen.Division{}, Benches: []gen.MeetBench{},
		Paused: s.Paused, PausedBecause: wire.Opt(string(s.PausedBecause)), Reasons: []string{},
		PutAway: wire.Opt(s.Away.Meet), Cuts: wire.ShowCuts(s.Cuts),
	}
	if tasks := Tasks(s.Plan); len(tasks) > 0 {
		out.Tasks = &tasks
	}
	for _, code := range day.ReasonCodes() {
		out.Reasons = append(out.Reasons, string(code))
	}
	for _, b := range s.SortedBenches() {
		of := wire.ShowBench(b)
		out.Benches = append(out.Benches, gen.MeetBench{
			Id: of.Id, Number: of.Number, CircumferenceMm: &of.CircumferenceMm, CircumferenceUMm: &of.CircumferenceUMm,
			MarksPerTurn: &of.MarksPerTurn, Factor: &of.Factor, StampUs: &of.StampUs, ClockPpm: &of.ClockPpm,
			OutOfService: b.OutOfService, Reason: wire.Opt(b.OutReason),
			OfficialWanted: wire.OptInstant(s.Wanted[b.ID].AtUS),
		})
	}
	return out
}

// Summary is a meet in a list.
func Summary(id string, s ledger.Summary) gen.MeetSummary {
	return gen.MeetSummary{Id: id, Name: s.Name, Place: wire.Opt(s.Place), Date: s.Date, Seq: s.Seq, PutAway: wire.Opt(s.PutAway)}
}

// Division is a division with how far it is.
func (v MeetView) Division(d day.Division) gen.Division {
	host := programme.Host(v.State, d.ID) // of a division that races in another
	progress := programme.ProgressOf(v.State, host)
	planned := wire.ShowDivision(d)
	out := gen.Division{
		Id: string(d.ID), Name: planned.Name, AgeFrom: planned.AgeFrom, AgeTo: planned.AgeTo,
		Class: planned.Class, Stages: planned.Stages,
		EntriesClosed: v.State.Programmes[host].EntriesClosed,
		Stage:         progress.Stage, Round: progress.Round,
		RoundsTotal: progress.Rounds, RoundClosed: progress.Closed, DrawNext: wire.Opt(progress.DrawNext),
		Published: len(v.State.Programmes[host].Published), Outdated: programme.Outdated(v.State, host),
		Edition: wire.Opt(d.Edition()), EndedEarly: wire.Opt(v.State.Programmes[host].EndedEarly),
	}
	out.Part, out.RoundsLeft, out.PartRound = v.part(d.ID, progress.Stage, progress.Round)
	if len(progress.Open) > 0 {
		out.OpenRounds = &progress.Open
	}
	if host != d.ID {
		out.MergedInto = wire.Opt(string(host))
	}
	if merged := programme.Merged(v.State, d.ID); len(merged) > 0 {
		ids := []string{}
		for _, id := range merged {
			ids = append(ids, string(id))
		}
		out.Merged = &ids
	}
	out.SureRuns = v.sureRuns(d.ID)
	if winners := programme.Winners(v.State, d.ID); len(winners) > 0 {
		racers := []gen.Racer{}
		for _, id := range winners {
			racers = append(racers, v.Racer(id))
		}
		out.Winners = &racers
	}
	return out
}
