package programme

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
	"strings"

	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// Outdated says whether the last draw of a division stands on results that a
// ruling has changed since: the seeds of its stage or the cars of its heats
// would be others now. Nothing is drawn again by itself. What a ruling has let
// stand is not outdated until something else changes.
func Outdated(s *day.State, division day.DivisionID) bool {
	others := Replaced(s, division)
	return len(others) > 0 && SumOf(others) != s.Programmes[division].LetStand
}

// Replaced lists what would be drawn otherwise now, a line each: the seeds of the
// last stage, and the heats up to the last round with the cars that they would
// have. A round that is drawn on them adds nothing.
func Replaced(s *day.State, division day.DivisionID) []string {
	d, there := s.Divisions[division]
	p := s.Programmes[division]
	stage, round := p.Round()
	if !there || round == 0 {
		return nil
	}
	var out []string
	drawn := p.Stages[stage-1]
	if stage > 1 {
		if seeds := inOrder(s, d, stage, qualified(s, d, stage, drawn.Seeds)); !slices.Equal(seeds, drawn.Seeds) {
			out = append(out, fmt.Sprint("seeds ", stage, seeds))
		}
	}
	if drawn.Tree == nil {
		return out
	}
	for _, v := range drawn.Tree.Follow(treeResults(s, d, stage, drawn.Seeds)) {
		id := treeHeat(division, stage, v.ID)
		h, there := s.Heats[id]
		switch {
		case v.Round > round:
			return out
		case v.State == bracket.NotNeeded && there:
			// A second final that was drawn before a ruling decided the first.
			out = append(out, fmt.Sprint(id, " not needed"))
		case v.State != bracket.NotNeeded && othersNow(h, v, drawn.Seeds):
			line := string(id)
			for _, at := range v.Lanes {
				line += " " + string(seedAt(drawn.Seeds, at))
			}
			out = append(out, line)
		}
	}
	return out
}

// othersNow says whether a drawn heat would have other cars now. A lane whose
// car is not decided (an earlier heat races again) says nothing.
func othersNow(h day.Heat, v bracket.HeatView, seeds []day.EntryID) bool {
	now := 0
	for _, at := range v.Lanes {
		if at == bracket.Unknown {
			return false
		}
		if at < 0 {
			continue
		}
		now++
		if _, in := h.Lane(seedAt(seeds, at)); !in {
			return true
		}
	}
	return now != len(h.Lanes)
}

// SumOf is a short sum of what a draw would change, by which a ruling names what it lets stand.
func SumOf(lines []string) string {
	sum := sha256.Sum256([]byte(strings.Join(lines, "\n")))
	return hex.EncodeToString(sum[:])
}
