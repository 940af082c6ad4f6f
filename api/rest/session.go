package rest

import (
	"context"
	"net/http"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/wire"
)

// sessions signs browsers in and out.
type sessions struct{ tokens auth.Tokens }

// GetSession says who the caller is.
func (s sessions) GetSession(ctx context.Context, _ gen.GetSessionRequestObject) (gen.GetSessionResponseObject, error) {
	return gen.GetSession200JSONResponse(wire.ShowSession(Caller(ctx))), nil
}

// SignIn exchanges a token for a cookie.
func (s sessions) SignIn(ctx context.Context, r gen.SignInRequestObject) (gen.SignInResponseObject, error) {
	caller, err := s.tokens.Caller(ctx, r.Body.Token)
	if err != nil {
		return nil, err
	}
	cookie := cookie(ctx, r.Body.Token, 0)
	return gen.SignIn200JSONResponse{
		Body:    wire.ShowSession(caller),
		Headers: gen.SignIn200ResponseHeaders{SetCookie: &cookie},
	}, nil
}

// SignOut takes the cookie away.
func (s sessions) SignOut(ctx context.Context, _ gen.SignOutRequestObject) (gen.SignOutResponseObject, error) {
	cookie := cookie(ctx, "", -1)
	return gen.SignOut204Response{Headers: gen.SignOut204ResponseHeaders{SetCookie: &cookie}}, nil
}

// cookie makes the cookie: out of reach of scripts, sent to this site only, and
// over TLS only where the page came that way.
func cookie(ctx context.Context, value string, maxAge int) string {
	c := http.Cookie{
		Name: cookieNamed(secure(ctx)), Value: value, Path: "/", HttpOnly: true, MaxAge: maxAge,
		SameSite: http.SameSiteStrictMode, Secure: secure(ctx),
	}
	return c.String()
}
