package rest

import (
	"bufio"
	"context"
	"fmt"
	"io"
	"runtime/debug"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/journal"
)

// logs writes logs out.
type logs struct {
	reads
	kept store.Logs
}

// GetLog writes the meet's log, one record a line. The event stands in the line
// with its stored bytes, so that anybody can follow the hash chain.
func (s logs) GetLog(ctx context.Context, r gen.GetLogRequestObject) (gen.GetLogResponseObject, error) {
	if _, err := s.meetView(ctx, r.Meet, nil); err != nil {
		return nil, err
	}
	from, to := io.Pipe()
	go func() {
		var err error
		defer func() {
			if what := recover(); what != nil { // nobody else outlives a fault in here
				err = fmt.Errorf("the log met a fault of the program: %v\n%s", what, debug.Stack())
			}
			to.CloseWithError(err)
		}()
		w := bufio.NewWriter(to)
		err = s.kept.Read(ctx, store.MeetStream(s.club(ctx), r.Meet), wire.OrElse(r.Params.After, 0), func(rec journal.Record) error {
			return journal.WriteLine(w, rec)
		})
		if err == nil {
			err = w.Flush()
		}
	}()
	return gen.GetLog200ApplicationxNdjsonResponse{Body: from}, nil
}
