package sheet

import (
	"bytes"
	"encoding/json"
	"fmt"
	"math"
	"slices"
	"time"

	domainrefusal "benchmeet/domain/refusal"
	"benchmeet/domain/timetable"
)

// TimetableHelp shows the format of a day to be planned.
const TimetableHelp = `
Plans heats and tasks onto benches and times, as short a day as it finds. Times are whole numbers, from 0 on.

  {"unit": "s", "resources": {"bench": 4, "referee": 2},
   "activities": [{"id": "1.1", "duration": 240, "needs": {"bench": 2, "referee": 1}, "entries": ["A", "B"]},
                  {"id": "1.2", "duration": 240, "needs": {"bench": 2, "referee": 1}, "entries": ["C", "D"]},
                  {"id": "1.3", "duration": 240, "needs": {"bench": 2, "referee": 1}, "entries": ["A", "C"]},
                  {"id": "final", "duration": 240, "needs": {"bench": 2, "referee": 1},
                   "after": ["1.1", "1.2", "1.3"], "release": 900, "due": 3600}],
   "rest": {"default": 300, "entries": {"A": 600}},
   "outages": [{"resource": "bench", "amount": 1, "from": 0, "to": 400}],
   "benches": ["b1", "b2", "b3", "b4"]}

  unit        ms, s (as without it) or min: what the numbers mean; the answer is in the same
  resources   how many there are of each; "bench" is the one whose units have names
  activities  duration with the change-over; needs: how many units it uses from start to end; after: what must have
              ended before; release: earliest start (0); due: latest end, which is kept or the file is refused;
              entries: no two activities that share one overlap, and its rest lies between them
  rest        default (0), and of single entries where it is otherwise
  outages     amount of a resource, or "bench": a named one; from, to (null: it does not come back)
  benches     their names; without them they are b1, b2, ...
  fixed       {"1.1": 0} or {"1.1": {"start": 0, "benches": ["b1", "b2"]}}: starts that stay as they are, of what has
              begun, and on which benches
  standing    {"1.1": 0, ...}: the starts of an earlier plan. As long as no rule has become stricter the new plan is
              never longer

The search ends after --seconds, at a plan that none can be shorter than, or with --rounds after that many tries: then
the same file and --seed always give the same answer. The answer gives every start and, for what needs benches, their
names, evened out by use, and

  makespan      the end of the last activity
  lower_bound   no plan that keeps the rules can be shorter; proved says that this one is as short
  why           the rule from which the bound comes: "rest of entry F", "benches between 0 and 3600", "chain to 3.1"
  greedy        the length by the simple rule: whenever something is free, the first of the file that can start does

Where rules cannot all hold the activity and the rule are named. Durations are not forecast: leave some slack.
`

// benchResource is the resource whose units the file names.
const benchResource = "bench"

// TimetableInput is a day to be planned.
type TimetableInput struct {
	Unit       string              `json:"unit"`
	Resources  map[string]int      `json:"resources"`
	Activities []timetableActivity `json:"activities"`
	Rest       timetableRest       `json:"rest"`
	Outages    []timetableOutage   `json:"outages"`
	Benches    []string            `json:"benches"`
	Fixed      map[string]fixed    `json:"fixed"`
	Standing   map[string]int      `json:"standing"`
}

// fixed is a start that stays, with its benches where it says which ones.
type fixed struct {
	Start   int      `json:"start"`
	Benches []string `json:"benches"`
}

// UnmarshalJSON reads a number as a start alone.
func (f *fixed) UnmarshalJSON(text []byte) error {
	if err := json.Unmarshal(text, &f.Start); err == nil {
		return nil
	}
	type whole fixed
	in := json.NewDecoder(bytes.NewReader(text))
	in.DisallowUnknownFields()
	return in.Decode((*whole)(f))
}

type timetableActivity struct {
	ID       string         `json:"id"`
	Duration int            `json:"duration"`
	Needs    map[string]int `json:"needs"`
	After    []string       `json:"after"`
	Release  int            `json:"release"`
	Due      *int           `json:"due"`
	Entries  []string       `json:"entries"`
}

type timetableRest struct {
	Default int            `json:"default"`
	Entries map[string]int `json:"entries"`
}

type timetableOutage struct {
	Resource string `json:"resource"`
	Bench    string `json:"bench"`
	Amount   *int   `json:"amount"`
	From     int    `json:"from"`
	To       *int   `json:"to"`
}

