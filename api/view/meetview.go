package view

import (
	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/wire"
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
	s := v.State
	out := gen.Meet{
		Id: v.ID, Seq: v.Head.Seq, Head: v.Head.Hash.String(), Plan: plan(s.Plan), Rules: Rules(s.Rules),
		Divisions: []gen.Division{}, Benches: []gen.MeetBench{},
		Paused: s.Paused, PausedBecause: wire.Opt(string(s.PausedBecause)), Reasons: []string{},
	}
	for _, code := range day.ReasonCodes() {
		out.Reasons = append(out.Reasons, string(code))
	}
	for _, d := range s.SortedDivisions() {
		out.Divisions = append(out.Divisions, v.Division(d))
	}
	for _, b := range s.SortedBenches() {
		mm := float64(b.CircumferenceUM) / 1e3
		out.Benches = append(out.Benches, gen.MeetBench{
			Id: string(b.ID), Number: b.Number, CircumferenceMm: &mm,
			OutOfService: b.OutOfService, Reason: wire.Opt(b.OutReason),
		})
	}
	return out
}

// Summary is a meet in a list.
func Summary(id string, s ledger.Summary) gen.MeetSummary {
	return gen.MeetSummary{Id: id, Name: s.Name, Place: wire.Opt(s.Place), Date: s.Date, Seq: s.Seq}
}

func plan(p day.Plan) gen.Plan {
	return gen.Plan{
		Name: p.Name, Place: wire.Opt(p.Place), Date: p.Date, Opens: wire.Opt(p.Opens), Closes: wire.Opt(p.Closes),
		TimeZone: wire.Opt(p.TimeZone), AgeDate: wire.Opt(p.AgeDate),
	}
}

// Rules are the rules of a meet in the contract's units.
func Rules(r day.Rules) gen.Rules {
	out := gen.Rules{
		ProtestS: wire.Seconds(r.ProtestUS), CallS: wire.Seconds(r.CallUS), RerunsPerEntry: r.RerunsPerEntry, RunsAtLeast: wire.Opt(r.RunsAtLeast),
		Tie: wire.Word[gen.RulesTie](r.Tie), Close: wire.OptWord[gen.RulesClose](r.Close), DidNotFinish: wire.Word[gen.RulesDidNotFinish](r.DidNotFinish),
		Benches: wire.Word[gen.RulesBenches](r.Benches), Late: wire.Word[gen.RulesLate](r.Late),
		HandCounts:  wire.Word[gen.RulesHandCounts](r.HandCounts),
		BatteryGate: wire.OptWord[gen.GateRule](r.BatteryGate), InspectionGate: wire.OptWord[gen.GateRule](r.InspectionGate),
	}
	incidents := incidents(r.Incidents)
	out.Incidents = &incidents
	return out
}

func incidents(rules []day.IncidentRule) []gen.IncidentRule {
	out := []gen.IncidentRule{}
	for _, i := range rules {
		out = append(out, gen.IncidentRule{
			Incident:    wire.Word[gen.IncidentRuleIncident](i.Incident),
			Consequence: wire.Word[gen.IncidentRuleConsequence](i.Consequence),
		})
	}
	return out
}

// Division is a division with how far it is.
func (v MeetView) Division(d day.Division) gen.Division {
	host := programme.Host(v.State, d.ID) // of a division that races in another
	progress := programme.ProgressOf(v.State, host)
	out := gen.Division{
		Id: string(d.ID), Name: d.Name, AgeFrom: d.AgeFrom, AgeTo: d.AgeTo, Class: class(d.Class),
		Stages:        []gen.StageBody{},
		EntriesClosed: v.State.Programmes[host].EntriesClosed,
		Stage:         progress.Stage, Round: progress.Round,
		RoundsTotal: progress.Rounds, RoundClosed: progress.Closed,
		Published: len(v.State.Programmes[host].Published), Outdated: programme.Outdated(v.State, host),
		EndedEarly: wire.Opt(v.State.Programmes[host].EndedEarly),
	}
	out.Part, out.RoundsLeft = v.part(d.ID, progress.Stage, progress.Round)
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
	for _, st := range d.Stages {
		out.Stages = append(out.Stages, wire.ShowStage(st))
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

func class(c day.CarClass) gen.CarClass {
	out := gen.CarClass{
		Name: c.Name, LapM: wire.Metres(c.LapUM), WheelMm: wire.Opt(float64(c.WheelUM) / 1e3),
		Release: wire.Opt(c.Release), Cells: wire.Opt(c.Cells), MassMaxG: wire.Opt(c.MassMaxG),
		Battery: classBattery(c.Battery),
	}
	if len(c.Checklist) > 0 {
		list := Checklist(c.Checklist)
		out.Checklist = &list
	}
	if len(c.Incidents) > 0 {
		incidents := incidents(c.Incidents)
		out.Incidents = &incidents
	}
	return out
}
