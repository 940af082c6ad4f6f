package comparison

import (
	"cmp"
	"slices"
	"strconv"

	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
)

// Check is a reference check with how far it is and what came of it.
type Check struct {
	club.Check
	Slots []club.Slot
	// Done is how many of the slots' runs are there.
	Done int
	// Fit is over the runs of this check; nil before the first.
	Fit *fairness.Fit
	// Against says what the benches are held to.
	Against Against
	Benches []Checked
}

// Against says what a check is held to.
type Against string

// What a check is held to.
const (
	AgainstItself  Against = "itself"  // there is nothing yet: only noise is a fault
	AgainstEarlier Against = "earlier" // the first whole check, or the last one that found a bench moved
	AgainstAdopted Against = "adopted" // the factors that had been adopted when it began
)

// Checked is what a check says of one bench.
type Checked struct {
	ID     day.BenchID
	Number int
	AtUS   int64 // its last run in the check
	// Judged says that there were enough runs to judge by; Good that the bench reads
	// as it should.
	Judged, Good bool
	// Moved says that the bench reads something else than what it is held to.
	Moved bool
	// Off is how far the bench has moved, as ln, with its standard uncertainty; 0 where
	// there is nothing to hold it to.
	Off, U float64
	Says   []fairness.Note
}

// checks reads the reference checks of a meet.
func checks(s *day.State, c *club.State, meetID string, used []Used) ([]Check, error) {
	var out []Check
	var earlier []fairness.Adopted // by plate
	for _, begun := range c.ChecksOf(meetID) {
		check := Check{Check: begun, Against: AgainstItself}
		var runs []Used
		for _, u := range used {
			if u.Check == begun.Number {
				runs = append(runs, u)
			}
		}
		check.Slots = c.Slots(begun)
		for _, slot := range check.Slots {
			if slot.Run != "" {
				check.Done++
			}
		}
		if len(runs) > 0 {
			fit, err := fairness.FitBenches(fitted(s, runs), fairness.Hours)
			if err != nil {
				return nil, err
			}
			check.Fit = fit
			before := earlier
			if earlier != nil {
				check.Against = AgainstEarlier
			}
			if set := adoptedBefore(s, begun.AtUS); set != nil {
				before, check.Against = set, AgainstAdopted
			}
			check.judge(s, runs, before)
			if adopted, err := fit.Adopt(); err == nil && check.Done == len(check.Slots) && (earlier == nil || check.moved()) {
				earlier = adopted
			}
		}
		out = append(out, check)
	}
	return out, nil
}

// moved says whether a bench reads something else than before.
func (c *Check) moved() bool {
	return slices.ContainsFunc(c.Benches, func(b Checked) bool { return b.Moved })
}

// adoptedBefore are the newest factors that were adopted before an instant, by
// plate. Whether they were withdrawn since says nothing about the benches.
func adoptedBefore(s *day.State, atUS int64) []fairness.Adopted {
	for _, set := range slices.Backward(s.Factors) {
		if set.AtUS >= atUS {
			continue
		}
		out := slices.Clone(set.Factors)
		for i := range out {
			out[i].Bench = plate(s, day.BenchID(out[i].Bench))
		}
		return out
	}
	return nil
}

// judge holds every bench of the check to what it read before.
func (c *Check) judge(s *day.State, runs []Used, before []fairness.Adopted) {
	again := map[string]fairness.Recheck{}
	if list, err := c.Fit.Recheck(before); err == nil {
		for _, r := range list {
			again[r.Bench] = r
		}
	}
	for _, b := range c.Fit.Benches {
		checked := Checked{Says: b.Says, Judged: b.Verdict != ""}
		checked.Number, _ = strconv.Atoi(b.Name) // written from a number
		for _, u := range runs {
			if plate(s, u.Bench) == b.Name {
				checked.ID, checked.AtUS = u.Bench, max(checked.AtUS, u.AtUS)
			}
		}
		checked.Good = checked.Judged && b.Verdict != fairness.Noisy
		if r, there := again[b.Name]; there {
			checked.Off, checked.U = r.Off, r.U
			checked.Moved = !r.Good
			checked.Good = checked.Good && r.Good
			checked.Says = r.Says()
			if b.Verdict == fairness.Noisy {
				checked.Says = append(checked.Says, b.Says...)
			}
		}
		c.Benches = append(c.Benches, checked)
	}
	slices.SortFunc(c.Benches, func(a, b Checked) int { return cmp.Compare(a.Number, b.Number) })
}
