package board

import (
	"cmp"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/inspection"
	"benchmeet/domain/measure"
	"benchmeet/domain/programme"
)

// TaskKind says what somebody has to decide.
type TaskKind string

// Task kinds.
const (
	TaskWaitingRun TaskKind = "waiting-run"     // accept, or set aside
	TaskAsked      TaskKind = "rerun-asked"     // a bench asks for a re-run: grant, or turn down
	TaskProtest    TaskKind = "protest"         // uphold, or turn down
	TaskUpheld     TaskKind = "protest-upheld"  // the ruling that follows from an upheld protest
	TaskNotThere   TaskKind = "not-there"       // the call is over and a car is not ready
	TaskTie        TaskKind = "tie"             // a heat that needs an order has none
	TaskDoubtful   TaskKind = "doubtful-run"    // the pulses are in doubt: re-run?
	TaskClose      TaskKind = "close-round"     // all heats posted, protest time over
	TaskDraw       TaskKind = "draw-round"      // the next round can be drawn
	TaskSeed       TaskKind = "seed-order"      // the first stage is to be seeded by hand or by rating
	TaskFewRuns    TaskKind = "few-runs"        // somebody would end below the runs that are promised
	TaskPublish    TaskKind = "publish"         // the programme is through
	TaskOutdated   TaskKind = "outdated-draw"   // a draw stands on a result that changed
	TaskOverdue    TaskKind = "overdue-run"     // a run should have come by now
	TaskOutBench   TaskKind = "bench-out"       // a bench is out of service
	TaskCorrection TaskKind = "publish-again"   // a published standing has changed
	TaskDecider    TaskKind = "decider"         // a result too close to call at a line: race a decider
	TaskDoubted    TaskKind = "runs-in-doubt"   // a reference check found that a bench has moved
	TaskWholeHeat  TaskKind = "whole-heat"      // one cause from outside hit half of a heat: race it again?
	TaskPodium     TaskKind = "podium-check"    // a car on the podium is held and looked at again
	TaskRepair     TaskKind = "repair-late"     // the time to put a car right is over
	TaskPacks      TaskKind = "packs-missing"   // lent packs did not come back
	TaskNarrow     TaskKind = "benches-gone"    // a heat has more cars than benches are left: race it short, or draw again
	TaskOfficial   TaskKind = "official-wanted" // a bench asks for an official: go there, then say so
	TaskIncomplete TaskKind = "incomplete-run"  // a run has ended and a part of its stamps has not come: wait, or race again
	TaskClock      TaskKind = "clock-ahead"     // the times of the day are ahead of the server's clock: set them right
)

// overdueUS is how long after its race a run may take to come in before the
// list asks about it, in µs: a phone may have to find the network again.
const overdueUS = 30_000_000

// Task is one line of the list of what needs a decision now.
type Task struct {
	Kind     TaskKind
	SinceUS  int64
	Division day.DivisionID
	// Stage and Round are the round that is to be drawn or closed, from 1.
	Stage, Round int
	Heat         day.HeatID
	Entry        day.EntryID
	Run          day.RunID
	Protest      day.ProtestID
	Bench        day.BenchID
	// Few are those who would end below the runs that the rules promise.
	Few []programme.FewRuns
	// Reason and By say why something is asked for, and who asks; without By, Reason
	// is the likely one.
	Reason day.ReasonCode
	By     string
	// Incident is what the pulses of a run look like, or a bench says has happened, and
	// Consequence what the rules say of it: they prefill the ruling.
	Incident    day.Incident
	Consequence day.Consequence
	// Suggest, Counts and Why are the advice on a doubtful run: how strongly the
	// evidence speaks for a re-run, which run should count, and the grounds beside
	// Flags. AtLimit says that the rules leave the entry no re-run.
	Suggest fairness.Suggestion
	Counts  day.RerunCounts
	Flags   []measure.Flag
	Why     []fairness.Note
	AtLimit bool
	// Races is how many races of the bench are in doubt.
	Races int
	// Lanes are how many cars of a heat have to race and Benches how many benches are in
	// service, where they are too few. Redraw says that what nobody has raced in of the
	// round can be drawn again for them.
	Lanes, Benches int
	Redraw         bool
	// AheadUS is how far the times of the day are ahead of the server's clock.
	AheadUS int64
}

// Tasks lists what needs a decision at an instant, the oldest first.
func Tasks(s *day.State, nowUS int64) []Task { return TasksKnowing(s, nowUS, Compared{}) }

