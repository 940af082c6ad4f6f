package standings

import (
	"fmt"
	"slices"
	"strings"
)

// Status is how an entry ended that did not end with a result alone.
type Status string

// The statuses of an entry in a stage.
const (
	// All of them hold also for an entry that has runs or heats: whoever states one has ruled. Of timed results an entry
	// without a run and without a status did not start.
	DidNotStart  Status = "did-not-start"
	DidNotFinish Status = "did-not-finish"
	Disqualified Status = "disqualified"
	Withdrawn    Status = "withdrawn"
)

// StatusRule says what a status does to the rank.
type StatusRule string

// The rules of a status.
const (
	// Stands ranks the entry on what it has, like everybody.
	Stands StatusRule = "stands"
	// Last ranks it behind all who stand, on what it has.
	Last StatusRule = "last"
	// Unranked lists it at the end without a rank.
	Unranked StatusRule = "unranked"
)

// StatusRules are the programme's choices. An empty rule takes the default in its comment (common practice).
type StatusRules struct {
	DidNotStart  StatusRule // Unranked: it took no part.
	DidNotFinish StatusRule // Last: it took part.
	Disqualified StatusRule // Unranked.
	Withdrawn    StatusRule // Stands: what was measured was measured.
}

func (r StatusRules) of(s Status) StatusRule {
	rule, otherwise := Stands, Stands
	switch s {
	case DidNotStart:
		rule, otherwise = r.DidNotStart, Unranked
	case DidNotFinish:
		rule, otherwise = r.DidNotFinish, Last
	case Disqualified:
		rule, otherwise = r.Disqualified, Unranked
	case Withdrawn:
		rule, otherwise = r.Withdrawn, Stands
	}
	if rule == "" {
		return otherwise
	}
	return rule
}

func (r StatusRules) check() error {
	for _, rule := range []StatusRule{r.DidNotStart, r.DidNotFinish, r.Disqualified, r.Withdrawn} {
		if rule != "" && rule != Stands && rule != Last && rule != Unranked {
			return refuse("the rule for a status must be %q, %q or %q, not %q", Stands, Last, Unranked, rule)
		}
	}
	return nil
}

// Value is what one tie-break makes of an entry.
type Value struct {
	// Name is the tie-break.
	Name string `json:"name"`
	// Value is its figure; for a tie-break that compares lists, the first of the list.
	Value Fraction `json:"value"`
	// None is true where the entry has no figure, for example no second run.
	None bool `json:"none,omitempty"`
}

// Standing is one row of a ranking.
type Standing struct {
	// Rank counts from 1 and is shared by equals (1 2 2 4); 0 is unranked.
	Rank  int    `json:"rank"`
	Entry string `json:"entry"`
	// Figure is what ranks first: the points, or the measure that the rule makes of the runs.
	Figure Fraction `json:"figure"`
	// None is true when there is no figure.
	None bool `json:"none,omitempty"`
	// Counted is the number of runs or heats behind the figure.
	Counted int    `json:"counted"`
	Status  Status `json:"status,omitempty"`
	// TieBreaks holds a value for each tie-break of the chain, in its order.
	TieBreaks []Value `json:"tie_breaks,omitempty"`
	// DecidedBy names the last criterion that parted this entry from one that was level with it until
	// then: "result" or "points", "runs", "status", or a tie-break. It is "shared" where the rank is shared.
	DecidedBy string `json:"decided_by,omitempty"`
	// TooCloseTo lists the entries whose difference to this one is smaller than the uncertainties allow; see Closeness.
	TooCloseTo []string `json:"too_close_to,omitempty"`
}

// Shared is the DecidedBy of a rank that nothing parted.
const Shared = "shared"

// Refusal says why a ranking cannot be made: input that breaks a rule, named in the sentence.
type Refusal struct{ Says string }

// Error returns the sentence.
func (r *Refusal) Error() string { return r.Says }

func refuse(format string, args ...any) *Refusal { return &Refusal{fmt.Sprintf(format, args...)} }

// criterion parts a set of entries (indices) that are level so far into ordered subsets, the best first. The
// order inside a subset does not matter.
type criterion struct {
	name string
	part func(level []int) [][]int
}

// by makes a criterion of an order between two entries.
func by(name string, cmp func(a, b int) int) criterion {
	return criterion{name, func(level []int) [][]int {
		sorted := slices.Clone(level)
		slices.SortStableFunc(sorted, cmp)
		var parts [][]int
		for i, e := range sorted {
			if i == 0 || cmp(sorted[i-1], e) != 0 {
				parts = append(parts, nil)
			}
			parts[len(parts)-1] = append(parts[len(parts)-1], e)
		}
		return parts
	}}
}

// chain applies the criteria one after the other, each only within the sets that are still level, and returns
// the sets in order and the criterion that last parted each entry.
func chain(n int, criteria []criterion) (sets [][]int, decidedBy []string) {
	decidedBy = make([]string, n)
	if n == 0 {
		return nil, decidedBy
	}
	all := make([]int, n)
	for i := range all {
		all[i] = i
	}
	sets = [][]int{all}
	for _, c := range criteria {
		var next [][]int
		for _, set := range sets {
			if len(set) == 1 {
				next = append(next, set)
				continue
			}
			parts := c.part(set)
			// A later criterion that parts the set further writes over this: the last one is told.
			if len(parts) > 1 {
				for _, e := range set {
					decidedBy[e] = c.name
				}
			}
			next = append(next, parts...)
		}
		sets = next
	}
	for _, set := range sets {
		if len(set) > 1 {
			for _, e := range set {
				decidedBy[e] = Shared
			}
		}
	}
	return sets, decidedBy
}

// rows ranks the rows by the sets of a chain; rows whose status is unranked have rank 0 and must come last.
func rows(rows []Standing, sets [][]int, decidedBy []string, unranked func(e int) bool) []Standing {
	var out []Standing
	for _, set := range sets {
		slices.SortFunc(set, func(a, b int) int { return strings.Compare(rows[a].Entry, rows[b].Entry) })
		rank := len(out) + 1
		for _, e := range set {
			row := rows[e]
			row.Rank, row.DecidedBy = rank, decidedBy[e]
			if unranked(e) {
				row.Rank, row.DecidedBy = 0, ""
			}
			out = append(out, row)
		}
	}
	return out
}

// statusClass orders the entries that stand before those that come last and those without a rank, and among the
// latter those who withdrew, did not finish, did not start and were disqualified.
func (r StatusRules) statusClass(s Status) int {
	switch r.of(s) {
	case Last:
		return 1
	case Unranked:
		return 2 + slices.Index([]Status{Withdrawn, DidNotFinish, DidNotStart, Disqualified}, s)
	}
	return 0
}
