package rest

import (
	"context"
	"errors"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/ledger"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// meets plans meets, holds their days and shows them.
type meets struct {
	orders
	compare comparing
	now     func() time.Time
	trouble *trouble
	intake  *intake.Intake
	jumped  func() (at time.Time, jumped bool)
}

// ListMeets lists the meets of the club by their summaries; none is folded for it
// that did not change since somebody asked. One that is damaged is left out: the
// others must not wait for it, and its own page says what is wrong.
func (s meets) ListMeets(ctx context.Context, _ gen.ListMeetsRequestObject) (gen.ListMeetsResponseObject, error) {
	streams, err := s.meets.Streams(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	out := gen.ListMeets200JSONResponse{Meets: []gen.MeetSummary{}}
	for _, head := range streams {
		id, isMeet := head.Stream.Meet()
		if !isMeet {
			continue
		}
		summary, err := s.meets.Summary(ctx, head)
		if errors.Is(err, ledger.ErrDamaged) {
			continue
		}
		if err != nil {
			return nil, err
		}
		if summary.PutAway && !seesAway(ctx) {
			continue
		}
		out.Meets = append(out.Meets, view.Summary(id, summary))
	}
	return out, nil
}

// PlanMeet plans a meet.
func (s meets) PlanMeet(ctx context.Context, r gen.PlanMeetRequestObject) (gen.PlanMeetResponseObject, error) {
	c := meet.PlanMeet{Plan: wire.ReadPlan(r.Body.Plan), Rules: day.UsualRules()}
	if r.Body.Rules != nil {
		c.Rules = wire.ReadRules(*r.Body.Rules)
	}
	receipt, err := s.meetOrder(ctx, r.Body.Id, order{key: r.Params.IdempotencyKey, thing: r.Body.Id}, c)
	return gen.PlanMeet201JSONResponse{ReceiptJSONResponse: receipt}, err
}

// PutPlan changes the plan.
func (s meets) PutPlan(ctx context.Context, r gen.PutPlanRequestObject) (gen.PutPlanResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.ChangePlan{
		Plan: wire.ReadPlan(*r.Body), Edition: wire.Deref(r.Params.Edition),
	})
	err = s.meetSavedSince(ctx, err, r.Meet, "MeetPlanned", "PlanChanged")
	return gen.PutPlan200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// GetMeet shows a meet as a whole.
func (s meets) GetMeet(ctx context.Context, r gen.GetMeetRequestObject) (gen.GetMeetResponseObject, error) {
	return s.show(ctx, r.Meet, r.Params.AtLeast, "meet")
}

// PutRules changes the rules before the first call.
func (s meets) PutRules(ctx context.Context, r gen.PutRulesRequestObject) (gen.PutRulesResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, meet.ChangeRules{
		Rules: wire.ReadRules(*r.Body), Edition: wire.Deref(r.Params.Edition),
	})
	err = s.meetSavedSince(ctx, err, r.Meet, "MeetPlanned", "RulesChanged")
	return gen.PutRules200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// PauseMeet stops the day.
func (s meets) PauseMeet(ctx context.Context, r gen.PauseMeetRequestObject) (gen.PauseMeetResponseObject, error) {
	o := order{key: r.Params.IdempotencyKey}
	receipt, err := s.meetOrder(ctx, r.Meet, o, meet.Pause{Reason: day.Reason{Code: day.ReasonCode(r.Body.Reason.Code)}})
	return gen.PauseMeet200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ResumeMeet goes on with the day.
func (s meets) ResumeMeet(ctx context.Context, r gen.ResumeMeetRequestObject) (gen.ResumeMeetResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadResume(r.Body))
	return gen.ResumeMeet200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// GetBoard shows the call board.
func (s meets) GetBoard(ctx context.Context, r gen.GetBoardRequestObject) (gen.GetBoardResponseObject, error) {
	return s.show(ctx, r.Meet, r.Params.AtLeast, "board")
}

// clockJumped is the kind of what is to be looked at where the server's clock jumped:
// ahead too, where no event is of a later time yet.
const clockJumped = "clock-jumped"

// ListDecisions lists what needs a decision now.
func (s meets) ListDecisions(ctx context.Context, r gen.ListDecisionsRequestObject) (gen.ListDecisionsResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	known := board.Compared{}
	if _, report, err := s.compare.benches(ctx, v); err == nil {
		known = report.Known() // without it the advice rests on the pulses alone
	}
	known.Incomplete = incomplete(s.intake.Incomplete(s.club(ctx)))
	list := v.Decisions(s.now().UnixMicro(), known)
	if s.jumped != nil {
		if at, jumped := s.jumped(); jumped {
			list.Decisions = append([]gen.Decision{{Kind: clockJumped, Since: &at}}, list.Decisions...)
		}
	}
	if code, there := s.trouble.now(); there { // before all else: nothing that is decided could be kept
		list.Decisions = append([]gen.Decision{{Kind: string(code)}}, list.Decisions...)
	}
	return gen.ListDecisions200JSONResponse(list), nil
}

// incomplete is when the last chunk of each run was kept that lacks others.
func incomplete(runs []intake.Lacking) map[day.RunID]int64 {
	out := map[day.RunID]int64{}
	for _, r := range runs {
		out[day.RunID(r.Run)] = r.Since.UnixMicro()
	}
	return out
}
