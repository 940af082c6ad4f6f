package rest

import (
	"bufio"
	"context"
	"encoding/json"
	"io"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// GetLog writes the meet's log, one record a line. The event stands in the line
// with its stored bytes, so that anybody can follow the hash chain.
func (s *Server) GetLog(ctx context.Context, r gen.GetLogRequestObject) (gen.GetLogResponseObject, error) {
	if _, err := s.meetView(ctx, r.Meet, nil); err != nil {
		return nil, err
	}
	from, to := io.Pipe()
	go func() {
		w := bufio.NewWriter(to)
		err := s.Store.Read(ctx, store.MeetStream(s.club(ctx), r.Meet), orElse(r.Params.After, 0), func(rec journal.Record) error {
			return WriteRecord(w, rec)
		})
		if err == nil {
			err = w.Flush()
		}
		to.CloseWithError(err)
	}()
	return gen.GetLog200ApplicationxNdjsonResponse{Body: from}, nil
}

// WriteRecord writes a record as one line of JSON that holds its bytes as they
// are.
func WriteRecord(w io.Writer, r journal.Record) error {
	head, err := json.Marshal(struct {
		Seq  int64  `json:"seq"`
		Hash string `json:"hash"`
	}{r.Seq, r.Hash.String()})
	if err != nil {
		return err
	}
	// Not through the encoder: it would escape what the canonical form does not.
	text := append(head[:len(head)-1], `,"event":`...)
	text = append(text, r.Bytes...)
	_, err = w.Write(append(text, '}', '\n'))
	return err
}
