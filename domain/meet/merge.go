package meet

import (
	"reflect"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

// MergeDivisions has small divisions race together and ranks them apart: the
// entries of From race in Into and keep their own band. Only before the draw, and
// only cars of one class.
type MergeDivisions struct {
	Into day.DivisionID
	From []day.DivisionID
}

// SplitDivision takes divisions apart again that race together in one, before the
// draw.
type SplitDivision struct {
	Division day.DivisionID
}

func (c MergeDivisions) decide(s *day.State, m day.Meta) ([]day.Event, error) {
	into, err := Undrawn(s, c.Into)
	if err != nil {
		return nil, err
	}
	in := map[day.EntrantID]bool{}
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
	return []day.Event{day.DivisionsMerged{Into: c.Into, From: c.From, By: m.Actor}}, nil
}

func (c SplitDivision) decide(s *day.State, m day.Meta) ([]day.Event, error) {
	d, err := Undrawn(s, c.Division)
	if err != nil {
		return nil, err
	}
	from := Merged(s, d.ID)
	if len(from) == 0 {
		return nil, nil
	}
	return []day.Event{day.DivisionsSplit{Division: d.ID, From: from, By: m.Actor}}, nil
}

// Host is the division in which the entries of a division race: itself, unless it
// was merged into another.
func Host(s *day.State, id day.DivisionID) day.DivisionID {
	if host := s.Programmes[id].MergedInto; host != "" {
		return host
	}
	return id
}

// Merged are the divisions that race in another one, by id.
func Merged(s *day.State, into day.DivisionID) []day.DivisionID {
	var out []day.DivisionID
	for _, d := range s.SortedDivisions() {
		if s.Programmes[d.ID].MergedInto == into {
			out = append(out, d.ID)
		}
	}
	return out
}

// RacesIn says where an entry for a division races, and its band if that is
// elsewhere.
func RacesIn(s *day.State, asked day.DivisionID) (host, band day.DivisionID) {
	if host = Host(s, asked); host != asked {
		band = asked
	}
	return host, band
}

// Hosting finds a division that has a programme of its own; it refuses one that
// races in another.
func Hosting(s *day.State, id day.DivisionID) (day.Division, error) {
	d, err := s.Division(id)
	if err == nil && Host(s, id) != id {
		err = refusal.New("division-merged", "division", id, "into", Host(s, id))
	}
	return d, err
}

// Undrawn finds a hosting division of which nothing is drawn.
func Undrawn(s *day.State, id day.DivisionID) (day.Division, error) {
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
func bands(s *day.State, division day.DivisionID, lines []Standing) []Standing {
	if len(Merged(s, division)) == 0 {
		return lines
	}
	type last struct{ lines, rank, bandRank int }
	of := map[day.DivisionID]last{}
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
func bandStandings(s *day.State, band day.DivisionID) []Standing {
	var out []Standing
	for _, line := range Standings(s, Host(s, band)) {
		if line.Band == band {
			line.Rank = line.BandRank
			out = append(out, line)
		}
	}
	return out
}
