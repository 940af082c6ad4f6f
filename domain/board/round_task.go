package board

import (
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// roundTasks are what the rounds of a division's last drawn stage ask for: ties and
// deciders, their closing, and the next draw.
func roundTasks(s *day.State, d day.Division, nowUS int64) []Task {
	var out []Task
	p := s.Programmes[d.ID]
	stage, last := p.Round()
	if stage == 0 {
		return nil
	}
	_, form := programme.FormOf(d, stage)
	for _, round := range p.OpenRounds(stage) {
		r := p.Stages[stage-1].Rounds[round-1]
		at := Task{Division: d.ID, Stage: stage, Round: round}
		tied := form.Tied(s, r.Heats)
		for _, l := range tied {
			out = append(out, at.of(TaskTie, s.Heats[l.Heat].PostedUS, l))
		}
		var due []programme.TiedLane
		if round == last {
			due = programme.DecidersDue(s, d)
		}
		for _, l := range due {
			t := at.of(TaskDecider, s.Heats[l.Heat].PostedUS, l)
			t.Counts = day.CountsDecider
			out = append(out, t)
		}
		since, ready := closable(s, r, nowUS)
		if ready && len(tied) == 0 && len(due) == 0 && programme.ClosesBefore(s, d, stage, round) == 0 {
			out = append(out, at.of(TaskClose, since, programme.TiedLane{}))
		}
	}
	if stage, round, no := programme.NextRound(s, d); no == nil {
		t := Task{Kind: TaskDraw, SinceUS: p.SteppedUS, Division: d.ID, Stage: stage, Round: round}
		if round > 1 && len(p.OpenRounds(stage)) > 0 {
			t.SinceUS = lastCalledUS(s, p.Stages[stage-1].Rounds[round-2])
		}
		out = append(out, t)
	}
	return out
}

// of is a task about a round, as one of a kind and about a lane.
func (t Task) of(kind TaskKind, sinceUS int64, l programme.TiedLane) Task {
	t.Kind, t.SinceUS, t.Heat, t.Entry = kind, sinceUS, l.Heat, l.Entry
	return t
}

// lastCalledUS is when the last heat of a round was called, or posted without a call.
func lastCalledUS(s *day.State, r day.RoundState) (us int64) {
	for _, id := range r.Heats {
		if h := s.Heats[id]; h.CalledUS > 0 {
			us = max(us, h.CalledUS)
		} else {
			us = max(us, h.PostedUS)
		}
	}
	return us
}

// closable says whether CloseRound would need no reason now, and since when.
func closable(s *day.State, r day.RoundState, nowUS int64) (since int64, ready bool) {
	for _, id := range r.Heats {
		h := s.Heats[id]
		if !h.Posted() || s.RaceClock(nowUS) < h.ProtestUntilUS {
			return 0, false
		}
		since = max(since, h.ProtestUntilUS)
	}
	_, protested := programme.OpenProtest(s, r.Heats)
	return since, !protested
}
