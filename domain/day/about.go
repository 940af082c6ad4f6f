package day

import (
	"slices"

	"benchmeet/domain/refusal"
)

// reasoned is an event with a reason, which may have a free text.
type reasoned interface{ reason() Reason }

// told is an event that knows whom its free text is about, in the state before it:
// the entries that it names, or all of the heat, bench or division that it is about.
// Whoever writes a reason may name any of them. No entries where nobody can say.
type told interface {
	reasoned
	about(s *State) []EntryID
}

// About lists the people, in order, whom a free text is about by the events that
// follow from its order, in the state before them; the text is erased with any of
// them. It is a refusal where nobody can say, for such a text could never be erased
// with whom it names.
func About(s *State, text string, events ...Event) ([]EntrantID, error) {
	var people []EntrantID
	for _, e := range events {
		t, is := e.(told)
		if !is || t.reason().Text != text {
			continue
		}
		for _, id := range t.about(s) {
			if entry, there := s.Entries[id]; there {
				people = append(people, entry.Entrant)
			}
		}
	}
	if len(people) == 0 {
		return nil, refusal.New("text-about-unknown")
	}
	slices.Sort(people)
	return slices.Compact(people), nil
}

// TextOf is the id of an event's free text, "" where it has none.
func TextOf(e Event) string {
	if r, is := e.(reasoned); is {
		return r.reason().Text
	}
	return ""
}

func (r Ruled) reason() Reason { return r.Reason }

func (e RerunAsked) reason() Reason { return e.Reason }

func (e ProtestLodged) reason() Reason { return e.Reason }

func (e RoundClosed) reason() Reason {
	if e.Early == nil {
		return Reason{}
	}
	return *e.Early
}

// Of a lane.

func (e RerunAsked) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e RerunTurnedDown) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e RerunGranted) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e RunLeftStanding) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e StatusRuled) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e PenaltyGiven) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e RaceAllowed) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e EntryDisqualified) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e EntryWithdrawn) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e EntryReinstated) about(*State) []EntryID { return []EntryID{e.Entry} }

func (e LanesSwapped) about(*State) []EntryID { return []EntryID{e.A, e.B} }

// Of a run.

func (e RunAccepted) about(s *State) []EntryID {
	return []EntryID{e.Entry, s.Runs[e.Run].Entry}
}

func (e RunReassigned) about(*State) []EntryID { return []EntryID{e.FromEntry, e.Entry} }

func (e RunSetAside) about(s *State) []EntryID { return []EntryID{s.Runs[e.Run].Entry, e.Entry} }

func (e HandCountCorrected) about(s *State) []EntryID { return []EntryID{s.Runs[e.Run].Entry} }

// A bench is measured again as a whole: all who ran on it.
func (e RunMeasuredAgain) about(s *State) (out []EntryID) {
	for _, r := range s.Runs {
		if r.Bench == s.Runs[e.Run].Bench {
			out = append(out, r.Entry)
		}
	}
	return out
}

// Of a heat.

func (e HeatVoided) about(s *State) []EntryID { return inHeat(s, e.Heat) }

func (e ProtestLodged) about(s *State) []EntryID { return protested(s, e.Heat, e.Entry) }

func (e ProtestRuled) about(s *State) []EntryID {
	p := s.Protests[e.ID]
	return protested(s, p.Heat, p.Entry)
}

// protested is for whom a protest is, or else all whose heat it is against.
func protested(s *State, heat HeatID, entry EntryID) []EntryID {
	if entry != "" {
		return []EntryID{entry}
	}
	return inHeat(s, heat)
}

func inHeat(s *State, id HeatID) (out []EntryID) {
	for _, l := range s.Heats[id].Lanes {
		out = append(out, l.Entry)
	}
	return out
}

// Of a division, or of all.

func (e RoundDrawnAgain) about(s *State) []EntryID { return inDivision(s, e.Drawn.Division) }

func (e RestDrawnAgain) about(s *State) []EntryID { return inDivision(s, e.Division) }

func (e DrawLetStand) about(s *State) []EntryID { return inDivision(s, e.Division) }

func (e ProgrammeEnded) about(s *State) []EntryID { return inDivision(s, e.Division) }

func (e RoundClosed) about(s *State) []EntryID { return inDivision(s, e.Division) }

func (FactorsAdopted) about(s *State) []EntryID { return inDivision(s, "") }

func (FactorsWithdrawn) about(s *State) []EntryID { return inDivision(s, "") }

// inDivision is all entries of a division, of all divisions where it is empty.
func inDivision(s *State, id DivisionID) (out []EntryID) {
	for _, e := range s.SortedEntries(id) {
		out = append(out, e.ID)
	}
	return out
}
