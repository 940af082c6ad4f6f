package meet

import (
	"reflect"
	"slices"

	"benchmeet/domain/refusal"
)

// MergeDivisions has small divisions race together and ranks them apart: the
// entries of From race in Into and keep their own band. Only before the draw, and
// only cars of one class.
type MergeDivisions struct {
	Into DivisionID
	From []DivisionID
}

// DivisionsMerged says which divisions race together from now on.
type DivisionsMerged struct {
	Into DivisionID   `json:"into"`
	From []DivisionID `json:"from"`
	By   string       `json:"by"`
}

// SplitDivision takes divisions apart again that race together in one, before the
// draw.
type SplitDivision struct {
	Division DivisionID
}

// DivisionsSplit says which divisions race by themselves again.
type DivisionsSplit struct {
	Division DivisionID   `json:"division"`
	From     []DivisionID `json:"from"`
	By       string       `json:"by"`
}

func (c MergeDivisions) decide(s *State, m Meta) ([]Event, error) {
	into, err := Undrawn(s, c.Into)
	if err != nil {
		return nil, err
	}
	in := map[EntrantID]bool{}
	for _, e := range s.SortedEntries(c.Into) {
		in[e.Entrant] = in[e.Entrant] || e.Racing()
	}
	if len(c.From) == 0 {
		return nil, refusal.New("merge-with", "division", c.Into)
	}
	for i, id := range c.From {
		d, err := Undrawn(s, id)
		if err != nil {
			return nil, err
		}
		switch {
		case id == c.Into || slices.Contains(c.From[:i], id):
			return nil, refusal.New("merge-twice", "division", id)
		case len(Merged(s, id)) > 0:
			return nil, refusal.New("merge-host", "division", id)
		case !reflect.DeepEqual(d.Class, into.Class):
			return nil, refusal.New("merge-class", "division", id, "into", c.Into)
		}
		for _, e := range s.SortedEntries(id) {
			if e.Racing() && in[e.Entrant] {
				return nil, refusal.New("entrant-there", "number", e.StartNumber, "division", id)
			}
			in[e.Entrant] = in[e.Entrant] || e.Racing()
		}
	}
	return []Event{DivisionsMerged{Into: c.Into, From: c.From, By: m.Actor}}, nil
}

func (c SplitDivision) decide(s *State, m Meta) ([]Event, error) {
	d, err := Undrawn(s, c.Division)
	if err != nil {
		return nil, err
	}
	from := Merged(s, d.ID)
	if len(from) == 0 {
		return nil, nil
	}
	return []Event{DivisionsSplit{Division: d.ID, From: from, By: m.Actor}}, nil
}

// Host is the division in which the entries of a division race: itself, unless it
// was merged into another.
func Host(s *State, id DivisionID) DivisionID {
	if host := s.Programmes[id].MergedInto; host != "" {
		return host
	}
	return id
}

// Merged are the divisions that race in another one, by id.
func Merged(s *State, into DivisionID) []DivisionID {
	var out []DivisionID
	for _, d := range s.SortedDivisions() {
		if s.Programmes[d.ID].MergedInto == into {
			out = append(out, d.ID)
		}
	}
	return out
}

// Home is the division that an entry is ranked in: the one that it was entered
// for.
func (e Entry) Home() DivisionID {
	if e.Band != "" {
		return e.Band
	}
	return e.Division
}

// RacesIn says where an entry for a division races, and its band if that is
// elsewhere.
func RacesIn(s *State, asked DivisionID) (host, band DivisionID) {
	if host = Host(s, asked); host != asked {
		band = asked
	}
	return host, band
}

// Hosting finds a division that has a programme of its own; it refuses one that
// races in another.
func Hosting(s *State, id DivisionID) (Division, error) {
	d, err := s.Division(id)
	if err == nil && Host(s, id) != id {
		err = refusal.New("division-merged", "division", id, "into", Host(s, id))
	}
	return d, err
}

// Undrawn finds a hosting division of which nothing is drawn.
func Undrawn(s *State, id DivisionID) (Division, error) {
	d, err := Hosting(s, id)
	if err != nil {
		return d, err
	}
	p := s.Programmes[id]
	if stage, _ := p.Round(); stage > 0 {
		return d, refusal.New("division-drawn", "division", id)
	}
	if p.EndedEarly {
		return d, refusal.New("programme-over", "division", id)
	}
	return d, nil
}

// bands gives the lines of divisions that race together their bands, with the
// ranks within them.
func bands(s *State, division DivisionID, lines []Standing) []Standing {
	if len(Merged(s, division)) == 0 {
		return lines
	}
	type last struct{ lines, rank, bandRank int }
	of := map[DivisionID]last{}
	for i := range lines {
		l := &lines[i]
		l.Band = s.Entries[l.Entry].Home()
		if l.Rank == 0 {
			continue
		}
		b := of[l.Band]
		b.lines++
		if b.rank != l.Rank {
			b.rank, b.bandRank = l.Rank, b.lines
		}
		l.BandRank = b.bandRank
		of[l.Band] = b
	}
	return lines
}

// bandStandings is the table of a division that races in another: its own
// entries, ranked among themselves.
func bandStandings(s *State, band DivisionID) []Standing {
	var out []Standing
	for _, line := range Standings(s, Host(s, band)) {
		if line.Band == band {
			line.Rank = line.BandRank
			out = append(out, line)
		}
	}
	return out
}

// Type is the name in the log.
func (DivisionsMerged) Type() string { return "DivisionsMerged" }

func (e DivisionsMerged) apply(s *State) {
	for _, from := range e.From {
		p := s.Programmes[from]
		p.MergedInto = e.Into
		s.Programmes[from] = p
		for _, entry := range s.SortedEntries(from) {
			entry.Division, entry.Band = e.Into, from
			s.Entries[entry.ID] = entry
		}
	}
}

// Type is the name in the log.
func (DivisionsSplit) Type() string { return "DivisionsSplit" }

func (e DivisionsSplit) apply(s *State) {
	for _, from := range e.From {
		p := s.Programmes[from]
		p.MergedInto = ""
		s.Programmes[from] = p
	}
	for _, entry := range s.SortedEntries(e.Division) {
		if entry.Band != "" {
			entry.Division, entry.Band = entry.Band, ""
			s.Entries[entry.ID] = entry
		}
	}
}
