package comparison

import (
	"fmt"
	"strconv"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
)

// Used is a run that the comparison used.
type Used struct {
	Run   day.RunID
	Bench day.BenchID
	Heat  day.HeatID  // of a race
	Entry day.EntryID // of a race
	Car   day.CarID
	// Check is the number of the reference check that the run is of, 0 for a race.
	Check int
	AtUS  int64
	um    int64 // mean speed, µm/s
	race  int64 // length of the race, µs
	// round names the round that it was run in: of a stage, or a reference check, whose
	// few runs go with the benches slot by slot.
	round string
}

// gather lists what can be compared: the counting runs of the meet and the runs of
// its reference checks, on benches of the meet, each oldest first. Runs that were
// counted by hand, and those that show no speed, compare nothing.
func gather(s *day.State, c *club.State, meetID string) []Used {
	var out []Used
	for _, r := range s.SortedRuns() {
		if r.Source != day.SourceBench || !s.Counting(r) || r.Figures.MeanUMPS <= 0 {
			continue
		}
		if _, here := s.Benches[r.Bench]; !here {
			continue
		}
		h := s.Heats[r.Heat]
		out = append(out, Used{
			Run: r.ID, Bench: r.Bench, Heat: r.Heat, Entry: r.Entry, Car: s.Entries[r.Entry].Car, AtUS: r.AtUS,
			um: r.Figures.MeanUMPS, race: s.Divisions[h.Division].Stages[h.Stage-1].RaceUS,
			round: fmt.Sprint(h.Division, " ", h.Stage, ".", h.Round),
		})
	}
	// A reference run carries the number of its check, which says how long it was.
	length := map[int]int64{}
	for _, check := range c.ChecksOf(meetID) {
		length[check.Number] = check.RaceUS
	}
	for _, r := range c.ReferenceRuns(meetID) {
		if _, here := s.Benches[r.Bench]; !here || r.Figures.MeanUMPS <= 0 {
			continue
		}
		out = append(out, Used{
			Run: r.ID, Bench: r.Bench, Car: r.Car, Check: r.Reference.Check, AtUS: r.AtUS,
			um: r.Figures.MeanUMPS, race: length[r.Reference.Check], round: fmt.Sprint("check ", r.Reference.Check),
		})
	}
	return out
}

// fitted are the runs as the fit takes them. Benches go by their plates, so that
// the sentences name what stands on them; times are hours since the first run.
func fitted(s *day.State, used []Used) []fairness.Run {
	out := make([]fairness.Run, len(used))
	if len(used) == 0 {
		return out
	}
	first := used[0].AtUS
	for _, u := range used {
		first = min(first, u.AtUS)
	}
	for i, u := range used {
		out[i] = fairness.Run{
			Bench: plate(s, u.Bench), Car: string(u.Car) + " " + strconv.FormatInt(u.race, 10),
			Value: float64(u.um), At: float64(u.AtUS-first) / 3.6e9, Round: u.round,
		}
	}
	return out
}

// plate is a bench's number as a name.
func plate(s *day.State, id day.BenchID) string { return strconv.Itoa(s.Benches[id].Number) }
