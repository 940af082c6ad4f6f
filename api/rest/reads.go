package rest

import (
	"context"
	"errors"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/ledger"
	"benchmeet/api/read"
	"benchmeet/api/store"
	"benchmeet/api/view"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// reads finds what a request is about. Every handler that shows or orders something
// of a club or a meet stands on it.
type reads struct {
	meets  *ledger.OfMeets
	clubs  *ledger.OfClubs
	names  *view.Directory
	shown  *read.Model
	public string // the club of the server's own address
}

// readWithin bounds how long a read waits for a position of the log.
const readWithin = 5 * time.Second

// club is the club of the caller, or that of the address.
func (s reads) club(ctx context.Context) string {
	if c := Caller(ctx); c.Club != "" {
		return c.Club
	}
	return s.placed(ctx)
}

// belongs refuses a caller at another club's address.
func (s reads) belongs(ctx context.Context, caller auth.Caller, cookie bool) error {
	p := placeOf(ctx)
	switch {
	case p.Root && !cookie, caller.Club == s.placed(ctx):
		return nil
	}
	return errElsewhere
}

// placed is the club whose address a request came to.
func (s reads) placed(ctx context.Context) string {
	if p := placeOf(ctx); !p.Root {
		return p.Club
	}
	return s.public
}

// meetView reads a meet, refusing one that is not there.
func (s reads) meetView(ctx context.Context, id string, atLeast *int64) (view.MeetView, error) {
	ctx, cancel := context.WithTimeout(ctx, readWithin)
	defer cancel()
	club := s.club(ctx)
	seq := int64(0)
	if atLeast != nil {
		seq = *atLeast
	}
	snapshot, err := s.reached(ctx, id, seq)
	if err != nil {
		return view.MeetView{}, err
	}
	if !snapshot.State.Planned {
		return view.MeetView{}, refusal.New("no-meet", "meet", id)
	}
	names, err := s.names.Names(ctx, club)
	if err != nil {
		return view.MeetView{}, err
	}
	return view.MeetView{ID: id, State: snapshot.State, Head: snapshot.Head, Names: names}, nil
}

// meetNow is meetView for an order whose content is read from the meet: as of now, whichever
// server wrote it. What the order itself decides is looked at in its turn.
func (s reads) meetNow(ctx context.Context, id string) (view.MeetView, error) {
	reading, cancel := context.WithTimeout(ctx, readWithin)
	defer cancel()
	if _, err := s.meets.Newest(reading, store.MeetStream(s.club(ctx), id)); err != nil {
		return view.MeetView{}, err
	}
	return s.meetView(ctx, id, nil)
}

// clubNow is the same of the club.
func (s reads) clubNow(ctx context.Context) (*club.State, error) {
	reading, cancel := context.WithTimeout(ctx, readWithin)
	defer cancel()
	snapshot, err := s.clubs.Newest(reading, store.ClubStream(s.club(ctx)))
	return snapshot.State, err
}

// reached is a meet at a position of its log or behind it.
func (s reads) reached(ctx context.Context, id string, seq int64) (ledger.Snapshot[day.State], error) {
	stream := store.MeetStream(s.club(ctx), id)
	snapshot, err := s.meets.At(ctx, stream, seq)
	now := snapshot
	var behind *ledger.BehindError
	if errors.As(err, &behind) {
		if behind.Now == 0 {
			return snapshot, refusal.New("no-meet", "meet", id)
		}
		// How far a meet is that is put away tells that it is there. A context that has
		// ended while waiting still reads what is loaded.
		now, _ = s.meets.At(context.WithoutCancel(ctx), stream, 0)
	}
	if now.State != nil && now.State.Away.Meet && !seesAway(ctx) {
		return snapshot, refusal.New("no-meet", "meet", id)
	}
	return snapshot, err
}

func (s reads) divisionView(ctx context.Context, meetID, id string, atLeast *int64) (view.MeetView, day.Division, error) {
	v, err := s.meetView(ctx, meetID, atLeast)
	if err != nil {
		return v, day.Division{}, err
	}
	d, err := divisionIn(v, id)
	return v, d, err
}

func divisionIn(v view.MeetView, id string) (day.Division, error) {
	d, there := v.State.Divisions[day.DivisionID(id)]
	if !there {
		return d, refusal.New("no-division", "division", id)
	}
	return d, nil
}

func (s reads) clubState(ctx context.Context) (*club.State, error) {
	snapshot, err := s.clubs.At(ctx, store.ClubStream(s.club(ctx)), 0)
	return snapshot.State, err
}

// ratingsIn are the club's ratings with the cars of a division's class.
func ratingsIn(state *club.State, d day.Division) map[day.EntrantID]club.Rating {
	out := map[day.EntrantID]club.Rating{}
	for _, r := range state.Ratings() {
		if r.Class == d.Class.Name {
			out[r.Entrant] = r
		}
	}
	return out
}

// seedOrder reads a seed order; by rating it goes by the club's ratings of now.
func (s reads) seedOrder(ctx context.Context, meetID, division string, b gen.SeedOrderBody) (programme.SeedOrder, error) {
	out := wire.ReadSeedOrder(b)
	if out.Method != programme.SeedRating {
		return out, nil
	}
	v, err := s.meetNow(ctx, meetID)
	if err != nil {
		return out, err
	}
	d, err := divisionIn(v, division)
	if err != nil {
		return out, err
	}
	state, err := s.clubNow(ctx)
	if err != nil {
		return out, err
	}
	ratings := ratingsIn(state, d)
	for _, e := range v.State.SortedEntries(d.ID) {
		if r, rated := ratings[e.Entrant]; rated {
			out.Ratings = append(out.Ratings, day.Rated{Entry: e.ID, Rating: r.Milli})
		}
	}
	return out, nil
}
