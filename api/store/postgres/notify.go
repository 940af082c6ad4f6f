package postgres

import (
	"context"
	"sync"
	"time"

	"github.com/jackc/pgx/v5"
	"github.com/jackc/pgx/v5/pgxpool"

	"benchmeet/api/store"
)

// channel is the name under which processes tell each other of writes.
const channel = "benchmeet"

// asyncCommit has the transaction that it stands in wait for no sync when it commits.
const asyncCommit = `SELECT set_config('synchronous_commit', 'off', true)`

// notifier tells the other processes which streams were written to.
//
// It does so after the commit and not in the same transaction: PostgreSQL
// commits transactions that hold a NOTIFY one at a time, sync included, in the
// whole server, so the streams of all clubs would wait for each other. What it
// costs is that a process that dies between the two leaves a write untold;
// listeners look now and then by themselves, as package store asks of them.
type notifier struct {
	pool   *pgxpool.Pool
	wake   chan struct{} // has room for one
	guard  sync.Mutex
	queued map[string]bool
}

func newNotifier(pool *pgxpool.Pool) *notifier {
	return &notifier{pool: pool, wake: make(chan struct{}, 1), queued: make(map[string]bool)}
}

// tell queues a stream. It never waits.
func (n *notifier) tell(s store.Stream) {
	n.guard.Lock()
	n.queued[s.String()] = true
	n.guard.Unlock()
	select {
	case n.wake <- struct{}{}:
	default: // it will be looked at anyway
	}
}

// take empties the queue.
func (n *notifier) take() []string {
	n.guard.Lock()
	defer n.guard.Unlock()
	var names []string
	for name := range n.queued {
		names = append(names, name)
	}
	clear(n.queued)
	return names
}

// run sends until ctx is done, and then what is still queued.
func (n *notifier) run(ctx context.Context) {
	for {
		select {
		case <-n.wake:
			n.send()
		case <-ctx.Done():
			n.send()
			return
		}
	}
}

// send tells of all queued streams at once, and waits for no sync: notices outlive no
// crash in any case. Those that cannot be sent are lost: the database is away then, and the
// listeners with it.
func (n *notifier) send() {
	names := n.take()
	if len(names) == 0 {
		return
	}
	ctx, stop := context.WithTimeout(context.Background(), 5*time.Second)
	defer stop()
	var all pgx.Batch
	all.Queue(asyncCommit)
	all.Queue(`
		SELECT pg_notify($1, name)
		FROM unnest($2::text[]) AS told (name)`,
		channel, names)
	_ = n.pool.SendBatch(ctx, &all).Close()
}
