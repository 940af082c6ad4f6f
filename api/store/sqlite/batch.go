package sqlite

import (
	"context"
	"errors"
	"fmt"

	"benchmeet/api/store"
)

var (
	_ store.Batcher    = (*Store)(nil)
	_ store.Rememberer = (*Store)(nil)
)

// WriteBatch implements store.Batcher: one turn of the writer, in which nothing is decided.
func (s *Store) WriteBatch(ctx context.Context, stream store.Stream, b store.Batch) error {
	if len(b.Answers) == 0 {
		return fmt.Errorf("sqlite: append to %s: %w", stream, store.ErrNobody)
	}
	return s.writer.do(ctx, func(conn *connection) error {
		t := &tx{conn: conn, stream: stream}
		head, err := t.currentHead(ctx)
		if err == nil && head != b.After {
			err = store.ErrOvertaken
		}
		if err != nil {
			return fmt.Errorf("sqlite: append to %s: %w", stream, err)
		}
		if err := t.Append(ctx, b.Records); err != nil {
			return err
		}
		err = t.Remember(ctx, b.Answers)
		if errors.Is(err, store.ErrConflict) {
			return fmt.Errorf("sqlite: remember answers of %s: %w", stream, store.ErrOvertaken)
		}
		return err
	})
}

// Answers implements store.Rememberer.
func (s *Store) Answers(ctx context.Context, stream store.Stream, commands []string) (map[string]store.Answer, error) {
	answers, err := answersIn(ctx, &s.asked, stream, commands)
	if err != nil {
		return nil, fmt.Errorf("sqlite: look up answers of %s: %w", stream, err)
	}
	return answers, nil
}
