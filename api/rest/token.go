package rest

import (
	"context"
	"errors"
	"net/url"
	"strings"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// tokens makes tokens and takes them back.
type tokens struct {
	reads
	kept      store.Tokens
	tokens    auth.Tokens
	now       func() time.Time
	addresses func(context.Context) []string
}

// ListTokens lists the tokens without their secrets.
func (s tokens) ListTokens(ctx context.Context, _ gen.ListTokensRequestObject) (gen.ListTokensResponseObject, error) {
	all, err := s.kept.AllTokens(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	out := gen.ListTokens200JSONResponse{Tokens: []gen.Token{}}
	for _, t := range all {
		out.Tokens = append(out.Tokens, wire.ShowToken(t))
	}
	return out, nil
}

// MakeToken makes a token and shows its secret this once.
func (s tokens) MakeToken(ctx context.Context, r gen.MakeTokenRequestObject) (gen.MakeTokenResponseObject, error) {
	wish := wire.ReadWish(*r.Body)
	wish.Club = s.club(ctx)
	if err := s.forMeet(ctx, &wish); err != nil {
		return nil, err
	}
	if key := r.Params.IdempotencyKey; key != nil {
		wish.Order = key.String()
	}
	secret, made, err := s.tokens.Make(ctx, wish)
	if errors.Is(err, auth.ErrOtherWish) {
		return nil, refusal.New("order-id-used")
	}
	if err != nil {
		return nil, err
	}
	return gen.MakeToken201JSONResponse{Token: wire.ShowToken(made), Secret: secret, Links: s.links(ctx, made, secret)}, nil
}

// forMeet has a key for one meet end with it: at noon after its day, by the clock
// of this server's place, so that an evening that grows late is covered.
func (s tokens) forMeet(ctx context.Context, w *auth.Wish) error {
	if w.Meet == "" {
		return nil
	}
	v, err := s.meetView(ctx, w.Meet, nil)
	if err != nil || !w.Expires.IsZero() {
		return err
	}
	date, unread := time.ParseInLocation(time.DateOnly, v.State.Plan.Date, time.Local)
	if unread != nil {
		return refusal.New("plan-date", "date", v.State.Plan.Date)
	}
	if w.Expires = date.AddDate(0, 0, 1).Add(12 * time.Hour); !w.Expires.After(s.now()) {
		return refusal.New("token-meet", "meet", w.Meet)
	}
	return nil
}

// RevokeToken makes a token useless.
func (s tokens) RevokeToken(ctx context.Context, r gen.RevokeTokenRequestObject) (gen.RevokeTokenResponseObject, error) {
	err := s.tokens.Revoke(ctx, s.club(ctx), r.Token)
	if errors.Is(err, store.ErrNotFound) {
		return nil, refusal.New("no-token", "token", r.Token)
	}
	if err != nil {
		return nil, err
	}
	return gen.RevokeToken204Response{}, nil
}

// SetKeysRight sets keys right that were made by a clock that was ahead.
func (s tokens) SetKeysRight(ctx context.Context, _ gen.SetKeysRightRequestObject) (gen.SetKeysRightResponseObject, error) {
	keys, err := s.tokens.SetRight(ctx, s.club(ctx))
	return gen.SetKeysRight200JSONResponse{Keys: keys}, err
}

// links are the pages to open with a token. It stands in the fragment, which
// browsers do not send, and is exchanged for a session.
func (s tokens) links(ctx context.Context, t store.Token, secret string) []string {
	out := []string{}
	for _, address := range s.addresses(ctx) {
		page := "/desk"
		if auth.RoleNamed(t.Role) == auth.Volunteer && len(t.Benches) > 0 {
			page = "/bench/" + url.PathEscape(t.Benches[0])
		}
		out = append(out, strings.TrimSuffix(address, "/")+page+"#token="+secret)
	}
	return out
}
