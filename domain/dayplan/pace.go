package dayplan

import (
	"cmp"
	"maps"
	"slices"

	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

const secondUS = 1_000_000

// Usual lengths before anything has been seen, in µs (common practice for a hall with an
// adult to two or three benches): from the call of a heat to its start, from the end of a
// race to its posting, from a bench that falls free to the next call on it, and from the end
// of protest time to the next draw.
const (
	usualCallUS   = 120 * secondUS
	usualPostUS   = 15 * secondUS
	usualChangeUS = 45 * secondUS
	usualDrawUS   = 60 * secondUS
)

// priorHeats is as how many heats the usual lengths count beside those that were seen.
const priorHeats = 5

// Pace is how long things take on this day: the usual lengths, moved by what was seen.
type Pace struct {
	// CallUS is from the call of a heat to its start, PostUS from the end of its race to
	// its posting, ChangeUS from then to the next call on its benches, all in µs and on
	// average.
	CallUS, PostUS, ChangeUS int64
	// DrawUS is from the posting of a round's last heat to the draw of the next one, where
	// that waits for it: the protest time, and what comes on top.
	DrawUS int64
	// ProtestUS is how much of DrawUS is protest time, by the rules.
	ProtestUS int64
	// Lanes were raced so far, Again of them more than once.
	Lanes, Again int
	// Heats is how many raced heats it was learned from.
	Heats int
	// Crowd is how many times as long calls and changes take with the adults that are here,
	// see [Crowd]. It is in CallUS and ChangeUS.
	Crowd float64
	calls map[day.DivisionID]int64
	// leavers are the children who went home early so far.
	leavers leavers
	// seen is the same and how it scatters, for forecasts.
	seen []group
}

// Call is the time from the call of a heat of a division to its start.
func (p Pace) Call(division day.DivisionID) int64 {
	if us, seen := p.calls[division]; seen {
		return us
	}
	return p.CallUS
}

// heatUS is how long a heat has its benches, from its call on.
func (p Pace) heatUS(division day.DivisionID, h Heat) int64 {
	return int64(h.Turns) * (p.Call(division) + h.RaceUS + p.PostUS)
}

// Seen learns the pace of a day from its heats. One that took more than four times the
// usual counts as four times: the hall stood still, or lunch came between. What was seen with
// other adults than are here counts as it would be with these. The time to a
// call is learned for all, then for each division about that of all.
func Seen(s *day.State) Pace {
	heats := slices.SortedFunc(maps.Values(s.Heats), func(a, b day.Heat) int {
		return cmp.Or(cmp.Compare(a.CalledUS, b.CalledUS), cmp.Compare(a.ID, b.ID))
	})
	benches := len(programme.BenchesInService(s))
	call, post, change := learned{usual: usualCallUS}, learned{usual: usualPostUS}, learned{usual: usualChangeUS}
	of := map[day.DivisionID]*learned{}
	lanes, again := 0, 0
	each := learned{usual: usualChangeUS} // of one bench, not of the last of those that a heat needs
	fell := map[int64]int{}               // how many benches fell free at an instant
	free := map[day.BenchID]int64{}       // when the bench's last heat was posted
	rested := map[day.CarID]int64{}       // from when on the car could be called again
	first := int64(0)                     // the first call of the day
	for _, h := range heats {
		if first == 0 {
			first = h.CalledUS
		}
		if h.CalledUS == 0 || !h.Posted() || h.StartedUS < h.CalledUS || h.PostedUS < h.StartedUS {
			continue
		}
		d := s.Divisions[h.Division]
		then := crowdAt(s, benches, h.CalledUS)
		called := times(h.StartedUS-h.CalledUS, 1/then)
		call.see(called)
		if of[h.Division] == nil {
			of[h.Division] = &learned{}
		}
		of[h.Division].see(called)
		if over := h.PostedUS - h.StartedUS - d.Stages[h.Stage-1].RaceUS; over >= 0 {
			post.see(over)
		}
		for _, l := range h.Lanes {
			if l.Attempt > 0 {
				lanes++
			}
			if l.Attempt > 1 {
				again++
			}
		}
		if since := waitedUS(s, h, free, rested); since >= 0 {
			change.see(times(h.CalledUS-since, 1/then))
			each.see(times(h.CalledUS-since, 1/then/lastOf(h, since, free, fell)))
		}
		for _, l := range h.Lanes {
			free[l.Bench] = h.PostedUS
			fell[h.PostedUS]++
			rested[s.Entries[l.Entry].Car] = h.PostedUS + restUS(s, d)
		}
	}
	crowd := Crowd(benches, s.AdultsNow())
	out := Pace{
		CallUS: times(call.mean(), crowd), PostUS: post.mean(), ChangeUS: times(change.mean(), crowd), Crowd: crowd, ProtestUS: s.Rules.ProtestUS,
		Heats: call.n, calls: map[day.DivisionID]int64{}, seen: []group{post.group(postKind, ""), each.group(changeKind, "")},
	}
	for id, l := range of {
		about := learned{usual: call.mean()}
		about.sum, about.n = l.sum, l.n
		out.calls[id] = times(about.mean(), crowd)
		out.seen = append(out.seen, l.group(callKind, id))
	}
	out.leavers = seenLeaving(s, first)
	waits := draws(s)
	out.seen = append(out.seen, waits.group(drawKind, ""))
	out.DrawUS, out.Lanes, out.Again = waits.mean(), lanes, again
	return out
}

// waitedUS is since when a heat waited for nothing but that its benches are changed over; -1
// where it came for another reason than that they fell free: a promised time, a child that was
// late, the end of a pause, a bench that came back, a car that rested.
func waitedUS(s *day.State, h day.Heat, free map[day.BenchID]int64, rested map[day.CarID]int64) int64 {
	drawn := s.Programmes[h.Division].Stages[h.Stage-1].Rounds[h.Round-1].DrawnUS
	first := int64(-1)
	for _, l := range h.Lanes {
		since, was := free[l.Bench]
		if was && drawn <= since && since <= h.CalledUS {
			first = max(first, since)
		}
	}
	if h.BoundUS > first {
		return -1
	}
	for _, l := range h.Lanes {
		if rested[s.Entries[l.Entry].Car] > first {
			return -1
		}
	}
	return first
}

// draws learns how long a round waits after the one before it.
func draws(s *day.State) learned {
	l := learned{usual: s.Rules.ProtestUS + usualDrawUS, less: s.Rules.ProtestUS}
	for _, d := range s.SortedDivisions() {
		var posted int64 // of all rounds so far
		for _, st := range s.Programmes[d.ID].Stages {
			for _, r := range st.Rounds {
				if posted > 0 && r.DrawnUS >= posted {
					l.see(r.DrawnUS - posted)
				}
				for _, id := range r.Heats {
					posted = max(posted, s.Heats[id].PostedUS)
				}
			}
		}
	}
	return l
}

// learned is the mean of what was seen beside what is usual.
type learned struct {
	usual, sum int64
	n          int
	// less is the part of each length that people have no hand in.
	less int64
	all  []int64
}

func (l *learned) see(us int64) {
	most := int64(4 * usualCallUS)
	if l.usual > 0 {
		most = 4 * l.usual
	}
	us = min(us, most)
	l.sum += us
	l.n++
	l.all = append(l.all, us)
}

func (l *learned) mean() int64 {
	return (priorHeats*l.usual + l.sum) / int64(priorHeats+l.n)
}

// group is what was seen for a belief.
func (l *learned) group(k kind, division day.DivisionID) group {
	g := group{kind: k, division: division}
	for _, us := range l.all {
		g.see(us - l.less)
	}
	return g
}
