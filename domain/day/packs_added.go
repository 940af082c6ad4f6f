package day

// PacksAdded says which packs the club lends today.
type PacksAdded struct {
	Packs []PackID `json:"packs"`
	By    string   `json:"by"`
}

// Type is the name in the log.
func (PacksAdded) Type() string { return "PacksAdded" }

func (e PacksAdded) apply(s *State) {
	for _, id := range e.Packs {
		s.setPack(Pack{ID: id, Lent: true})
	}
}

// PackIssued says that an entry has a pack of the club.
type PackIssued struct {
	Pack  PackID  `json:"pack"`
	Entry EntryID `json:"entry"`
	By    string  `json:"by"`
}

// Type is the name in the log.
func (PackIssued) Type() string { return "PackIssued" }

func (e PackIssued) apply(s *State) {
	p := s.Packs[e.Pack]
	p.Entry = e.Entry
	s.setPack(p)
}

// PackReturned says that a lent pack is back at the table.
type PackReturned struct {
	Pack  PackID  `json:"pack"`
	Entry EntryID `json:"entry"`
	Hurt  bool    `json:"hurt,omitempty"`
	By    string  `json:"by"`
}

// Type is the name in the log.
func (PackReturned) Type() string { return "PackReturned" }

func (e PackReturned) apply(s *State) {
	p := s.Packs[e.Pack]
	p.Entry, p.Aside, p.Hurt = "", p.Aside || e.Hurt, p.Hurt || e.Hurt
	s.setPack(p)
}
