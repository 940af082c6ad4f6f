package postgres

import (
	"context"
	"fmt"
	"strings"
	"time"

	"github.com/jackc/pgx/v5"

	"benchmeet/api/store"
)

// Waits between attempts to connect again.
const (
	firstWait = 100 * time.Millisecond
	longWait  = 5 * time.Second
)

// Changes implements store.Logs. It listens on a connection of its own and
// connects again when that breaks; notices of the time between are lost. This
// process's own writes are told too. A listener that is slow gets one notice
// for many writes to the same stream.
func (s *Store) Changes(ctx context.Context) (<-chan store.Stream, error) {
	conn, err := s.listen(ctx)
	if err != nil {
		return nil, fmt.Errorf("postgres: listen: %w", plain(err))
	}
	notices := make(chan store.Stream)
	heard := make(chan store.Stream)
	ctx, stop := context.WithCancel(ctx)
	unhook := context.AfterFunc(s.closing, stop)
	s.background.Go(func() {
		defer close(heard)
		s.hear(ctx, conn, heard)
	})
	s.background.Go(func() {
		defer close(notices)
		defer unhook()
		defer stop()
		passOn(ctx, heard, notices)
	})
	return notices, nil
}

// listen opens a connection that is told of writes.
func (s *Store) listen(ctx context.Context) (*pgx.Conn, error) {
	if s.closing.Err() != nil {
		return nil, errClosed
	}
	conn, err := pgx.ConnectConfig(ctx, s.pool.Config().ConnConfig)
	if err != nil {
		return nil, err
	}
	if _, err := conn.Exec(ctx, `LISTEN `+channel); err != nil {
		closeConn(conn)
		return nil, err
	}
	return conn, nil
}

// hear sends what it is told until ctx is done.
func (s *Store) hear(ctx context.Context, conn *pgx.Conn, heard chan<- store.Stream) {
	wait := firstWait
	for {
		if conn != nil {
			wait = firstWait
			receive(ctx, conn, heard)
			closeConn(conn)
		}
		select {
		case <-ctx.Done():
			return
		case <-time.After(wait):
		}
		wait = min(2*wait, longWait)
		conn, _ = s.listen(ctx) // it is tried again
	}
}

// receive sends what comes on one connection until it breaks. A silence is broken by a
// question: who only listens is never told that nobody is there any more.
func receive(ctx context.Context, conn *pgx.Conn, heard chan<- store.Stream) {
	for {
		waiting, stop := context.WithTimeout(ctx, silence)
		notice, err := conn.WaitForNotification(waiting)
		stop()
		if err != nil && ctx.Err() == nil && waiting.Err() != nil && answers(ctx, conn) {
			continue
		}
		if err != nil {
			return
		}
		club, name, _ := strings.Cut(notice.Payload, "/")
		select {
		case heard <- store.Stream{Club: club, Name: name}:
		case <-ctx.Done():
			return
		}
	}
}

// answers says whether the database is still at the other end.
func answers(ctx context.Context, conn *pgx.Conn) bool {
	asking, stop := context.WithTimeout(ctx, answerWithin)
	defer stop()
	return conn.Ping(asking) == nil
}

// passOn hands notices to the listener in the order of their first coming. It
// always takes in, so that a slow listener does not fill the server's queue.
func passOn(ctx context.Context, heard <-chan store.Stream, notices chan<- store.Stream) {
	var queue []store.Stream
	queued := make(map[store.Stream]bool)
	for {
		var (
			out  chan<- store.Stream // nil, and never ready, while there is nothing
			next store.Stream
		)
		if len(queue) > 0 {
			out, next = notices, queue[0]
		}
		select {
		case <-ctx.Done():
			for range heard { // until hear has seen the end too
				continue
			}
			return
		case stream, open := <-heard:
			if !open {
				return
			}
			if !queued[stream] {
				queued[stream] = true
				queue = append(queue, stream)
			}
		case out <- next:
			queue = queue[1:]
			delete(queued, next)
		}
	}
}
