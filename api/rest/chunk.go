package rest

import (
	"bytes"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net/http"

	"github.com/labstack/echo/v4"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/domain/day"
	"benchmeet/domain/trace"
)

// overChunks hands chunks to the strict decoder: the generated decoding accepts
// what is not in the contract.
type overChunks struct {
	gen.ServerInterface
	server *Server
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
	response, err := o.server.PostChunk(ctx, gen.PostChunkRequestObject{Bench: bench})
	if err != nil {
		return err
	}
	return response.VisitPostChunkResponse(c.Response())
}

// PostChunk takes a chunk of stamps in. It reads the body itself.
func (s *Server) PostChunk(ctx context.Context, r gen.PostChunkRequestObject) (gen.PostChunkResponseObject, error) {
	caller := Caller(ctx)
	if err := benchAllowed(caller, r.Bench); err != nil {
		return nil, err
	}
	chunk, err := DecodeChunk(r.Bench, bodyOf(ctx))
	if err != nil {
		return nil, bad(http.StatusBadRequest, "bad-chunk", "why", err)
	}
	kept, err := s.Intake.Take(ctx, s.club(ctx), caller.Actor, chunk)
	if errors.Is(err, store.ErrConflict) {
		return nil, bad(http.StatusConflict, "chunk-conflict", "number", chunk.Key.Number, "run", chunk.Key.Run)
	}
	if err != nil {
		return nil, err
	}
	return gen.PostChunk200JSONResponse{Boot: chunk.Key.Boot, Run: chunk.Key.Run, Number: chunk.Key.Number, Fresh: kept.Fresh, Recorded: kept.Recorded}, nil
}

// chunkBody is a chunk as it travels.
type chunkBody struct {
	Boot   *string       `json:"boot"`
	Run    *string       `json:"run"`
	Number *int          `json:"number"`
	Stamps *[]int64      `json:"stamps_us"`
	Last   *trace.Totals `json:"last"`
}

// DecodeChunk reads a chunk strictly: unknown fields, missing fields, numbers
// that are no integers, stamps that run backwards and totals that cannot be are
// refused with a sentence that names the field.
func DecodeChunk(bench string, body []byte) (trace.Chunk, error) {
	var in chunkBody
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(&in); err != nil {
		return trace.Chunk{}, decodingError(err)
	}
	if _, err := d.Token(); !errors.Is(err, io.EOF) {
		return trace.Chunk{}, errors.New("there is more after the end of the object; send one chunk a request")
	}
	switch {
	case in.Boot == nil:
		return trace.Chunk{}, errors.New("boot is missing")
	case in.Run == nil:
		return trace.Chunk{}, errors.New("run is missing")
	case in.Number == nil:
		return trace.Chunk{}, errors.New("number is missing")
	case in.Stamps == nil:
		return trace.Chunk{}, errors.New("stamps_us is missing")
	}
	c := trace.Chunk{
		Key:    trace.Key{Bench: bench, Boot: *in.Boot, Run: *in.Run, Number: *in.Number},
		Stamps: *in.Stamps, Last: in.Last,
	}
	if err := day.RunID(c.Key.Run).Check(); err != nil {
		return trace.Chunk{}, err
	}
	if in.Last != nil {
		if err := checkTotals(*in.Last); err != nil {
			return trace.Chunk{}, err
		}
	}
	return c, c.Check()
}

func checkTotals(t trace.Totals) error {
	if t.Meet != "" {
		if err := day.CheckID("meet", t.Meet); err != nil {
			return err
		}
	}
	if len(t.Car) > 4 {
		return errors.New("last.car is a car number of one to four digits")
	}
	for _, r := range t.Car {
		if r < '0' || r > '9' {
			return errors.New("last.car is a car number of one to four digits")
		}
	}
	return nil
}

func decodingError(err error) error {
	var kind *json.UnmarshalTypeError
	if errors.As(err, &kind) {
		return fmt.Errorf("%s cannot be a %s; numbers are whole", kind.Field, kind.Value)
	}
	return fmt.Errorf("not a chunk: %w", err)
}
