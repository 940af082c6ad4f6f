package day

import "benchmeet/domain/battery"

// PacksDealt says which pack each lane takes, and the lots behind it: with the
// seed and the sets anybody can deal again.
type PacksDealt struct {
	Heats   []DealtHeat      `json:"dealt"`
	LotSeed uint64           `json:"lot_seed"`
	Match   battery.Matching `json:"match"`
	Sets    [][]PackID       `json:"sets"`
	By      string           `json:"by"`
}

// DealtHeat is what was dealt to one heat.
type DealtHeat struct {
	Heat  HeatID          `json:"heat"`
	Dealt []battery.Dealt `json:"packs"`
}

// Type is the name in the log.
func (PacksDealt) Type() string { return "PacksDealt" }

func (e PacksDealt) apply(s *State) {
	for _, heat := range e.Heats {
		to := map[EntryID]PackID{}
		for _, d := range heat.Dealt {
			to[EntryID(d.Entry)] = PackID(d.Pack)
		}
		h := s.Heats[heat.Heat]
		s.Heats[heat.Heat] = h.withLanes(func(_ int, l Lane) Lane {
			if id, dealt := to[l.Entry]; dealt {
				l.Dealt = id
			}
			return l
		})
	}
}
