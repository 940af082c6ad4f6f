package standings

import (
	"cmp"
	"math"
	"slices"
)

// Better says which end of a measure is the good one.
type Better string

// The two ways.
const (
	// More is better: distance, laps, speed.
	More Better = "more"
	// Less is better: time.
	Less Better = "less"
)

// Rule makes one figure of the runs of an entry.
type Rule string

// The rules. Mean, Median, Sum and BestTwo rank an entry with more runs before one with fewer, whatever the
// figures, since a sum of two times would else beat a sum of three; BestTwo counts at most two.
const (
	Best   Rule = "best"
	Mean   Rule = "mean"
	Median Rule = "median"
	Sum    Rule = "sum"
	// BestTwo is the mean of the two best runs.
	BestTwo Rule = "best-two"
)

// The tie-breaks of timed results; the names of the rules serve as tie-breaks too.
const (
	// NextBest compares the best runs, then the second best, and so on; a run beats no run.
	NextBest = "next-best"
	// Latest compares the runs of the latest round, then of the one before, and so on.
	Latest = "latest"
)

// MaxValue bounds measured values: beyond 2^53 a number is not exact in JSON.
const MaxValue = 1<<53 - 1

// Run is one run that counts.
type Run struct {
	// Round counts from 1.
	Round int
	// Value is the measure in the caller's fixed unit, from 0 to MaxValue.
	Value int64
	// U is its standard uncertainty in the same unit. 0 is not known, unless Exact says
	// that there is none.
	U     int64
	Exact bool
	// Low and High are the ends of the 95 % interval of the value, which holds it; either may be nil. They go before U
	// on their side. Where neither an end nor U is known, that side is open: the truth may lie anywhere there.
	Low, High *int64
	// None is true where there was no run: everything but Round is then 0.
	None bool
}

// TimedEntry is an entry with its runs.
type TimedEntry struct {
	ID     string
	Status Status
	Runs   []Run
}

// TimedRules say how timed results are ranked.
type TimedRules struct {
	Better    Better
	Rule      Rule
	TieBreaks []string
	Statuses  StatusRules
	// Close, when not nil, marks results too close to call.
	Close *Closeness
}

// RankTimed ranks entries by their runs. It refuses an entry listed twice or without an id, two runs of one
// entry in one round, values out of range, and rules and tie-breaks it does not know.
func RankTimed(entries []TimedEntry, rules TimedRules) ([]Standing, error) {
	if err := checkTimed(entries, rules); err != nil {
		return nil, err
	}
	all := make([]timed, len(entries))
	list := make([]Standing, len(entries))
	for i, e := range entries {
		all[i] = newTimed(e, rules)
		list[i] = Standing{Entry: e.ID, Status: all[i].status, Counted: all[i].counted}
		list[i].Figure, list[i].None = all[i].figure(rules.Rule)
		for _, name := range rules.TieBreaks {
			value, none := all[i].tieBreak(name)
			list[i].TieBreaks = append(list[i].TieBreaks, Value{name, value, none})
		}
	}
	class := func(e int) int { return rules.Statuses.statusClass(all[e].status) }
	// The status goes before all, as it says who has a place at all; the runs are told before the
	// result, because some rules count more runs first (see Rule).
	criteria := []criterion{
		by("status", func(a, b int) int { return class(a) - class(b) }),
		by("runs", func(a, b int) int { return all[b].counted - all[a].counted }),
		by("result", func(a, b int) int { return all[a].compare(&all[b], rules.Rule) }),
	}
	for _, name := range rules.TieBreaks {
		criteria = append(criteria, by(name, func(a, b int) int { return all[a].breakTie(&all[b], name) }))
	}
	// A status class of two and more has no rank.
	sets, decidedBy := chain(len(entries), criteria)
	ranked := rows(list, sets, decidedBy, func(e int) bool { return class(e) >= 2 })
	if rules.Close != nil {
		// By id, because rows has put the entries in another order.
		of := make(map[string]*timed, len(entries))
		for i, e := range entries {
			of[e.ID] = &all[i]
		}
		rules.Close.mark(ranked, of, rules.Rule)
	}
	return ranked, nil
}

func checkTimed(entries []TimedEntry, rules TimedRules) error {
	if rules.Better != More && rules.Better != Less {
		return refuse("better must be %q or %q, not %q", More, Less, rules.Better)
	}
	if !isRule(rules.Rule) {
		return refuse("the rule must be %q, %q, %q, %q or %q, not %q", Best, Mean, Median, Sum, BestTwo, rules.Rule)
	}
	for _, name := range rules.TieBreaks {
		// The names of the rules serve as tie-breaks too.
		if name != NextBest && name != Latest && !isRule(Rule(name)) {
			return refuse("the tie-break %q is not known for timed results; known are %q, %q and the names of the rules", name, NextBest, Latest)
		}
	}
	if err := rules.Statuses.check(); err != nil {
		return err
	}
	if err := rules.Close.check(); err != nil {
		return err
	}
	seen := map[string]bool{}
	for _, e := range entries {
		if err := checkID(e.ID, seen); err != nil {
			return err
		}
		if err := checkStatus(e.ID, e.Status); err != nil {
			return err
		}
		if err := checkRuns(e); err != nil {
			return err
		}
	}
	return nil
}

