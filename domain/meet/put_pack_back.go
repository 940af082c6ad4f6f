package meet

import "benchmeet/domain/refusal"

// PutPackBack lets a pack race again that was put aside after refusals, as when a
// meter was read wrongly. One that was hot, swollen, leaking or damaged stays
// aside, whoever asks.
type PutPackBack struct {
	Pack   PackID
	Reason Reason
}

// PackPutBack says that a pack lies aside no more. It has to be measured again.
type PackPutBack struct {
	Pack   PackID     `json:"pack"`
	Reason ReasonCode `json:"reason"`
	By     string     `json:"by"`
}

func (c PutPackBack) decide(s *State, m Meta) ([]Event, error) {
	p, err := FindPack(s, c.Pack)
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
	return []Event{PackPutBack{c.Pack, c.Reason.Code, m.Actor}}, nil
}

// Type is the name in the log.
func (PackPutBack) Type() string { return "PackPutBack" }

func (e PackPutBack) apply(s *State) {
	p := s.Packs[e.Pack]
	p.Aside, p.FreshFrom = false, len(p.Checks)
	s.setPack(p)
}
