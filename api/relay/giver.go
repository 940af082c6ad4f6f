package relay

import (
	"context"
	"encoding/json"
	"errors"
	"log/slog"
	"sync"
	"time"

	"github.com/google/uuid"

	"benchmeet/api/live"
	"benchmeet/api/store"
	"benchmeet/domain/refusal"
)

// Feed is what a giver gives of; a hub of the live feed is one.
type Feed interface {
	Meet(ctx context.Context, club, meet string) (store.Stream, live.Topics, error)
	Practice(ctx context.Context, club string) (store.Stream, live.Topics, error)
	Source(s store.Stream) live.Source
	// Tell hands over live speed that came to another server.
	Tell(said live.Spoken)
}

// GiverOptions are what a giver needs.
type GiverOptions struct {
	Broker Broker
	Feed   Feed
	// ClubAt finds the club of an address, with a refusal where there is none.
	ClubAt func(ctx context.Context, p Place) (club string, err error)
	// Why says what an error is to whoever asked, as the API does.
	Why func(error) *refusal.Refusal
	Log *slog.Logger
}

// Giver gives what its feed shows to the nodes that ask for it.
type Giver struct {
	GiverOptions
	name string
	ctx  context.Context
	stop context.CancelFunc
	ends []func()
	done sync.WaitGroup

	mu    sync.Mutex
	lines map[store.Stream]*line
}

// NewGiver makes one that answers until Close.
func NewGiver(o GiverOptions) (*Giver, error) {
	ctx, stop := context.WithCancel(context.Background())
	g := &Giver{GiverOptions: o, name: uuid.NewString(), ctx: ctx, stop: stop, lines: map[store.Stream]*line{}}
	for _, subject := range []string{anyGiver, giver + g.name} {
		end, err := g.Broker.Answer(subject, g.answer)
		if err != nil {
			return nil, errors.Join(err, g.Close())
		}
		g.ends = append(g.ends, end)
	}
	end, err := g.Broker.Subscribe(allSpeeds, func(message []byte) { hear(message, g.Feed.Tell) })
	if err != nil {
		return nil, errors.Join(err, g.Close())
	}
	g.ends = append(g.ends, end)
	return g, nil
}

// Close ends it. Its nodes find another giver at their next question.
func (g *Giver) Close() error {
	g.stop()
	for _, end := range g.ends {
		end()
	}
	g.done.Wait()
	return nil
}

// NamesChanged has what is shown of a club looked at again, soon.
func (g *Giver) NamesChanged(club string) {
	g.mu.Lock()
	defer g.mu.Unlock()
	for s, l := range g.lines {
		if s.Club == club {
			tell(l.wake)
		}
	}
}

// Tell puts live speed on the broker. Who does not get it misses nothing that stays.
func (g *Giver) Tell(said live.Spoken) {
	_ = g.Broker.Publish(speedOf+token(said.Stream), encode(spoken{said.Stream.Club, said.Stream.Name, said.Topic, said.Data}))
}

func (g *Giver) answer(ctx context.Context, text []byte) []byte {
	a, err := g.reply(ctx, text)
	if err != nil {
		no := g.Why(err)
		a = answer{Refused: &refused{no.Code, no.Values()}}
	}
	a.Giver = g.name
	return encode(a)
}

func (g *Giver) reply(ctx context.Context, text []byte) (a answer, err error) {
	var q question
	if err := json.Unmarshal(text, &q); err != nil {
		return a, err
	}
	club, err := g.ClubAt(ctx, q.Place)
	if err != nil {
		return a, err
	}
	var s store.Stream
	var topics live.Topics
	if q.Place.Meet == "" {
		s, topics, err = g.Feed.Practice(ctx, club)
	} else {
		s, topics, err = g.Feed.Meet(ctx, club, q.Place.Meet)
	}
	if err != nil {
		return a, err
	}
	a = answer{Club: s.Club, Stream: s.Name, There: []string{}, Frames: []frame{}}
	for topic := range q.Have {
		if topic == live.Public(topic) && topics.There(topic) { // a node knows no keys
			a.There = append(a.There, topic)
		} else {
			delete(q.Have, topic)
		}
	}
	for {
		l, err := g.line(s)
		if err != nil {
			return a, err
		}
		var open bool
		if a.Frames, a.More, open, err = l.give(ctx, q.Have); open || err != nil {
			return a, err
		}
	}
}

// line finds the stream's line, or begins one.
func (g *Giver) line(s store.Stream) (*line, error) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.ctx.Err() != nil {
		return nil, refusal.New("server-stops")
	}
	l, there := g.lines[s]
	if !there {
		l = newLine(g, s)
		g.lines[s] = l
		g.done.Go(func() { l.follow(g.ctx) })
	}
	return l, nil
}

// over takes a line off that nobody asks for.
func (g *Giver) over(l *line) {
	g.mu.Lock()
	defer g.mu.Unlock()
	if g.lines[l.stream] == l {
		delete(g.lines, l.stream)
	}
}

// wantedFor is how long a topic is put on after a question named it.
const wantedFor = 20 * time.Second
