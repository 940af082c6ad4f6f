package ratings

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"log/slog"
	"runtime/debug"
	"sync"

	"benchmeet/api/ledger"
	"benchmeet/api/store"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// Keeper rates what is published. It is safe for concurrent use.
type Keeper struct {
	Store store.Store
	Meets *ledger.OfMeets
	Clubs *ledger.OfClubs
	Log   *slog.Logger

	mu sync.Mutex
	// open are meets that may have something to rate, by club; looked says that all
	// meets of the club were put there once.
	open   map[string]map[string]struct{}
	looked map[string]bool
}

// Published rates a meet whose results were just published. A failure is logged
// and made good by Sweep: the publication stands in any case.
func (k *Keeper) Published(ctx context.Context, clubID, meetID string) {
	k.mark(clubID, meetID)
	if err := k.take(ctx, clubID, meetID); err != nil {
		k.Log.Warn("published results are not rated yet; trying again soon", "meet", meetID, "error", err)
	}
}

// Sweep rates what waits: at its first call it looks at the summary of every meet
// of the club, later at those that failed.
func (k *Keeper) Sweep(ctx context.Context, clubID string) error {
	if err := k.look(ctx, clubID); err != nil {
		return err
	}
	var failed []error
	for _, id := range k.waiting(clubID) {
		err := k.take(ctx, clubID, id)
		if errors.Is(err, ledger.ErrDamaged) {
			k.done(clubID, id) // nothing can be rated of it; the ledger has said so in its log
			continue
		}
		if err != nil {
			failed = append(failed, fmt.Errorf("rating meet %s: %w", id, err))
		}
	}
	return errors.Join(failed...)
}

func (k *Keeper) look(ctx context.Context, clubID string) error {
	k.mu.Lock()
	done := k.looked[clubID]
	k.mu.Unlock()
	if done {
		return nil
	}
	streams, err := k.Meets.Streams(ctx, clubID)
	if err != nil {
		return err
	}
	home, err := k.Clubs.At(ctx, store.ClubStream(clubID), 0)
	if err != nil {
		return err
	}
	for _, head := range streams {
		id, isMeet := head.Stream.Meet()
		if !isMeet {
			continue
		}
		summary, err := k.Meets.Summary(ctx, head)
		if errors.Is(err, ledger.ErrDamaged) {
			continue // nothing can be rated of it; the ledger has said so in its log
		}
		if err != nil {
			return err
		}
		for division, number := range summary.Published {
			if number > home.State.Rated(id, day.DivisionID(division)) {
				k.mark(clubID, id)
			}
		}
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.looked == nil {
		k.looked = map[string]bool{}
	}
	k.looked[clubID] = true
	return nil
}

func (k *Keeper) mark(clubID, meetID string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if k.open == nil {
		k.open = map[string]map[string]struct{}{}
	}
	if k.open[clubID] == nil {
		k.open[clubID] = map[string]struct{}{}
	}
	k.open[clubID][meetID] = struct{}{}
}

func (k *Keeper) waiting(clubID string) []string {
	k.mu.Lock()
	defer k.mu.Unlock()
	var out []string
	for id := range k.open[clubID] {
		out = append(out, id)
	}
	return out
}

// take gives an order for each division whose newest publication is not rated.
// A fault of the program that a meet meets fails that meet and no other.
func (k *Keeper) take(ctx context.Context, clubID, meetID string) (err error) {
	defer func() {
		if what := recover(); what != nil {
			err = fmt.Errorf("rating met a fault of the program: %v\n%s", what, debug.Stack())
		}
	}()
	day, err := k.Meets.At(ctx, store.MeetStream(clubID, meetID), 0)
	if err != nil {
		return err
	}
	home, err := k.Clubs.At(ctx, store.ClubStream(clubID), 0)
	if err != nil {
		return err
	}
	for _, d := range day.State.SortedDivisions() {
		number := len(day.State.Programmes[d.ID].Published)
		if number <= home.State.Rated(meetID, d.ID) {
			continue
		}
		// A second try gives the same order, which is answered and not carried out again.
		id := orderID(clubID, meetID, string(d.ID), number)
		_, err := k.Clubs.Do(ctx, store.ClubStream(clubID), ledger.Order[club.Command]{
			ID: id, Content: []byte(id), Actor: "server",
			Command: club.TakeRatings{
				Meet: meetID, Division: d.ID, Class: d.Class.Name, Number: number, Games: programme.RatedGames(day.State, d.ID),
			},
		})
		if err != nil {
			return err
		}
	}
	// Not before all divisions are through: Sweep comes back to a meet that is still open.
	k.done(clubID, meetID)
	return nil
}

func (k *Keeper) done(clubID, meetID string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	delete(k.open[clubID], meetID)
}

// orderID is the id of the order that rates a publication: the same from every
// server and after every crash.
func orderID(clubID, meetID, division string, number int) string {
	sum := sha256.Sum256([]byte(fmt.Sprintf("%q %q %q %d", clubID, meetID, division, number)))
	return "ratings-" + hex.EncodeToString(sum[:16])
}
