package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/refusal"
)

// ShowRuling shows a ruling with its free text ("" where it was erased) and whom it
// is about.
func ShowRuling(r day.Ruling, text string, racer *gen.Racer) gen.Ruling {
	return gen.Ruling{
		Number: r.Number, Kind: r.Kind, By: r.By, At: Instant(r.AtUS), Reason: string(r.Reason.Code),
		Text: Opt(text), TextId: textID(text, r.Reason), Heat: Opt(string(r.Heat)), Racer: racer,
		Run: Opt(string(r.Run)), Division: Opt(string(r.Div)), Correction: Opt(r.Correction),
		Status: Opt(string(r.Status)), PenaltyM: Opt(Metres(r.PenaltyUM)), Factors: Opt(r.Factors),
		WasM: Opt(Metres(r.WasUM)), IsM: showIs(r),
	}
}

// showIs is a corrected count, which may be 0; nil where none was corrected.
func showIs(r day.Ruling) *float64 {
	if r.WasUM == 0 && r.IsUM == 0 {
		return nil
	}
	is := Metres(r.IsUM)
	return &is
}

// textID names a text that is there, so that it can be removed.
func textID(text string, r day.Reason) *string {
	if text == "" {
		return nil
	}
	return Opt(r.Text)
}

// ReadRuling reads the command of a ruling; the fields that a kind needs must be
// there, or it is a refusal. sure says that somebody stands by a number that is far from
// what is usual.
func ReadRuling(b gen.RulingBody, why day.Reason, sure bool) (meet.Command, error) {
	heat, entry, other := day.HeatID(Deref(b.Heat)), day.EntryID(Deref(b.Entry)), day.EntryID(Deref(b.Other))
	run := day.RunID(Deref(b.Run))
	status := func(st day.LaneStatus) needed {
		return needed{meet.RuleStatus{Heat: heat, Entry: entry, Status: st, Reason: why}, []string{"heat", "entry"}}
	}
	kinds := map[gen.RulingBodyKind]needed{
		gen.RulingBodyKindGrantRerun: {
			meet.GrantRerun{Heat: heat, Entry: entry, Counts: day.RerunCounts(Deref(b.Counts)), Reason: why}, []string{"heat", "entry", "counts"},
		},
		gen.RulingBodyKindLetStand:       {meet.LetRunStand{Heat: heat, Entry: entry, Reason: why}, []string{"heat", "entry"}},
		gen.RulingBodyKindTurnDownRerun:  {meet.TurnDownRerun{Heat: heat, Entry: entry, Reason: why}, []string{"heat", "entry"}},
		gen.RulingBodyKindAcceptRun:      {meet.AcceptRun{Run: run, Heat: heat, Entry: entry, Reason: why}, []string{"run", "heat", "entry"}},
		gen.RulingBodyKindSetAside:       {meet.SetRunAside{Run: run, Entry: entry, Reason: why}, []string{"run"}},
		gen.RulingBodyKindReassign:       {meet.ReassignRun{Run: run, Heat: heat, Entry: entry, Reason: why}, []string{"run", "heat", "entry"}},
		gen.RulingBodyKindSwap:           {meet.SwapLanes{Heat: heat, A: entry, B: other, Reason: why}, []string{"heat", "entry", "other"}},
		gen.RulingBodyKindVoid:           {meet.VoidHeat{Heat: heat, Reason: why}, []string{"heat"}},
		gen.RulingBodyKindDidNotStart:    status(day.StatusDidNotStart),
		gen.RulingBodyKindDidNotFinish:   status(day.StatusDidNotFinish),
		gen.RulingBodyKindDisqualifyHeat: status(day.StatusDisqualified),
		gen.RulingBodyKindLift:           status(day.StatusNone),
		gen.RulingBodyKindDisqualify:     {meet.Disqualify{Entry: entry, Reason: why}, []string{"entry"}},
		gen.RulingBodyKindWithdraw:       {meet.Withdraw{Entry: entry, Reason: why}, []string{"entry"}},
		gen.RulingBodyKindReinstate:      {meet.Reinstate{Entry: entry, Reason: why}, []string{"entry"}},
		gen.RulingBodyKindLetRace:        {meet.LetRace{Heat: heat, Entry: entry, Reason: why}, []string{"heat", "entry"}},
		gen.RulingBodyKindPenalise: {
			meet.Penalise{Heat: heat, Entry: entry, UM: Micrometres(Deref(b.PenaltyM)), Reason: why}, []string{"heat", "entry", "penalty_m"},
		},
		gen.RulingBodyKindCorrectHandCount: {
			meet.CorrectHandCount{
				Run: run, DistanceUM: Micrometres(Deref(b.DistanceM)), UDistanceUM: Micrometres(Deref(b.UDistanceM)), Reason: why, Sure: sure,
			}, []string{"run", "distance_m", "u_distance_m"},
		},
		gen.RulingBodyKindSetClock: {meet.SetClock{Reason: why}, nil},
		gen.RulingBodyKindDrawRest: {meet.DrawRest{Heat: heat, Reason: why}, []string{"heat"}},
	}
	given := map[string]bool{
		"heat": b.Heat != nil, "entry": b.Entry != nil, "other": b.Other != nil, "run": b.Run != nil,
		"counts": b.Counts != nil, "penalty_m": b.PenaltyM != nil,
		"distance_m": b.DistanceM != nil, "u_distance_m": b.UDistanceM != nil,
	}
	n := kinds[b.Kind]
	for _, field := range n.fields {
		if !given[field] {
			return nil, refusal.New("ruling-field", "kind", b.Kind, "field", field)
		}
	}
	return n.command, nil
}

// needed is a command with the fields that it needs.
type needed struct {
	command meet.Command
	fields  []string
}
