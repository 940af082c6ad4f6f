package view

import (
	"fmt"
	"time"

	"benchmeet/api/gen"
	"benchmeet/api/wire"
	"benchmeet/domain/day"
	"benchmeet/domain/dayplan"
	"benchmeet/domain/programme"
)

// frame is when a division races, in µs.
type frame struct {
	fromUS, untilUS int64
	// told says that no heat that waits comes before fromUS; begun that one was called, and
	// over that none is left.
	told, begun, over bool
}

// Calendar are the day and the frames of its divisions, for calendar programs: from when the first heat of a division
// was called or is not called before, until its last is likely posted. It follows from the log alone, so that two
// readings of one position are the same to the byte. place tells meets of one id on two servers apart.
func Calendar(v MeetView, place string) wire.Calendar {
	s := v.State
	zone := zoneOf(s.Plan)
	uid := func(of string) string { return of + "." + v.ID + "@" + place }
	of := wire.CalendarEvent{Stamp: wire.Instant(s.TimeUS), Sequence: v.Head.Seq, Place: s.Plan.Place}
	whole := of
	whole.UID, whole.Summary, whole.Sure = uid("day"), s.Plan.Name, true
	whole.Description = "Times move on a race day. What the wall and the call board of the hall say is what holds."
	if date, err := time.Parse("2006-01-02", s.Plan.Date); err == nil {
		whole.Date = date.Format("20060102")
	}
	if opens, closes, _ := Hours(s.Plan); opens > 0 && closes > opens {
		whole.From, whole.Until = wire.Instant(opens), wire.Instant(closes)
	}
	out := wire.Calendar{Name: s.Plan.Name, Events: []wire.CalendarEvent{whole}}
	for _, t := range Tasks(s.Plan) {
		if says, families := taskSays(t); families {
			e := of
			e.UID, e.Summary, e.Sure = uid(fmt.Sprintf("task-%s-%d", t.Kind, len(out.Events))), says, true
			e.From, e.Until = t.From, t.Until
			e.Description = whole.Description
			out.Events = append(out.Events, e)
		}
	}
	frames := framesOf(v)
	for _, d := range s.SortedDivisions() {
		f, known := frames[programme.Host(s, d.ID)]
		if !known {
			continue
		}
		e := of
		e.UID, e.Sure = uid("division-"+string(d.ID)), f.told || f.begun
		e.From, e.Until = wire.Instant(f.fromUS), wire.Instant(f.untilUS)
		e.Summary, e.Description = f.says(d.Name, zone)
		out.Events = append(out.Events, e)
	}
	return out
}

// taskSays is a task that concerns families in words; false for one that does not.
func taskSays(t gen.PlanTask) (string, bool) {
	switch {
	case t.Kind == gen.PlanTaskKindPrizes:
		return "Prize-giving", true
	case t.Kind == gen.PlanTaskKindLunch && t.EachMin != nil:
		return fmt.Sprintf("Lunch: %d minutes for each child between its races", *t.EachMin), true
	case t.Kind == gen.PlanTaskKindLunch:
		return "Lunch: nobody races", true
	}
	return "", false
}

// says is a frame in words: of what is told, likely or over.
func (f frame) says(division string, zone *time.Location) (title, more string) {
	hour := func(us int64) string { return time.UnixMicro(us).In(zone).Format("15:04") }
	from, until := hour(f.fromUS), hour(f.untilUS)
	const move = " Times move on a race day: look here again, or at the race day's page in the hall."
	switch {
	case f.over:
		return division, fmt.Sprintf("Raced from %s to %s.", from, until)
	case f.begun:
		return division, fmt.Sprintf("Its first heat was called at %s; the last is likely over at %s.%s", from, until, move)
	case f.told:
		return division + ": not before " + from, fmt.Sprintf(
			"No heat of this division is called before %s; it may be later. The last is likely over at %s.%s", from, until, move)
	}
	return division + ": likely not before " + from, fmt.Sprintf(
		"The first heat of this division is likely called at %s and the last over at %s; no time has been told yet.%s", from, until, move)
}

// framesOf are the frames of the divisions that race by themselves; of one of which nothing
// is known there is none.
func framesOf(v MeetView) map[day.DivisionID]frame {
	s, out := v.State, map[day.DivisionID]frame{}
	took := func(id day.DivisionID, fromUS, untilUS int64) frame {
		f, there := out[id]
		if !there || fromUS > 0 && fromUS < f.fromUS {
			f.fromUS = fromUS
		}
		f.untilUS = max(f.untilUS, untilUS)
		return f
	}
	for _, h := range s.SortedHeats() {
		if h.CalledUS == 0 {
			continue
		}
		f := took(h.Division, dayplan.ToldDown(h.CalledUS), dayplan.ToldUp(max(h.PostedUS, h.CalledUS+1)))
		f.begun, f.over = true, true
		out[h.Division] = f
	}
	for _, r := range DayPlan(v).Rounds {
		if r.Likely == nil || r.Heats == 0 || r.Possible && !r.Drawn {
			continue
		}
		id := day.DivisionID(r.Division)
		from, told := promised(v, r)
		f := took(id, from, r.Until.UnixMicro())
		f.told, f.over = told && (f.told || f.fromUS == from), false
		out[id] = f
	}
	for id, f := range out {
		begins, ends := dayAround(s.Plan, f)
		if f.fromUS < begins || f.fromUS >= ends {
			delete(out, id)
			continue
		}
		f.untilUS = min(max(f.untilUS, f.fromUS+dayplan.ToldStepUS), ends)
		out[id] = f
	}
	return out
}

// promised is the instant before which no waiting heat of a round is called, and whether it was
// told; else when its first is likely.
func promised(v MeetView, r gen.PlanRound) (us int64, told bool) {
	s := v.State
	if !r.Drawn {
		us = s.RoundPromise(day.DivisionID(r.Division), r.Stage, r.Round).NotBeforeUS
	}
	for _, h := range s.SortedHeats() {
		if h.Division != day.DivisionID(r.Division) || h.Stage != r.Stage || h.Round != r.Round || h.CalledUS > 0 {
			continue
		}
		if p := s.HeatPromise(h).NotBeforeUS; p > 0 && (us == 0 || p < us) {
			us = p
		}
	}
	if us > 0 {
		return us, true
	}
	return r.Likely.UnixMicro(), false
}

// dayAround are the bounds of the day of a frame: those of the meet's date, until the hall closes; for
// what is called or told on another date, because the clock or the date is wrong, those of that.
func dayAround(p day.Plan, f frame) (beginsUS, endsUS int64) {
	zone := zoneOf(p)
	date, err := time.ParseInLocation("2006-01-02", p.Date, zone)
	of := time.UnixMicro(f.fromUS).In(zone)
	if err != nil || (f.told || f.begun) && of.Format("2006-01-02") != p.Date {
		date = time.Date(of.Year(), of.Month(), of.Day(), 0, 0, 0, 0, zone)
	}
	endsUS = date.AddDate(0, 0, 1).UnixMicro()
	if _, closes, _ := Hours(p); closes > f.fromUS {
		endsUS = min(endsUS, closes)
	}
	return date.UnixMicro(), endsUS
}
