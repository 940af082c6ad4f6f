package rest

import (
	"context"
	"strconv"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/view"
	"benchmeet/domain/club"
	"benchmeet/domain/refusal"
	"benchmeet/domain/workshop"
)

// lessons show what a practice session came to.
type lessons struct {
	reads
	now func() time.Time
}

// GetSessionFigures shows a session in numbers.
func (s lessons) GetSessionFigures(ctx context.Context, r gen.GetSessionFiguresRequestObject) (gen.GetSessionFiguresResponseObject, error) {
	state, one, err := s.session(ctx, &r.Session)
	if err != nil {
		return nil, err
	}
	out, err := view.SessionFigures(state, *one, s.now().UnixMicro())
	return gen.GetSessionFigures200JSONResponse(out), err
}

// GetPracticeClass shows the plot of a class.
func (s lessons) GetPracticeClass(ctx context.Context, r gen.GetPracticeClassRequestObject) (gen.GetPracticeClassResponseObject, error) {
	state, one, err := s.session(ctx, r.Params.Session)
	if err != nil {
		return nil, err
	}
	return gen.GetPracticeClass200JSONResponse(view.PracticeClass(state, one)), nil
}

// GetPracticeClassTable gives the plot of a class out as a table.
func (s lessons) GetPracticeClassTable(
	ctx context.Context, r gen.GetPracticeClassTableRequestObject,
) (gen.GetPracticeClassTableResponseObject, error) {
	state, one, err := s.session(ctx, r.Params.Session)
	if err != nil {
		return nil, err
	}
	return gen.GetPracticeClassTable200TextcsvResponse{SheetTextcsvResponse: sheet("class", view.ClassSheet(state, one))}, nil
}

// GetCarLifeTable gives the practice runs of a car out as a table.
func (s lessons) GetCarLifeTable(ctx context.Context, r gen.GetCarLifeTableRequestObject) (gen.GetCarLifeTableResponseObject, error) {
	state, car, err := s.numbered(ctx, r.Number)
	if err != nil {
		return nil, err
	}
	name := "car-" + strconv.Itoa(car.Number)
	return gen.GetCarLifeTable200TextcsvResponse{SheetTextcsvResponse: sheet(name, view.LifeSheet(state, car))}, nil
}

// session is the club with a session of it, or with none where none is named.
func (s lessons) session(ctx context.Context, id *string) (*club.State, *workshop.Session, error) {
	state, err := s.clubState(ctx)
	if err != nil || id == nil {
		return state, nil, err
	}
	one, there := state.Session(*id)
	if !there {
		return nil, nil, refusal.New("no-practice", "session", *id)
	}
	return state, &one, nil
}
