package rest

import (
	"context"
	"errors"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/hosted"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/refusal"
)

// clubs are those that share the server, in the hands of an organiser of its own club.
type clubs struct {
	reads
	kept      store.Store
	tokens    auth.Tokens
	register  *hosted.Register
	addresses func() []string
}

// ours refuses organisers of the other clubs.
func (s clubs) ours(ctx context.Context) error {
	if Caller(ctx).Club == s.public {
		return nil
	}
	return refusal.New("clubs-not-yours")
}

// ListClubs lists the clubs that share the server.
func (s clubs) ListClubs(ctx context.Context, _ gen.ListClubsRequestObject) (gen.ListClubsResponseObject, error) {
	if err := s.ours(ctx); err != nil {
		return nil, err
	}
	all, err := s.kept.Clubs(ctx)
	out := gen.ListClubs200JSONResponse{Clubs: []gen.Club{}}
	for _, c := range all {
		out.Clubs = append(out.Clubs, wire.ShowClub(c))
	}
	return out, err
}

// InviteClub gives a club an address of its own, and shows its organiser's sign-in.
func (s clubs) InviteClub(ctx context.Context, r gen.InviteClubRequestObject) (gen.InviteClubResponseObject, error) {
	if err := s.ours(ctx); err != nil {
		return nil, err
	}
	wish := hosted.Invitation{Short: r.Body.Short, Name: r.Body.Name, Host: wire.Deref(r.Body.Host)}
	if wish.Short == s.public {
		return nil, refusal.New("club-other", "short", wish.Short)
	}
	if key := r.Params.IdempotencyKey; key != nil {
		wish.Order = key.String()
	}
	c, secret, err := hosted.Invite(ctx, s.kept, s.tokens, wish)
	if errors.Is(err, auth.ErrOtherWish) {
		return nil, refusal.New("order-id-used")
	}
	if err != nil {
		return nil, err
	}
	if err := s.register.Look(ctx); err != nil {
		return nil, err
	}
	return gen.InviteClub201JSONResponse{Club: wire.ShowClub(c), Links: hosted.Links(c, s.addresses(), secret)}, nil
}
