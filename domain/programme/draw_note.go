package programme

import (
	"benchmeet/bracket"
	"benchmeet/domain/day"
)

// groupmatesMeet says of entries from one group of the stage before what
// bracket.ClubmatesMeet says of one club.
const groupmatesMeet bracket.NoteCode = "groupmates-meet"

// DrawNote is what the draw of a stage could not do, or did on purpose.
type DrawNote struct {
	Stage int
	// Round is the round from which on it may matter; 0 where there is none.
	Round int
	Code  bracket.NoteCode
	// Entries are those concerned, in seed order.
	Entries []day.EntryID
	// Group is the letter of the group that they share, if it is about one.
	Group string
}

// DrawNotes are the notes on a division's draws, by stage and round.
func DrawNotes(s *day.State, division day.DivisionID) []DrawNote {
	d := s.Divisions[division]
	var out []DrawNote
	for i, st := range s.Programmes[division].Stages {
		if st.Tree == nil {
			continue
		}
		for _, n := range st.Tree.Notes {
			note := DrawNote{Stage: i + 1, Round: n.Round, Code: n.Code, Group: n.Group}
			if n.Code == bracket.ClubmatesMeet && !separatesClubs(d.Stages[i]) {
				note.Code = groupmatesMeet
			}
			for _, at := range n.Entries {
				note.Entries = append(note.Entries, seedAt(st.Seeds, at))
			}
			out = append(out, note)
		}
	}
	return out
}
