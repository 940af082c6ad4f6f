package inspection

import (
	"benchmeet/domain/battery"
	"benchmeet/domain/day"
)

// MostDealt bounds how many heats are dealt to at once.
const MostDealt = 64

// Dealable are the packs at the table that may race and that no other heat waits
// for.
func Dealable(s *day.State, division day.DivisionID, again map[day.HeatID]bool, nowUS int64) []battery.PackFigures {
	taken := map[day.PackID]bool{}
	for _, h := range s.Heats {
		for _, l := range h.Lanes {
			if l.State != day.LaneDone && !again[h.ID] {
				taken[l.Dealt] = true
			}
		}
	}
	var out []battery.PackFigures
	for _, p := range SortedPacks(s) {
		f, measured := p.Figures()
		if p.Lent && p.Entry == "" && measured && !taken[p.ID] && len(PackReady(s, p, division, nowUS)) == 0 {
			out = append(out, f)
		}
	}
	return out
}
