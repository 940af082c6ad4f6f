package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// GetInspectorTable shows how every car and every pack stands.
func (s *Server) GetInspectorTable(ctx context.Context, r gen.GetInspectorTableRequestObject) (gen.GetInspectorTableResponseObject, error) {
	v, err := s.meetView(ctx, r.Meet, r.Params.AtLeast)
	if err != nil {
		return nil, err
	}
	return gen.GetInspectorTable200JSONResponse(v.InspectorTable(s.Now().UnixMicro())), nil
}

// GetUsualTable proposes what a class asks for.
func (s *Server) GetUsualTable(_ context.Context, r gen.GetUsualTableRequestObject) (gen.GetUsualTableResponseObject, error) {
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

// CheckBattery takes what was measured of a pack.
func (s *Server) CheckBattery(ctx context.Context, r gen.CheckBatteryRequestObject) (gen.CheckBatteryResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Pack}, wire.ReadBatteryCheck(r.Pack, *r.Body))
	return gen.CheckBattery200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// AddPacks brings packs of the club to the table.
func (s *Server) AddPacks(ctx context.Context, r gen.AddPacksRequestObject) (gen.AddPacksResponseObject, error) {
	c := meet.AddPacks{}
	for _, id := range r.Body.Packs {
		c.Packs = append(c.Packs, day.PackID(id))
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.AddPacks200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// IssuePack lends a pack.
func (s *Server) IssuePack(ctx context.Context, r gen.IssuePackRequestObject) (gen.IssuePackResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Pack}, meet.IssuePack{
		Pack: day.PackID(r.Pack), Entry: day.EntryID(r.Body.Entry),
	})
	return gen.IssuePack200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ReturnPack takes a lent pack back.
func (s *Server) ReturnPack(ctx context.Context, r gen.ReturnPackRequestObject) (gen.ReturnPackResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Pack}, meet.ReturnPack{
		Pack: day.PackID(r.Pack), Hurt: wire.Deref(r.Body.Hurt),
	})
	return gen.ReturnPack200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// PutPackBack lets a pack that was put aside be measured again.
func (s *Server) PutPackBack(ctx context.Context, r gen.PutPackBackRequestObject) (gen.PutPackBackResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Pack}, meet.PutPackBack{
		Pack: day.PackID(r.Pack), Reason: day.Reason{Code: day.ReasonCode(r.Body.Reason.Code)},
	})
	return gen.PutPackBack200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// DealPacks deals like packs to heats by lot.
func (s *Server) DealPacks(ctx context.Context, r gen.DealPacksRequestObject) (gen.DealPacksResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadDeal(*r.Body))
	return gen.DealPacks200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// InspectCar takes what an inspector found.
func (s *Server) InspectCar(ctx context.Context, r gen.InspectCarRequestObject) (gen.InspectCarResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Entry}, wire.ReadInspection(r.Entry, *r.Body))
	return gen.InspectCar200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// LapseInspection says that a car was changed since it passed.
func (s *Server) LapseInspection(ctx context.Context, r gen.LapseInspectionRequestObject) (gen.LapseInspectionResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Entry}, meet.LapseInspection{
		Entry: day.EntryID(r.Entry), Reason: day.Reason{Code: day.ReasonCode(r.Body.Reason.Code)},
	})
	return gen.LapseInspection200JSONResponse{ReceiptJSONResponse: receipt}, err
}
