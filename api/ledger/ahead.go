package ledger

import (
	"context"

	"benchmeet/api/store"
	"benchmeet/domain/journal"
)

// How many records go from hand to hand at once, and how many such bundles may
// wait: some megabytes, whatever the length of the log.
const (
	bundleSize  = 512
	mostBundles = 4
)

// readAhead calls each with every record after seq, as Logs.Read does, but reads
// the next records meanwhile: a long log is then there in the time of the slower
// half and not of both. An error of each ends the reading and is returned.
func readAhead(ctx context.Context, logs store.Logs, name store.Stream, after int64, each func(journal.Record) error) error {
	ctx, stop := context.WithCancel(ctx)
	bundles := make(chan []journal.Record, mostBundles)
	var failed error
	go func() {
		defer close(bundles)
		failed = fetch(ctx, logs, name, after, bundles)
	}()
	defer func() {
		stop()
		for range bundles { // until the reader has seen that nobody wants more
		}
	}()
	for bundle := range bundles {
		for _, r := range bundle {
			if err := each(r); err != nil {
				return err
			}
		}
	}
	return failed
}

// fetch reads records into bundles.
func fetch(ctx context.Context, logs store.Logs, name store.Stream, after int64, bundles chan<- []journal.Record) (err error) {
	defer fault(&err)
	send := func(bundle []journal.Record) error {
		select {
		case bundles <- bundle:
			return nil
		case <-ctx.Done():
			return ctx.Err()
		}
	}
	var bundle []journal.Record
	err = logs.Read(ctx, name, after, func(r journal.Record) error {
		if bundle == nil {
			bundle = make([]journal.Record, 0, bundleSize)
		}
		if bundle = append(bundle, r); len(bundle) < bundleSize {
			return nil
		}
		full := bundle
		bundle = nil
		return send(full)
	})
	if len(bundle) > 0 { // also before an error: what was read stands in front of it
		if sent := send(bundle); sent != nil {
			return sent
		}
	}
	return err
}
