// Package broker connects servers by a message broker that speaks NATS
// (https://docs.nats.io/reference/reference-protocols/nats-protocol), for the relay of the
// live feed. What it carries is lost where nobody takes it: whoever needs it asks again.
package broker

import (
	"context"
	"errors"
	"fmt"
	"log/slog"
	"time"

	"github.com/nats-io/nats.go"
)

// NATS is a connection to a broker. While the broker is away nothing comes and nothing is
// kept; the connection comes back by itself.
type NATS struct {
	conn *nats.Conn
	log  *slog.Logger
	turn chan struct{} // holds a place for each question that is being answered
}

const (
	againEvery   = time.Second
	pingEvery    = 5 * time.Second
	pings        = 2 // without an answer, and the connection is given up
	answerWithin = 3 * time.Second
	answering    = 16
	// mostWaiting bounds what waits for one who takes it, in messages and bytes.
	mostWaiting, mostBytes = 4096, 64 << 20
)

// Open connects to a broker, with the address's name and password if it has some; several
// addresses of one broker may stand in it, with commas. It waits for nobody: where the
// broker is away it is looked for from then on. An address that is none is an error.
func Open(address string, log *slog.Logger) (*NATS, error) {
	b := &NATS{log: log, turn: make(chan struct{}, answering)}
	var err error
	b.conn, err = nats.Connect(
		address,
		nats.Name("benchmeet"), nats.NoEcho(), nats.RetryOnFailedConnect(true), nats.MaxReconnects(-1),
		nats.ReconnectWait(againEvery), nats.ReconnectBufSize(-1), nats.PingInterval(pingEvery), nats.MaxPingsOutstanding(pings),
		nats.DisconnectErrHandler(func(_ *nats.Conn, err error) { log.Warn("the broker of the live feed is away", "error", err) }),
		nats.ReconnectHandler(func(*nats.Conn) { log.Info("the broker of the live feed is back") }),
		nats.ErrorHandler(func(_ *nats.Conn, _ *nats.Subscription, err error) {
			log.Warn("the broker of the live feed", "error", err)
		}),
	)
	if err != nil {
		return nil, fmt.Errorf("--feed is no address of a broker (nats://host:4222): %w", err)
	}
	return b, nil
}

// Close ends the connection.
func (b *NATS) Close() { b.conn.Close() }

// Publish implements relay.Broker.
func (b *NATS) Publish(subject string, message []byte) error { return b.conn.Publish(subject, message) }

// Subscribe implements relay.Broker.
func (b *NATS) Subscribe(subject string, take func(message []byte)) (func(), error) {
	s, err := b.conn.Subscribe(subject, func(m *nats.Msg) { take(m.Data) })
	if err == nil {
		err = s.SetPendingLimits(mostWaiting, mostBytes)
	}
	return end(s), err
}

// Answer implements relay.Broker.
func (b *NATS) Answer(subject string, answer func(ctx context.Context, question []byte) []byte) (func(), error) {
	s, err := b.conn.QueueSubscribe(subject, "answer", func(m *nats.Msg) {
		b.turn <- struct{}{}
		go func() {
			defer func() { <-b.turn }()
			ctx, cancel := context.WithTimeout(context.Background(), answerWithin)
			defer cancel()
			if err := m.Respond(answer(ctx, m.Data)); err != nil {
				b.log.Debug("an answer did not leave", "error", err)
			}
		}()
	})
	return end(s), err
}

func end(s *nats.Subscription) func() {
	return func() {
		if s != nil {
			_ = s.Unsubscribe() // a connection that is away has none
		}
	}
}

// Ask implements relay.Broker: nil where nobody answers.
func (b *NATS) Ask(ctx context.Context, subject string, question []byte) ([]byte, error) {
	m, err := b.conn.RequestWithContext(ctx, subject, question)
	switch {
	case errors.Is(err, nats.ErrNoResponders):
		return nil, nil
	case err != nil:
		return nil, err
	}
	return m.Data, nil
}
