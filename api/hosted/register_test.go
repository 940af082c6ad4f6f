package hosted_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"benchmeet/api/hosted"
	"benchmeet/api/store"
)

// kept is a database that counts who looks.
type kept struct {
	clubs []store.Club
	away  bool
	looks int
}

func (k *kept) Clubs(context.Context) ([]store.Club, error) {
	k.looks++
	if k.away {
		return nil, errors.New("away")
	}
	return k.clubs, nil
}

// TestRegister: a club that another server invited is found when somebody asks for it,
// without any number of strangers making the server look more than once a second; one that
// was never invited is not found, and a database that is away makes nobody forgotten.
func TestRegister(t *testing.T) {
	now := time.Date(2027, 4, 17, 9, 0, 0, 0, time.UTC)
	k := &kept{clubs: []store.Club{{ID: "home"}, {ID: "mole", Host: "mole.example"}}}
	r := hosted.NewRegister(k, "home", func() time.Time { return now })
	if err := r.Look(t.Context()); err != nil {
		t.Fatal(err)
	}
	found := func(short string) bool {
		_, is := r.Short(t.Context(), short)
		return is
	}
	if !found("home") || found("mole") || found("pier") || r.Shared() || len(r.All()) != 2 {
		t.Errorf("with the server's own club: home %v, mole %v, pier %v, shared %v", found("home"), found("mole"), found("pier"), r.Shared())
	}
	if _, is := r.Host("mole.example"); is {
		t.Error("a club that was never invited has a host")
	}
	k.clubs = append(k.clubs, store.Club{ID: "pier", Host: "pier.example", InvitedUS: 1})
	looks := k.looks
	for range 100 {
		if found("pier") {
			t.Fatal("it looked again within a second")
		}
	}
	now = now.Add(time.Second)
	for range 100 {
		if found("nobody") || !found("pier") || found("No Name") {
			t.Fatal("a club that was invited meanwhile is not found, or one that is nobody's is")
		}
	}
	if k.looks != looks+1 {
		t.Errorf("it looked %d times, want once", k.looks-looks)
	}
	if c, is := r.Host("pier.example"); !is || c.ID != "pier" || !r.Shared() {
		t.Errorf("by its host: %v %v, shared %v", c, is, r.Shared())
	}
	k.away, now = true, now.Add(time.Minute)
	if found("nobody") || !found("pier") {
		t.Error("a database that is away makes a club forgotten")
	}
	if r.Look(t.Context()) == nil {
		t.Error("a look that failed says nothing")
	}
}