// TasksKnowing is Tasks where the benches have been compared.
func TasksKnowing(s *day.State, nowUS int64, c Compared) []Task {
	var out []Task
	if ahead := AheadUS(s, nowUS); ahead > 0 {
		out = append(out, Task{Kind: TaskClock, AheadUS: ahead}) // before all else: no time ends until it is
	}
	for _, r := range s.SortedRuns() {
		if !r.Void && r.Waiting != day.WaitsNot {
			out = append(
				out,
				Task{
					Kind: TaskWaitingRun, SinceUS: r.AtUS, Run: r.ID, Heat: r.Heat, Entry: r.Entry, Bench: r.Bench, Division: s.Heats[r.Heat].Division,
				},
			)
		}
	}
	out = append(out, protestTasks(s)...)
	usual := map[day.DivisionID]fairness.Usual{}
	for id := range s.Divisions {
		usual[id] = programme.UsualIn(s, id)
	}
	for _, h := range s.SortedHeats() {
		out = append(out, heatTasks(s, h, nowUS, c)...)
		out = append(out, adviceTasks(s, h, usual[h.Division], c)...)
	}
	out = append(out, narrowTasks(s)...)
	for _, d := range s.SortedDivisions() {
		out = append(out, divisionTasks(s, d, nowUS)...)
	}
	out = append(out, tableTasks(s, nowUS)...)
	for _, b := range s.SortedBenches() {
		if doubt := c.Doubted[b.ID]; doubt.Races > 0 {
			out = append(out, Task{Kind: TaskDoubted, SinceUS: doubt.SinceUS, Bench: b.ID, Races: doubt.Races})
		}
		if call, waits := s.Wanted[b.ID]; waits {
			task := Task{Kind: TaskOfficial, SinceUS: call.AtUS, Bench: b.ID, By: call.By}
			if heat, busy := s.HeatOn(b.ID); busy {
				task.Heat, task.Division = heat, s.Heats[heat].Division
			}
			out = append(out, task)
		}
		if b.OutOfService {
			out = append(out, Task{Kind: TaskOutBench, SinceUS: b.OutSinceUS, Bench: b.ID})
		}
	}
	slices.SortStableFunc(out, func(a, b Task) int {
		return cmp.Or(
			cmp.Compare(a.SinceUS, b.SinceUS),
			cmp.Compare(a.Kind, b.Kind),
			cmp.Compare(a.Heat, b.Heat),
			cmp.Compare(a.Entry, b.Entry),
			cmp.Compare(a.Run, b.Run),
			cmp.Compare(a.Protest, b.Protest),
		)
	})
	return out
}

func heatTasks(s *day.State, h day.Heat, nowUS int64, c Compared) []Task {
	var out []Task
	for _, l := range h.Lanes {
		if Unanswered(s, h, l) {
			out = append(out, askedTask(s, h, l))
		}
	}
	switch h.Phase {
	case day.PhaseCalled:
		for _, l := range h.Lanes {
			if l.State == day.LaneCalled && s.RaceClock(nowUS) >= h.DeadlineUS && mayCome(s, h, l, nowUS) {
				out = append(out, Task{Kind: TaskNotThere, SinceUS: h.DeadlineUS, Heat: h.ID, Entry: l.Entry, Bench: l.Bench, Division: h.Division})
			}
		}
	case day.PhaseRacing:
		due := h.StartedUS + s.Divisions[h.Division].Stages[h.Stage-1].RaceUS + overdueUS
		for _, l := range h.Lanes {
			if since, lacks := c.Incomplete[l.Armed]; lacks && l.State == day.LaneRacing {
				// Its box may be sending still, and the missing part come by itself.
				if nowUS >= since+overdueUS {
					out = append(out, Task{
						Kind: TaskIncomplete, SinceUS: since, Heat: h.ID, Entry: l.Entry, Bench: l.Bench, Division: h.Division,
					})
				}
				continue
			}
			if l.State == day.LaneRacing && nowUS >= due {
				out = append(
					out,
					prefilled(s, Task{Kind: TaskOverdue, SinceUS: due, Heat: h.ID, Entry: l.Entry, Bench: l.Bench, Division: h.Division}, day.BenchFailed),
				)
			}
		}
	}
	return out
}

// mayCome says whether a called car could stand at its bench: the bench is in service, and
// the rules do not hold the car back for the rest of its battery.
func mayCome(s *day.State, h day.Heat, l day.Lane, nowUS int64) bool {
	return !s.Benches[l.Bench].OutOfService && inspection.RestsUntilUS(s, h, l, nowUS) == 0
}

func divisionTasks(s *day.State, d day.Division, nowUS int64) []Task {
	p := s.Programmes[d.ID]
	if p.MergedInto != "" {
		return nil // its host asks
	}
	stage, _ := p.Round()
	if stage == 0 && !p.EndedEarly {
		switch {
		case p.EntriesClosed && programme.WantsSeeds(s, d, 1):
			return []Task{{Kind: TaskSeed, SinceUS: p.SteppedUS, Division: d.ID}}
		case p.EntriesClosed:
			return []Task{{Kind: TaskDraw, SinceUS: p.SteppedUS, Division: d.ID, Stage: 1, Round: 1}}
		}
		return nil
	}
	var out []Task
	if !p.EndedEarly && programme.Outdated(s, d.ID) {
		out = append(out, Task{Kind: TaskOutdated, Division: d.ID})
	}
	if few := programme.TooFewRuns(s, d.ID); len(few) > 0 && len(p.Published) == 0 {
		out = append(out, Task{Kind: TaskFewRuns, SinceUS: p.DrawnUS(), Division: d.ID, Few: few})
	}
	out = append(out, roundTasks(s, d, nowUS)...)
	if stage > 0 && len(p.OpenRounds(stage)) > 0 {
		return out
	}
	if _, open := programme.OpenHeat(s, d.ID); open {
		return out // a closed round races again in part
	}
	switch since := p.SteppedUS; {
	case !programme.Through(s, d): // roundTasks has said so
	case len(p.Published) == 0:
		out = append(out, Task{Kind: TaskPublish, SinceUS: since, Division: d.ID})
	case programme.PublishedIsOld(s, d.ID):
		out = append(out, Task{Kind: TaskCorrection, SinceUS: p.Published[len(p.Published)-1].AtUS, Division: d.ID})
	}
	return out
}