// TimetableOutput is the plan.
type TimetableOutput struct {
	Unit       string              `json:"unit"`
	Makespan   int                 `json:"makespan"`
	LowerBound int                 `json:"lower_bound"`
	Proved     bool                `json:"proved"`
	Greedy     int                 `json:"greedy"`
	Starts     map[string]int      `json:"starts"`
	Benches    map[string][]string `json:"benches"`
	Why        string              `json:"why"`
}

// Timetable plans a day, and searches for so many seconds where o gives no number of
// rounds. The answer is a TimetableOutput.
func Timetable(in TimetableInput, o timetable.Options, seconds float64) (any, error) {
	units := []string{"", "ms", "s", "min"}
	if !slices.Contains(units, in.Unit) {
		return nil, Refuse("the unit %q is not known; known are: ms, s, min", in.Unit)
	}
	p, err := in.problem()
	if err != nil {
		return nil, err
	}
	// A number of rounds gives the same plan on every machine, a time does not.
	if o.Rounds == 0 {
		end := time.Now().Add(time.Duration(math.Round(seconds * float64(time.Second))))
		o.Stop = func() bool { return !time.Now().Before(end) }
	}
	o.Standing = in.Standing
	plan, err := timetable.Solve(p, o)
	if no, is := domainrefusal.As(err); is {
		return nil, Refuse("%w", no)
	}
	if err != nil {
		return nil, err
	}
	out := TimetableOutput{
		Unit: in.Unit, Makespan: plan.Makespan, LowerBound: plan.LowerBound, Proved: plan.Proved, Greedy: plan.Greedy,
		Starts: plan.Starts, Benches: plan.Units[benchResource], Why: plan.Why.Says(),
	}
	if out.Unit == "" {
		out.Unit = "s"
	}
	// An empty object and not null, which is what a reader expects of a map.
	if out.Benches == nil {
		out.Benches = map[string][]string{}
	}
	return out, nil
}

// problem is the file as the planner takes it, resources in the order of their names.
func (in TimetableInput) problem() (timetable.Problem, error) {
	p := timetable.Problem{Rest: timetable.Rest(in.Rest), Fixed: map[string]int{}, FixedUnits: map[string][]string{}}
	for id, f := range in.Fixed {
		p.Fixed[id] = f.Start
		if len(f.Benches) > 0 {
			p.FixedUnits[id] = f.Benches
		}
	}
	// The benches are a resource like any other, and a file may give their number, their names or
	// both. Without names they get some, no more than the planner takes.
	if n, there := in.Resources[benchResource]; !there && len(in.Benches) > 0 {
		in.Resources = withBenches(in.Resources, len(in.Benches))
	} else if len(in.Benches) == 0 {
		for k := range min(n, 100_000) {
			in.Benches = append(in.Benches, fmt.Sprint("b", k+1))
		}
	}
	var names []string
	for name := range in.Resources {
		names = append(names, name)
	}
	slices.Sort(names)
	for _, name := range names {
		r := timetable.Resource{Name: name, Capacity: in.Resources[name]}
		if name == benchResource {
			r.Units = in.Benches
		}
		p.Resources = append(p.Resources, r)
	}
	for _, a := range in.Activities {
		p.Activities = append(p.Activities, timetable.Activity(a))
	}
	for k, o := range in.Outages {
		out := timetable.Outage{Resource: o.Resource, Unit: o.Bench, From: o.From, To: o.To}
		switch {
		case o.Bench != "" && o.Resource != "" && o.Resource != benchResource:
			return p, Refuse("outage number %d names the bench %s and the resource %s; name one of them", k+1, o.Bench, o.Resource)
		// A bench is one unit; the planner refuses an amount beside it that says more.
		case o.Bench != "":
			out.Resource, out.Amount = benchResource, 1
		case o.Resource == "":
			return p, Refuse("outage number %d names neither a resource nor a bench", k+1)
		case o.Amount == nil:
			return p, Refuse("outage number %d does not say the amount of %s that is out", k+1, o.Resource)
		}
		if o.Amount != nil {
			out.Amount = *o.Amount
		}
		p.Outages = append(p.Outages, out)
	}
	return p, nil
}

// withBenches adds as many benches as are named, where the file does not say how many.
func withBenches(resources map[string]int, n int) map[string]int {
	out := map[string]int{benchResource: n}
	for name, amount := range resources {
		out[name] = amount
	}
	return out
}
