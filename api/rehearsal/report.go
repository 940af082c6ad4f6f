package rehearsal

import (
	"time"

	"benchmeet/api/gen"
)

// Report is what a rehearsal prints. Standings depend on the seed alone, the
// summary on the machine.
type Report struct {
	Seed       uint64             `json:"seed"`
	Entries    int                `json:"entries"`
	Benches    int                `json:"benches"`
	Standings  []DivisionStanding `json:"standings"`
	Invariants []Finding          `json:"invariants"`
	Summary    Summary            `json:"summary"`
	// Drift is how far the day went from the timetable that it had before the first race.
	Drift *Drift `json:"drift,omitempty"`
}

// DivisionStanding is a division's final table.
type DivisionStanding struct {
	Division string `json:"division"`
	Lines    []Line `json:"lines"`
}

// Line is one line of a final table.
type Line struct {
	Rank        int     `json:"rank"`
	StartNumber int     `json:"start_number"`
	Nickname    string  `json:"nickname,omitempty"`
	Exit        string  `json:"exit,omitempty"`
	Status      string  `json:"status,omitempty"`
	DistanceM   float64 `json:"distance_m,omitempty"`
}

// Summary says how much was played and how long it took.
type Summary struct {
	Store    string  `json:"store"`
	Events   int64   `json:"events"`
	Heats    int     `json:"heats"`
	Runs     int     `json:"runs"`
	Waiting  int     `json:"runs_that_waited"`
	Rulings  int     `json:"rulings"`
	Screens  int     `json:"screens"`
	Frames   int     `json:"frames"`
	Seconds  float64 `json:"seconds"`
	AllHolds bool    `json:"all_hold"`
}

// Report puts the report together.
func (d *Day) Report(ev Evidence, findings []Finding, store string, took time.Duration) Report {
	out := Report{
		Seed: d.plan.Seed, Entries: len(d.plan.Entries), Benches: len(d.plan.Benches), Invariants: findings,
		Summary: Summary{
			Store: store, Events: ev.Head.Seq, Heats: len(ev.State.Heats), Runs: len(ev.State.Runs),
			Rulings: len(ev.State.Rulings), Screens: len(d.screens), Seconds: took.Seconds(), AllHolds: true,
		},
	}
	out.Drift = driftFrom(d.timetable, ev)
	for _, r := range ev.State.Runs {
		if r.Waiting != "" {
			out.Summary.Waiting++
		}
	}
	for _, s := range d.screens {
		frames, _ := s.counts()
		out.Summary.Frames += frames
	}
	for _, f := range findings {
		out.Summary.AllHolds = out.Summary.AllHolds && f.Holds
	}
	for _, div := range d.plan.Divisions {
		table := DivisionStanding{Division: div.ID, Lines: []Line{}}
		for _, l := range ev.Standings[div.ID].Standings {
			table.Lines = append(table.Lines, line(l))
		}
		out.Standings = append(out.Standings, table)
	}
	return out
}

func line(l gen.Standing) Line {
	distance := num(l.DistanceM)
	if n := len(l.Runs); l.DistanceM == nil && n > 0 {
		distance = num(l.Runs[n-1].DistanceM) // of a knockout's last heat
	}
	return Line{
		Rank: l.Rank, StartNumber: l.Racer.StartNumber, Nickname: str(l.Racer.DisplayName),
		Exit: str(l.Exit), Status: str(l.Status), DistanceM: distance,
	}
}
