package main

import (
	"context"

	"benchmeet/api/broker"
	"benchmeet/api/intake"
	"benchmeet/api/live"
	"benchmeet/api/relay"
	"benchmeet/api/rest"
	"benchmeet/domain/refusal"
)

// feedNodes are the servers that take the live feed from this one, over a broker; nil is
// none.
type feedNodes struct {
	broker *broker.NATS
	giver  *relay.Giver
}

// feedNodes lets them ask.
func (s *server) feedNodes() (*feedNodes, error) {
	if s.options.Feed == "" {
		return nil, nil
	}
	b, err := broker.Open(s.options.Feed, s.options.Log)
	if err != nil {
		return nil, err
	}
	g, err := relay.NewGiver(relay.GiverOptions{Broker: b, Feed: s.hub, ClubAt: s.clubAt, Why: rest.Refused, Log: s.options.Log})
	if err != nil {
		b.Close()
		return nil, err
	}
	return &feedNodes{b, g}, nil
}

// clubAt is the club that an address shows to strangers.
func (s *server) clubAt(ctx context.Context, p relay.Place) (string, error) {
	club, root := s.hosted.At(ctx, p.Host, p.Path)
	switch {
	case club == "":
		return "", refusal.New("no-club")
	case root && p.Meet == "" && s.hosted.Shared():
		return "", refusal.New("several-clubs") // a child is found by the address of the club alone
	}
	return club, nil
}

func (f *feedNodes) close() {
	if f != nil {
		_ = f.giver.Close() // its nodes ask another
		f.broker.Close()
	}
}

// speed tells live speed to whoever listens, here and elsewhere.
func (s *server) speed(sp intake.Speed) {
	if s.nodes == nil {
		s.hub.Speed(sp)
		return
	}
	if said, is := live.Speak(sp); is {
		s.hub.Tell(said)
		s.nodes.giver.Tell(said)
	}
}

// namesChanged has the people of a club shown as they are now.
func (s *server) namesChanged(club string) {
	s.hub.NamesChanged(club)
	if s.nodes != nil {
		s.nodes.giver.NamesChanged(club)
	}
}
