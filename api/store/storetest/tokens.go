package storetest

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"benchmeet/api/store"
)

func testTokens(t *testing.T, d Database) {
	ctx, s := fresh(t, d)
	must(t, s.EnsureClub(ctx, store.Club{ID: "quay"}))
	device := store.Token{
		ID: "t-device", Club: harbour, Hash: [32]byte{1, 0, 255}, Role: "node", Actor: "node-1",
		Benches: []string{"b2", "b1"}, Label: "box at the door", CreatedUS: 1, ExpiresUS: 1 << 52, RevokedUS: 3,
	}
	organiser := store.Token{ID: "T-organiser", Club: harbour, Hash: [32]byte{2}, Role: "organiser", Actor: "o-1"}
	elsewhere := store.Token{ID: "t-device", Club: "quay", Hash: [32]byte{3}, Role: "node", Actor: "node-1"}
	for _, token := range []store.Token{device, organiser, elsewhere} {
		must(t, s.PutToken(ctx, token))
	}
	for _, want := range []store.Token{device, organiser, elsewhere} {
		got, err := s.TokenByHash(ctx, want.Hash)
		must(t, err)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("token (-want +got):\n%s", diff)
		}
	}
	for _, want := range []store.Token{device, organiser, elsewhere} {
		got, err := s.Token(ctx, want.Club, want.ID)
		must(t, err)
		if diff := cmp.Diff(want, got); diff != "" {
			t.Errorf("token by its id (-want +got):\n%s", diff)
		}
	}
	_, err := s.Token(ctx, harbour, "t-none")
	wantError(t, "Token", err, store.ErrNotFound)
	_, err = s.Token(ctx, "quay", organiser.ID)
	wantError(t, "Token of another club", err, store.ErrNotFound)
	old := device.Hash
	device.Hash, device.Benches, device.RevokedUS = [32]byte{4}, nil, 99
	must(t, s.PutToken(ctx, device))
	got, err := s.TokenByHash(ctx, device.Hash)
	must(t, err)
	if diff := cmp.Diff(device, got); diff != "" {
		t.Errorf("token after replacing (-want +got):\n%s", diff)
	}
	_, err = s.TokenByHash(ctx, old)
	wantError(t, "TokenByHash of the replaced hash", err, store.ErrNotFound)
	wantError(t, "PutToken with another token's hash",
		s.PutToken(ctx, store.Token{ID: "t-other", Club: "quay", Hash: organiser.Hash}), store.ErrConflict)
	all, err := s.AllTokens(ctx, harbour)
	must(t, err)
	if diff := cmp.Diff([]store.Token{organiser, device}, all); diff != "" {
		t.Errorf("tokens (-want +got):\n%s", diff)
	}
}
