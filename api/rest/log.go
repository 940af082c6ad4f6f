package rest

import (
	"bufio"
	"context"
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
			return journal.WriteLine(w, rec)
		})
		if err == nil {
			err = w.Flush()
		}
		to.CloseWithError(err)
	}()
	return gen.GetLog200ApplicationxNdjsonResponse{Body: from}, nil
}
