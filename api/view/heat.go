package view

import (
	"cmp"
	"slices"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// Heat is one heat with its lanes.
func (v MeetView) Heat(id day.HeatID) gen.Heat {
	h := v.State.Heats[id]
	d := v.State.Divisions[h.Division]
	out := gen.Heat{
		Id: string(h.ID), Division: string(h.Division), Stage: h.Stage, Round: h.Round, Number: h.Number,
		Group: wire.Opt(h.Group), Phase: wire.Word[gen.HeatPhase](h.Phase), ThirdPlace: wire.Opt(h.Third), Leg: wire.Opt(h.Leg),
		Purpose: wire.OptWord[gen.HeatPurpose](programme.Purpose(v.State, h)), Lanes: []gen.Lane{},
		RaceS:  wire.Opt(wire.Seconds(d.Stages[h.Stage-1].RaceUS)),
		Called: wire.OptInstant(h.CalledUS), Deadline: wire.OptInstant(h.DeadlineUS), Started: wire.OptInstant(h.StartedUS),
		Posted: wire.OptInstant(h.PostedUS), ProtestUntil: wire.OptInstant(h.ProtestUntilUS),
	}
	out.Part, out.RoundsLeft, out.PartRound = v.part(h.Division, h.Stage, h.Round)
	places := programme.Places(v.State, h)
	for _, l := range h.Lanes {
		out.Lanes = append(out.Lanes, v.lane(h, l, places[l.Entry]))
	}
	return out
}

func (v MeetView) lane(h day.Heat, l day.Lane, place int) gen.Lane {
	out := gen.Lane{
		Racer: v.Racer(l.Entry), Bench: wire.Opt(string(l.Bench)), BenchNumber: wire.Opt(v.State.Benches[l.Bench].Number),
		State: wire.Word[gen.LaneState](l.State), Status: wire.OptWord[gen.LaneStatus](l.Status),
		Run: wire.Opt(string(l.Counts)), Armed: wire.Opt(string(l.Armed)), PenaltyM: wire.Opt(wire.Metres(l.PenaltyUM)),
		Place: wire.Opt(place), LetRace: wire.Opt(l.Allowed),
		Corrections: wire.ShowCorrections(programme.LaneCorrections(v.State, h.ID, l.Entry)),
	}
	if l.State == day.LaneCalled || l.State == day.LaneReady {
		if out.BenchOut = wire.Opt(v.State.Benches[l.Bench].OutOfService); out.BenchOut != nil {
			out.State = gen.LaneStateCalled // nobody is ready where nothing can start
		}
	}
	if pack := cmp.Or(l.Pack, l.Dealt); pack != "" {
		out.Pack = wire.Opt(string(pack))
	}
	if i := slices.IndexFunc(h.Lanes, func(of day.Lane) bool { return of.Entry == l.Entry }); l.State == day.LaneWaiting {
		out.PlannedBench = wire.Opt(v.State.Benches[programme.PlannedBench(v.State, h, i)].Number)
	}
	if r, ran := v.State.Runs[l.Decider]; ran {
		distance := wire.Metres(v.State.Value(r).Corrected.Corrected)
		out.DeciderM = &distance
	}
	if asked, open := board.AskOpen(v.State, h, l); open {
		out.RerunAsked = wire.Opt(string(asked.Reason.Code))
	}
	if r, ran := v.State.Runs[l.Counts]; ran {
		value := v.State.Value(r)
		distance := wire.Metres(max(0, value.Corrected.Corrected-l.PenaltyUM))
		out.DistanceM, out.UDistanceM = &distance, wire.Opt(wire.Metres(value.UUM))
		out.DistanceLowM, out.DistanceHighM = wire.ShowEnd(value.LowUM, l.PenaltyUM), wire.ShowEnd(value.HighUM, l.PenaltyUM)
		if value.Set > 0 {
			out.AsReadM, out.Factor = wire.Opt(wire.Metres(max(0, value.AsRead-l.PenaltyUM))), wire.Opt(wire.PerMillion(value.Factor.FactorPPM))
		}
		out.Laps, out.MaxSpeedMps = &r.Figures.Laps, wire.Opt(wire.Metres(r.Figures.MaxUMPS))
		out.Source = wire.OptWord[gen.LaneSource](r.Source)
	}
	return out
}

func (v MeetView) heats(ids []day.HeatID) []gen.Heat {
	out := []gen.Heat{}
	for _, id := range ids {
		out = append(out, v.Heat(id))
	}
	return out
}

// Heats are all heats.
func (v MeetView) Heats() gen.HeatList {
	out := gen.HeatList{Seq: v.Head.Seq, Heats: []gen.Heat{}}
	for _, h := range v.State.SortedHeats() {
		out.Heats = append(out.Heats, v.Heat(h.ID))
	}
	return out
}

// mostPosted is how many posted heats a call board shows: the hall wants the
// newest.
const mostPosted = 12

// Board is the call board.
func (v MeetView) Board() gen.Board {
	out, b := v.Called()
	out.Racing, out.Called, out.Next, out.Posted = v.heats(b.Racing), v.heats(b.Called), v.heats(b.Next), v.heats(b.Posted)
	return out
}

// Called is the call board without its heats, and what stands on it.
func (v MeetView) Called() (gen.Board, board.CallBoard) {
	b := board.CallBoardOf(v.State)
	posted := len(b.Posted)
	if len(b.Posted) > mostPosted {
		b.Posted = b.Posted[:mostPosted]
	}
	return gen.Board{
		Seq: v.Head.Seq, Paused: v.State.Paused, PausedBecause: wire.Opt(string(v.State.PausedBecause)),
		PausedSince: wire.OptInstant(v.State.PausedUS), PostedTotal: wire.Opt(posted), Byes: byesOf(v),
	}, b
}

func byesOf(v MeetView) *[]gen.BoardByes {
	var out []gen.BoardByes
	for _, b := range board.Byes(v.State) {
		of := gen.BoardByes{Division: string(b.Division), Stage: b.Stage, Round: b.Round, Racers: []gen.Racer{}}
		of.Part, of.RoundsLeft, of.PartRound = v.part(b.Division, b.Stage, b.Round)
		for _, id := range b.Entries {
			of.Racers = append(of.Racers, v.Racer(id))
		}
		out = append(out, of)
	}
	if len(out) == 0 {
		return nil
	}
	return &out
}
