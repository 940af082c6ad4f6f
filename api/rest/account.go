package rest

import (
	"context"
	"errors"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// accounts sign organisers in by a name and a password. Neither stands in any log.
type accounts struct {
	reads
	of   auth.Accounts
	now  func() time.Time
	pace *pace
}

// SignInByName makes a session of an account's key. The one that the browser had ends:
// nobody could end it any more.
func (s accounts) SignInByName(ctx context.Context, r gen.SignInByNameRequestObject) (gen.SignInByNameResponseObject, error) {
	address := askedOf(ctx).address
	try := auth.Try{Club: s.placed(ctx), Name: r.Body.Name, Password: r.Body.Password, Address: address, By: Caller(ctx)}
	if key := r.Params.IdempotencyKey; key != nil {
		try.Order = key.String()
	}
	secret, caller, end, err := s.of.SignIn(ctx, try)
	var wait *auth.WaitError
	switch {
	case errors.As(err, &wait):
		return nil, refusal.New("sign-in-wait", "seconds", wait.Seconds())
	case errors.Is(err, auth.ErrWrongPassword):
		return nil, s.pace.failedIn(ctx, refusal.New("password-wrong"))
	case errors.Is(err, auth.ErrOtherWish):
		return nil, refusal.New("order-id-used")
	case err != nil:
		return nil, err
	}
	cookie, err := cookieFor(ctx, s.of.Tokens, secret, caller, end.Sub(s.now()))
	if err != nil {
		return nil, err
	}
	return gen.SignInByName200JSONResponse{
		Body:    wire.ShowSession(caller),
		Headers: gen.SignInByName200ResponseHeaders{SetCookie: &cookie},
	}, nil
}

// ListAccounts lists the keys that have a name and a password.
func (s accounts) ListAccounts(ctx context.Context, _ gen.ListAccountsRequestObject) (gen.ListAccountsResponseObject, error) {
	all, err := s.of.Kept.AllAccounts(ctx, s.club(ctx))
	if err != nil {
		return nil, err
	}
	own, err := s.of.Own(ctx, Caller(ctx))
	if err != nil {
		return nil, err
	}
	out := gen.ListAccounts200JSONResponse{Accounts: []gen.Account{}}
	for _, a := range all {
		out.Accounts = append(out.Accounts, gen.Account{
			Token: a.Token, Name: a.Name, Set: time.UnixMicro(a.SetUS).UTC(), Own: a.Token == own,
		})
	}
	return out, nil
}

// SetAccount gives the caller's key a name and a password.
func (s accounts) SetAccount(ctx context.Context, r gen.SetAccountRequestObject) (gen.SetAccountResponseObject, error) {
	return gen.SetAccount204Response{}, s.of.Set(ctx, Caller(ctx), r.Body.Name, r.Body.Password)
}

// DropAccount forgets the name and the password of a key.
func (s accounts) DropAccount(ctx context.Context, r gen.DropAccountRequestObject) (gen.DropAccountResponseObject, error) {
	return gen.DropAccount204Response{}, s.of.Kept.DropAccount(ctx, s.club(ctx), r.Token)
}

// EndOtherSessions signs out all browsers of the caller's key but the caller's own.
func (s accounts) EndOtherSessions(ctx context.Context, _ gen.EndOtherSessionsRequestObject) (gen.EndOtherSessionsResponseObject, error) {
	return gen.EndOtherSessions204Response{}, s.of.EndOthers(ctx, Caller(ctx))
}
