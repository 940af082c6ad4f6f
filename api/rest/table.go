package rest

import (
	"context"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// tables is the inspector's table.
type tables struct {
	orders
	now func() time.Time
}

// GetInspectorTable shows how every car and every pack stands.
func (s tables) GetInspectorTable(ctx context.Context, r gen.GetInspectorTableRequestObject) (gen.GetInspectorTableResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.GetInspectorTable200JSONResponse(v.InspectorTable(s.now().UnixMicro())), nil
}

// GetUsualTable proposes what a class asks for.
func (s tables) GetUsualTable(_ context.Context, r gen.GetUsualTableRequestObject) (gen.GetUsualTableResponseObject, error) {
	cells := 2
	if r.Params.Cells != nil {
		cells = *r.Params.Cells
	}
	var windows battery.Windows
	for _, c := range battery.Chemistries() {
		windows = append(windows, battery.FreshWindow(c, cells))
	}
	return gen.GetUsualTable200JSONResponse{
		Windows: wire.ShowWindows(windows), Checklist: wire.ShowChecklist(day.CarClass{MassMaxG: wire.Deref(r.Params.MassMaxG)}.UsualChecklist()),
	}, nil
}

// InspectCar takes what an inspector found.
func (s tables) InspectCar(ctx context.Context, r gen.InspectCarRequestObject) (gen.InspectCarResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Entry}, wire.ReadInspection(r.Entry, *r.Body))
	return gen.InspectCar200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// LapseInspection says that a car was changed since it passed.
func (s tables) LapseInspection(ctx context.Context, r gen.LapseInspectionRequestObject) (gen.LapseInspectionResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Entry}, meet.LapseInspection{
		Entry: day.EntryID(r.Entry), Reason: day.Reason{Code: day.ReasonCode(r.Body.Reason.Code)},
	})
	return gen.LapseInspection200JSONResponse{ReceiptJSONResponse: receipt}, err
}
