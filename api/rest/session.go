package rest

import (
	"cmp"
	"context"
	"errors"
	"net/http"
	"slices"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// sessions signs browsers in and out.
type sessions struct {
	reads
	kept   store.Store
	tokens auth.Tokens
	now    func() time.Time
	pace   *pace
}

// GetSession says who the caller is.
func (s sessions) GetSession(ctx context.Context, _ gen.GetSessionRequestObject) (gen.GetSessionResponseObject, error) {
	return gen.GetSession200JSONResponse(wire.ShowSession(Caller(ctx))), nil
}

// SignIn exchanges a token for a session. The one that the browser had ends: nobody
// could end it any more.
func (s sessions) SignIn(ctx context.Context, r gen.SignInRequestObject) (gen.SignInResponseObject, error) {
	order := ""
	if key := r.Params.IdempotencyKey; key != nil {
		order = key.String()
	}
	secret, caller, end, err := s.tokens.Exchange(ctx, s.placed(ctx), r.Body.Token, order)
	if errors.Is(err, auth.ErrOtherClub) {
		return nil, errElsewhere
	}
	if errors.Is(err, auth.ErrBadToken) {
		return nil, s.pace.failedIn(ctx, err)
	}
	if err != nil {
		return nil, err
	}
	cookie, err := cookieFor(ctx, s.tokens, secret, caller, end.Sub(s.now()))
	if err != nil {
		return nil, err
	}
	return gen.SignIn200JSONResponse{
		Body:    wire.ShowSession(caller),
		Headers: gen.SignIn200ResponseHeaders{SetCookie: &cookie},
	}, nil
}

// cookieFor makes the cookie of a new session, for as long as that lasts, and ends the one that the
// browser had: nobody could end it any more.
func cookieFor(ctx context.Context, tokens auth.Tokens, secret string, caller auth.Caller, lasts time.Duration) (string, error) {
	if before := Caller(ctx); before.Session && before.Key != caller.Key {
		if err := tokens.EndSession(ctx, before.Club, before.Key); err != nil {
			return "", err
		}
	}
	return cookie(ctx, secret, max(1, int(lasts.Seconds()))), nil
}

// SignOut ends the session and takes the cookie away. A token in a header stays.
func (s sessions) SignOut(ctx context.Context, _ gen.SignOutRequestObject) (gen.SignOutResponseObject, error) {
	if caller := Caller(ctx); caller.Session {
		if err := s.tokens.EndSession(ctx, caller.Club, caller.Key); err != nil {
			return nil, err
		}
	}
	cookie := cookie(ctx, "", -1)
	return gen.SignOut204Response{Headers: gen.SignOut204ResponseHeaders{SetCookie: &cookie}}, nil
}

// ListSessions lists the browsers that are signed in now.
func (s sessions) ListSessions(ctx context.Context, _ gen.ListSessionsRequestObject) (gen.ListSessionsResponseObject, error) {
	club := s.club(ctx)
	tokens, err := s.kept.AllTokens(ctx, club)
	if err != nil {
		return nil, err
	}
	all, err := s.kept.AllSessions(ctx, club)
	if err != nil {
		return nil, err
	}
	good := map[string]store.Token{}
	for _, t := range tokens {
		if auth.Good(t, s.now()) {
			good[t.ID] = t
		}
	}
	out := gen.ListSessions200JSONResponse{Sessions: []gen.OpenSession{}}
	own := Caller(ctx)
	for _, n := range all {
		if t, is := good[n.Token]; is && n.EndedUS == 0 {
			out.Sessions = append(out.Sessions, wire.ShowOpenSession(n, t, own.Session && own.Key == n.ID))
		}
	}
	slices.SortStableFunc(out.Sessions, func(a, b gen.OpenSession) int { return cmp.Or(b.Made.Compare(a.Made), cmp.Compare(a.Id, b.Id)) })
	return out, nil
}

// EndSession signs a browser out.
func (s sessions) EndSession(ctx context.Context, r gen.EndSessionRequestObject) (gen.EndSessionResponseObject, error) {
	err := s.tokens.EndSession(ctx, s.club(ctx), r.Session)
	if errors.Is(err, store.ErrNotFound) {
		return nil, refusal.New("no-session", "session", r.Session)
	}
	if err != nil {
		return nil, err
	}
	return gen.EndSession204Response{}, nil
}

// cookiePath is where a browser sends the cookie: to the club's own pages alone. That of
// the server's own club goes by a name of its own, which no other club looks at.
func cookiePath(ctx context.Context) string { return placeOf(ctx).Base + "/" }

// cookie makes the cookie: out of reach of scripts, sent to this site only, and
// over TLS only where the page came that way, and with the pages of one club only.
func cookie(ctx context.Context, value string, maxAge int) string {
	c := http.Cookie{
		Name: cookieNamed(secure(ctx), placeOf(ctx).Base != ""), Value: value, Path: cookiePath(ctx), HttpOnly: true, MaxAge: maxAge,
		SameSite: http.SameSiteStrictMode, Secure: secure(ctx),
	}
	return c.String()
}
