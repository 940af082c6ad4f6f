package rest

import (
	"context"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// packs checks battery packs and lends them.
type packs struct{ orders }

// CheckBattery takes what was measured of a pack.
func (s packs) CheckBattery(ctx context.Context, r gen.CheckBatteryRequestObject) (gen.CheckBatteryResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Pack}, wire.ReadBatteryCheck(r.Pack, *r.Body))
	return gen.CheckBattery200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// AddPacks brings packs of the club to the table.
func (s packs) AddPacks(ctx context.Context, r gen.AddPacksRequestObject) (gen.AddPacksResponseObject, error) {
	c := meet.AddPacks{}
	for _, id := range r.Body.Packs {
		c.Packs = append(c.Packs, day.PackID(id))
	}
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, c)
	return gen.AddPacks200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// IssuePack lends a pack.
func (s packs) IssuePack(ctx context.Context, r gen.IssuePackRequestObject) (gen.IssuePackResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Pack}, meet.IssuePack{
		Pack: day.PackID(r.Pack), Entry: day.EntryID(r.Body.Entry),
	})
	return gen.IssuePack200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// ReturnPack takes a lent pack back.
func (s packs) ReturnPack(ctx context.Context, r gen.ReturnPackRequestObject) (gen.ReturnPackResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Pack}, meet.ReturnPack{
		Pack: day.PackID(r.Pack), Hurt: wire.Deref(r.Body.Hurt),
	})
	return gen.ReturnPack200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// PutPackBack lets a pack that was put aside be measured again.
func (s packs) PutPackBack(ctx context.Context, r gen.PutPackBackRequestObject) (gen.PutPackBackResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey, thing: r.Pack}, meet.PutPackBack{
		Pack: day.PackID(r.Pack), Reason: day.Reason{Code: day.ReasonCode(r.Body.Reason.Code)},
	})
	return gen.PutPackBack200JSONResponse{ReceiptJSONResponse: receipt}, err
}

// DealPacks deals like packs to heats by lot.
func (s packs) DealPacks(ctx context.Context, r gen.DealPacksRequestObject) (gen.DealPacksResponseObject, error) {
	receipt, err := s.meetOrder(ctx, r.Meet, order{key: r.Params.IdempotencyKey}, wire.ReadDeal(*r.Body))
	return gen.DealPacks200JSONResponse{ReceiptJSONResponse: receipt}, err
}
