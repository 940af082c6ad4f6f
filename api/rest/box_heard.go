package rest

import (
	"context"
	"errors"
	"slices"
	"sync"
	"time"

	"benchmeet/api/auth"
	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
)

// silentAfter is how long a counter box may say nothing before it counts as silent: it
// asks about three times a second (package node), and a network may hold up a question or two.
const silentAfter = 2 * time.Second

// boxesHeard remembers when the counter box of each bench was heard last. That is of this
// process and no event: a start forgets it, and nothing that was decided goes by it.
type boxesHeard struct {
	kept store.Tokens
	now  func() time.Time // the server's clock, for what is shown

	mu   sync.Mutex
	last map[benchOf]lastHeard
}

type benchOf struct{ club, bench string }

// lastHeard is one box. Silence is counted by this computer's own steady clock, for the
// server's may be set, or run faster than life.
type lastHeard struct {
	key  string // with which it came
	at   time.Time
	real time.Time
	lost bool // the program beside it has no line to it
}

func newBoxesHeard(kept store.Tokens, now func() time.Time) *boxesHeard {
	return &boxesHeard{kept: kept, now: now, last: map[benchOf]lastHeard{}}
}

// asked notes that a counter box asks for a bench that it may use, and whether the program
// beside it has lost the line to it. Of anybody else it notes nothing.
func (h *boxesHeard) asked(c auth.Caller, bench string, lost bool) {
	if c.Role != auth.Box {
		return
	}
	h.mu.Lock()
	defer h.mu.Unlock()
	h.last[benchOf{c.Club, bench}] = lastHeard{c.Key, h.now(), time.Now(), lost}
}

// sent is the same for stamps, which say nothing of the line: they may be of before.
func (h *boxesHeard) sent(c auth.Caller, bench string) {
	h.mu.Lock()
	lost := h.last[benchOf{c.Club, bench}].lost
	h.mu.Unlock()
	h.asked(c, bench, lost)
}

// box is what is heard of a bench's box now; nil where no box has a key for the bench. It
// reads the key of the box that was heard, and all of the club's where none was.
func (h *boxesHeard) box(ctx context.Context, club, bench string) (*gen.BenchBox, error) {
	h.mu.Lock()
	last, heard := h.last[benchOf{club, bench}]
	h.mu.Unlock()
	if heard {
		key, err := h.kept.Token(ctx, club, last.key)
		switch {
		case errors.Is(err, store.ErrNotFound): // it signed in otherwise
		case err != nil:
			return nil, err
		default:
			heard = auth.Good(key, h.now())
		}
	}
	if !heard {
		return h.unheard(ctx, club, bench)
	}
	out := &gen.BenchBox{State: gen.Heard, Heard: wire.OptInstant(last.at.UnixMicro())}
	switch {
	case time.Since(last.real) > silentAfter:
		out.State = gen.Quiet
	case last.lost:
		out.State = gen.Unplugged
	}
	return out, nil
}

// unheard is the box of a bench that has a key and was not heard; nil without a key.
func (h *boxesHeard) unheard(ctx context.Context, club, bench string) (*gen.BenchBox, error) {
	keys, err := h.kept.AllTokens(ctx, club)
	if err != nil {
		return nil, err
	}
	at := h.now()
	for _, k := range keys {
		if auth.RoleNamed(k.Role) == auth.Box && slices.Contains(k.Benches, bench) && auth.Good(k, at) {
			return &gen.BenchBox{State: gen.Unheard}, nil
		}
	}
	return nil, nil
}

// listening adds to an order what is heard of the bench's box, where a person asks and no
// heat needs the bench.
func (s benches) listening(ctx context.Context, out gen.BenchOrder, bench day.BenchID) (gen.BenchOrder, error) {
	if out.Kind == gen.BenchOrderKindHeat || Caller(ctx).Role == auth.Box {
		return out, nil
	}
	box, err := s.heard.box(ctx, s.club(ctx), string(bench))
	out.Box = box
	return out, err
}
