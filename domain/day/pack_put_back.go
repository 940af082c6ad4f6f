package day

// PackPutBack says that a pack lies aside no more. It has to be measured again.
type PackPutBack struct {
	Pack   PackID     `json:"pack"`
	Reason ReasonCode `json:"reason"`
	By     string     `json:"by"`
}

// Type is the name in the log.
func (PackPutBack) Type() string { return "PackPutBack" }

func (e PackPutBack) apply(s *State) {
	p := s.Packs[e.Pack]
	p.Aside, p.FreshFrom = false, len(p.Checks)
	s.setPack(p)
}
