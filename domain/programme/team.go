package programme

import (
	"strings"
	"unicode"
	"unicode/utf8"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// maxTeam is how many characters a club's name on an entry may have.
const maxTeam = 30

// CheckTeam refuses what is not a short name of a club. It stands in the log for
// ever, so it is for clubs, schools and troops, and never for a person.
func CheckTeam(team string) error {
	long := utf8.RuneCountInString(team) > maxTeam
	odd := strings.ContainsFunc(team, func(r rune) bool { return !unicode.IsPrint(r) })
	if long || odd || !utf8.ValidString(team) || strings.TrimSpace(team) != team {
		return refusal.New("entry-team", "most", maxTeam)
	}
	return nil
}

// teamsOf numbers the clubs of entries for a draw, negative for none; nil where no
// two entries are of one club. Upper and lower case are one: two people write
// the same club down differently.
func teamsOf(s *day.State, entries []day.EntryID) []int {
	at := map[string]int{}
	out := make([]int, len(entries))
	mates := false
	for i, id := range entries {
		team := strings.ToLower(s.Entries[id].Team)
		if team == "" {
			out[i] = -1
			continue
		}
		n, seen := at[team]
		if !seen {
			n = len(at)
			at[team] = n
		}
		mates = mates || seen
		out[i] = n
	}
	if !mates {
		return nil
	}
	return out
}

// apartOf numbers what a tree keeps apart: clubs where the stage says so, else the
// groups that the entries come from, if any.
func apartOf(s *day.State, d day.Division, stage int, seeds []day.EntryID) []int {
	if separatesClubs(d.Stages[stage-1]) {
		return teamsOf(s, seeds)
	}
	return groupsBefore(s, d, stage, seeds)
}
