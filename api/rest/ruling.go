package rest

import (
	"context"
	"net/http"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// texts finds the free texts of the club.
func (s *Server) texts(ctx context.Context) (view.Texts, error) {
	all, err := s.Store.AllTexts(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	byID := make(map[string]string, len(all))
	for _, t := range all {
		byID[t.ID] = t.Text
	}
	return func(id string) string { return byID[id] }, nil
}

// ListRulings lists all rulings.
func (s *Server) ListRulings(ctx context.Context, r gen.ListRulingsRequestObject) (gen.ListRulingsResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	texts, err := s.texts(ctx)
	if err != nil {
		return nil, err
	}
	return gen.ListRulings200JSONResponse(v.Rulings(texts)), nil
}

// MakeRuling rules.
func (s *Server) MakeRuling(ctx context.Context, r gen.MakeRulingRequestObject) (gen.MakeRulingResponseObject, error) {
	b := r.Body
	o := order{key: r.Params.IdempotencyKey}
	why := reason(&o, b.Reason)
	c, err := ruling(*b, why)
	if err != nil {
		return nil, err
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.MakeRuling200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ruling turns a body into its command; the fields that a kind needs must be
// there.
func ruling(b gen.RulingBody, why day.Reason) (meet.Command, error) {
	heat, entry, other := day.HeatID(wire.Deref(b.Heat)), day.EntryID(wire.Deref(b.Entry)), day.EntryID(wire.Deref(b.Other))
	run := day.RunID(wire.Deref(b.Run))
	status := func(st day.LaneStatus) needed {
		return needed{meet.RuleStatus{Heat: heat, Entry: entry, Status: st, Reason: why}, []string{"heat", "entry"}}
	}
	kinds := map[gen.RulingBodyKind]needed{
		gen.RulingBodyKindGrantRerun:     {meet.GrantRerun{Heat: heat, Entry: entry, Counts: day.RerunCounts(wire.Deref(b.Counts)), Reason: why}, []string{"heat", "entry", "counts"}},
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
		gen.RulingBodyKindPenalise:       {meet.Penalise{Heat: heat, Entry: entry, UM: wire.Micrometres(wire.Deref(b.PenaltyM)), Reason: why}, []string{"heat", "entry", "penalty_m"}},
	}
	given := map[string]bool{
		"heat": b.Heat != nil, "entry": b.Entry != nil, "other": b.Other != nil, "run": b.Run != nil,
		"counts": b.Counts != nil, "penalty_m": b.PenaltyM != nil,
	}
	n := kinds[b.Kind]
	for _, field := range n.fields {
		if !given[field] {
			return nil, bad(http.StatusUnprocessableEntity, "ruling-field", "kind", b.Kind, "field", field)
		}
	}
	return n.command, nil
}

// needed is a command with the fields that it needs.
type needed struct {
	command meet.Command
	fields  []string
}

// ListProtests lists all protests.
func (s *Server) ListProtests(ctx context.Context, r gen.ListProtestsRequestObject) (gen.ListProtestsResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	texts, err := s.texts(ctx)
	if err != nil {
		return nil, err
	}
	return gen.ListProtests200JSONResponse(v.Protests(texts)), nil
}

// LodgeProtest records a protest.
func (s *Server) LodgeProtest(ctx context.Context, r gen.LodgeProtestRequestObject) (gen.LodgeProtestResponseObject, error) {
	b := r.Body
	o := order{key: r.Params.IdempotencyKey, thing: wire.OrElse(b.Id, madeID("protest-", r.Params.IdempotencyKey))}
	c := meet.LodgeProtest{
		ID: day.ProtestID(o.thing), Heat: day.HeatID(b.Heat), Entry: day.EntryID(wire.Deref(b.Entry)),
		Reason: reason(&o, b.Reason),
	}
	if b.Lodged != nil {
		c.ClaimedUS = b.Lodged.UnixMicro()
	}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.LodgeProtest201JSONResponse{ReceiptJSONResponse: receipt}, err
}

// RuleProtest decides a protest.
func (s *Server) RuleProtest(ctx context.Context, r gen.RuleProtestRequestObject) (gen.RuleProtestResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	c := meet.RuleProtest{ID: day.ProtestID(r.Protest), Upheld: r.Body.Upheld, Reason: reason(&o, r.Body.Reason)}
	receipt, err := s.meetOrder(ctx, r.Meet, o, c)
	return gen.RuleProtest200JSONResponse{ReceiptJSONResponse: receipt}, err
}