// checkRuns refuses runs that cannot be: two of one round, and numbers out of range or order.
func checkRuns(e TimedEntry) error {
	rounds := map[int]bool{}
	for _, r := range e.Runs {
		switch {
		case r.Round < 1:
			return refuse("entry %s has a run in round %d; rounds count from 1", e.ID, r.Round)
		case rounds[r.Round]:
			return refuse("entry %s has two runs in round %d; keep the one that counts", e.ID, r.Round)
		case r.Value < 0 || r.Value > MaxValue || r.U < 0 || r.U > MaxValue:
			return refuse("entry %s has a value or an uncertainty in round %d that is negative or too large", e.ID, r.Round)
		// The value lies in its interval; an end alone is enough.
		case !r.None && (r.Low != nil && *r.Low > r.Value || r.High != nil && *r.High < r.Value):
			return refuse("entry %s has an interval in round %d that does not hold its value", e.ID, r.Round)
		case r.Low != nil && *r.Low < -MaxValue || r.High != nil && *r.High > MaxValue:
			return refuse("entry %s has an interval in round %d that is too large", e.ID, r.Round)
		}
		rounds[r.Round] = true
	}
	return nil
}

func isRule(r Rule) bool {
	return slices.Contains([]Rule{Best, Mean, Median, Sum, BestTwo}, r)
}

func checkID(id string, seen map[string]bool) error {
	if id == "" {
		return refuse("an entry has no id")
	}
	if seen[id] {
		return refuse("entry %s is listed twice", id)
	}
	seen[id] = true
	return nil
}

func checkStatus(id string, s Status) error {
	switch s {
	case "", DidNotStart, DidNotFinish, Disqualified, Withdrawn:
		return nil
	}
	return refuse("entry %s has the status %q; known are %q, %q, %q and %q", id, s, DidNotStart, DidNotFinish, Disqualified, Withdrawn)
}

// timed is an entry being ranked.
type timed struct {
	better  Better
	status  Status
	counted int   // the runs that the rule needs to be many
	best    []Run // the runs there were, the best first
	latest  []Run // the runs there were, the latest first
}

func newTimed(e TimedEntry, rules TimedRules) timed {
	t := timed{better: rules.Better, status: e.Status}
	for _, r := range e.Runs {
		if !r.None {
			t.best = append(t.best, r)
		}
	}
	t.latest = slices.Clone(t.best)
	slices.SortFunc(t.latest, func(a, b Run) int { return b.Round - a.Round })
	slices.SortFunc(t.best, func(a, b Run) int {
		if c := t.order(a.Value, b.Value); c != 0 {
			return c
		}
		return a.Round - b.Round
	})
	if len(t.best) == 0 && e.Status == "" {
		t.status = DidNotStart
	}
	t.counted = len(t.best)
	switch rules.Rule {
	case Best:
		t.counted = min(1, t.counted)
	case BestTwo:
		t.counted = min(2, t.counted)
	}
	return t
}

// order is negative when a is the better value.
func (t *timed) order(a, b int64) int {
	if t.better == More {
		return cmp.Compare(b, a)
	}
	return cmp.Compare(a, b)
}

// used returns the runs that the rule makes its figure of, and what their sum is divided by.
func (t *timed) used(rule Rule) (runs []Run, divisor int64) {
	n := len(t.best)
	if n == 0 {
		return nil, 1
	}
	switch rule {
	case Best:
		return t.best[:1], 1
	case Mean:
		return t.best, int64(n)
	case BestTwo:
		runs = t.best[:min(2, n)]
		return runs, int64(len(runs))
	case Median:
		runs = t.best[(n-1)/2 : n/2+1]
		return runs, int64(len(runs))
	default:
		return t.best, 1
	}
}

func (t *timed) figure(rule Rule) (figure Fraction, none bool) {
	runs, divisor := t.used(rule)
	if r := t.ratio(rule); !r.large && r.sum <= math.MaxInt64 {
		return Ratio(int64(r.sum), divisor), len(runs) == 0
	}
	for _, r := range runs {
		figure = figure.Add(Whole(r.Value))
	}
	return figure.Over(divisor), len(runs) == 0
}

// compare is negative when t has the better figure; no figure is worse than any.
func (t *timed) compare(other *timed, rule Rule) int {
	noneA, noneB := len(t.best) == 0, len(other.best) == 0
	switch {
	case noneA && noneB:
		return 0
	case noneA:
		return 1
	case noneB:
		return -1
	case t.better == More:
		t, other = other, t
	}
	if difference, sure := t.ratio(rule).minus(other.ratio(rule)); sure {
		return cmp.Compare(difference, 0)
	}
	a, _ := t.figure(rule)
	b, _ := other.figure(rule)
	return a.Cmp(b)
}

func (t *timed) breakTie(other *timed, name string) int {
	switch name {
	case NextBest:
		return t.compareRuns(t.best, other.best)
	case Latest:
		return t.compareRounds(other)
	}
	return t.compare(other, Rule(name))
}

func (t *timed) compareRuns(a, b []Run) int {
	for i := range min(len(a), len(b)) {
		if c := t.order(a[i].Value, b[i].Value); c != 0 {
			return c
		}
	}
	return len(b) - len(a)
}

// compareRounds goes back round by round; a run in a later round beats none there.
func (t *timed) compareRounds(other *timed) int {
	for i := range min(len(t.latest), len(other.latest)) {
		a, b := t.latest[i], other.latest[i]
		if a.Round != b.Round {
			return b.Round - a.Round
		}
		if c := t.order(a.Value, b.Value); c != 0 {
			return c
		}
	}
	return len(other.latest) - len(t.latest)
}

// tieBreak returns the figure that a tie-break shows: the second best run, the latest run, or the rule's figure.
func (t *timed) tieBreak(name string) (value Fraction, none bool) {
	switch name {
	case NextBest:
		if len(t.best) < 2 {
			return Fraction{}, true
		}
		return Whole(t.best[1].Value), false
	case Latest:
		if len(t.latest) == 0 {
			return Fraction{}, true
		}
		return Whole(t.latest[0].Value), false
	}
	return t.figure(Rule(name))
}
