package programme

import (
	"benchmeet/domain/day"
	"benchmeet/domain/refusal"
)

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
