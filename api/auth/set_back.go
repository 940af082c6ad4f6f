package auth

import (
	"context"
	"time"
)

// SetBack sets back by how much the clock was ahead what it gave while it was: keys that
// were made later than now. They go on to open what they open, and end when they were
// meant to. Keys from before need nothing: what looked over by the wrong clock is good
// again by the right one. Calling it again changes nothing.
func (t Tokens) SetBack(ctx context.Context, club string, by time.Duration) error {
	all, err := t.Store.AllTokens(ctx, club)
	if err != nil || by <= 0 {
		return err
	}
	now := t.Now().UnixMicro()
	for _, token := range all {
		if token.CreatedUS <= now {
			continue
		}
		if token.ExpiresUS != 0 {
			token.ExpiresUS -= by.Microseconds()
		}
		token.CreatedUS = min(token.CreatedUS-by.Microseconds(), now)
		if err := t.Store.PutToken(ctx, token); err != nil {
			return err
		}
	}
	return nil
}

// SetRight makes keys that were made later than now ones that were made now, and says how many: where a clock that is
// right by now was ahead, each lasts from here as long as it was to last from its making. By how much the clock was
// ahead need not be known, so that it serves where no log tells. Calling it again changes nothing.
func (t Tokens) SetRight(ctx context.Context, club string) (keys int, err error) {
	all, err := t.Store.AllTokens(ctx, club)
	if err != nil {
		return 0, err
	}
	now := t.Now().UnixMicro()
	for _, token := range all {
		by := token.CreatedUS - now
		if by <= 0 {
			continue
		}
		token.CreatedUS = now
		if token.ExpiresUS != 0 {
			token.ExpiresUS -= by
		}
		if err := t.Store.PutToken(ctx, token); err != nil {
			return keys, err
		}
		keys++
	}
	return keys, nil
}
