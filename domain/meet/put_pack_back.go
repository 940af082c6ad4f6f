package meet

import (
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/refusal"
)

// PutPackBack lets a pack race again that was put aside after refusals, as when a
// meter was read wrongly. One that was hot, swollen, leaking or damaged stays
// aside, whoever asks.
type PutPackBack struct {
	Pack   day.PackID
	Reason day.Reason
}

func (c PutPackBack) decide(s *day.State, m Meta) ([]day.Event, error) {
	p, err := inspection.FindPack(s, c.Pack)
	if err != nil {
		return nil, err
	}
	if err := c.Reason.Check(); err != nil {
		return nil, err
	}
	switch {
	case p.Hurt:
		return nil, refusal.New("pack-hurt")
	case !p.Aside:
		return nil, nil
	}
	return []day.Event{day.PackPutBack{Pack: c.Pack, Reason: c.Reason.Code, By: m.Actor}}, nil
}
