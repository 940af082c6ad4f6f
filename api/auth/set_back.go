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
