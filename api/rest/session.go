package rest

import (
	"context"
	"net/http"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
)

// GetSession says who the caller is.
func (s *Server) GetSession(ctx context.Context, _ gen.GetSessionRequestObject) (gen.GetSessionResponseObject, error) {
	return gen.GetSession200JSONResponse(wire.ShowSession(Caller(ctx))), nil
}

// SignIn exchanges a token for a cookie.
func (s *Server) SignIn(ctx context.Context, r gen.SignInRequestObject) (gen.SignInResponseObject, error) {
	caller, err := s.Tokens.Caller(ctx, r.Body.Token)
	if err != nil {
		return nil, err
	}
	cookie := s.cookie(ctx, r.Body.Token, 0)
	return gen.SignIn200JSONResponse{
		Body:    wire.ShowSession(caller),
		Headers: gen.SignIn200ResponseHeaders{SetCookie: &cookie},
	}, nil
}

// SignOut takes the cookie away.
func (s *Server) SignOut(ctx context.Context, _ gen.SignOutRequestObject) (gen.SignOutResponseObject, error) {
	cookie := s.cookie(ctx, "", -1)
	return gen.SignOut204Response{Headers: gen.SignOut204ResponseHeaders{SetCookie: &cookie}}, nil
}

// cookie makes the cookie: out of reach of scripts, sent to this site only, and
// over TLS only where the page came that way.
func (s *Server) cookie(ctx context.Context, value string, maxAge int) string {
	c := http.Cookie{
		Name: cookieName, Value: value, Path: "/", HttpOnly: true, MaxAge: maxAge,
		SameSite: http.SameSiteStrictMode, Secure: secure(ctx),
	}
	return c.String()
}
