package rest

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"

	"github.com/labstack/echo/v4"

	"benchmeet/api/gen"
	"benchmeet/api/intake"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// chunks takes stamps in.
type chunks struct {
	reads
	intake *intake.Intake
	heard  *boxesHeard
}

// overChunks hands chunks to the strict decoder: the generated decoding accepts
// what is not in the contract.
type overChunks struct {
	gen.ServerInterface
	chunks chunks
}

// receivedHeader names the SHA-256 of the body that is answered. A counter box's
// node lets go of a chunk only on an answer to just the bytes that it sent.
const receivedHeader = "Benchmeet-Received"

// PostChunk takes a chunk of stamps in.
func (o overChunks) PostChunk(c echo.Context, bench gen.BenchPath) error {
	ctx := c.Request().Context()
	if err := allowed(Caller(ctx), "PostChunk"); err != nil {
		return err
	}
	sum := sha256.Sum256(bodyOf(ctx))
	c.Response().Header().Set(receivedHeader, hex.EncodeToString(sum[:]))
	response, err := o.chunks.PostChunk(ctx, gen.PostChunkRequestObject{Bench: bench})
	if err != nil {
		return err
	}
	return response.VisitPostChunkResponse(c.Response())
}

// PostChunk takes a chunk of stamps in. It reads the body itself.
func (s chunks) PostChunk(ctx context.Context, r gen.PostChunkRequestObject) (gen.PostChunkResponseObject, error) {
	caller := Caller(ctx)
	if err := benchAllowed(caller, r.Bench); err != nil {
		return nil, err
	}
	s.heard.sent(caller, r.Bench)
	chunk, err := wire.ReadChunk(r.Bench, bodyOf(ctx))
	if err != nil {
		return nil, refusal.New("bad-chunk", "why", err)
	}
	kept, err := s.intake.Take(ctx, s.club(ctx), caller.Actor, chunk)
	if errors.Is(err, store.ErrConflict) {
		return nil, refusal.New("chunk-conflict", "number", chunk.Key.Number, "run", chunk.Key.Run)
	}
	if err != nil {
		return nil, err
	}
	return gen.PostChunk200JSONResponse{
		Boot: chunk.Key.Boot, Run: chunk.Key.Run, Number: chunk.Key.Number, Fresh: kept.Fresh, Recorded: kept.Recorded,
	}, nil
}
