package meet_test

import (
	"fmt"
	"slices"
	"strings"

	"benchmeet/bracket"
	"benchmeet/domain/board"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

func init() {
	verbs["standings"] = (*toldDay).standings
	verbs["winners"] = (*toldDay).winners
	verbs["heat"] = (*toldDay).tellHeat
	verbs["order"] = func(d *toldDay) { d.tellOrder(d.heat()) }
	verbs["board"] = (*toldDay).board
	verbs["bench-orders"] = (*toldDay).benchOrders
	verbs["decisions"] = (*toldDay).decisions
	verbs["waiting-runs"] = (*toldDay).waitingRuns
	verbs["rulings"] = (*toldDay).rulings
	verbs["outdated"] = func(d *toldDay) { d.say("%v", programme.Outdated(d.s, d.division())) }
	verbs["programme"] = (*toldDay).programme
	verbs["runs-before"] = (*toldDay).runsBefore
	verbs["places"] = (*toldDay).places
	verbs["published"] = (*toldDay).published
}

func (d *toldDay) standings() {
	for _, l := range programme.Standings(d.s, d.division()) {
		text := fmt.Sprintf("%2d  %s", l.Rank, d.hash(l.Entry))
		if l.DistanceUM > 0 {
			text += fmt.Sprintf(" %s m ± %s", metres(l.DistanceUM), metres(l.UUM))
		}
		if l.Group != "" {
			text += fmt.Sprintf(" %s%d", l.Group, l.GroupPlace)
		}
		if l.Points != nil {
			points := fmt.Sprint(*l.Points)
			if l.PointsOver > 0 {
				points += fmt.Sprintf("/%d", l.PointsOver)
			}
			text += fmt.Sprintf(" %s points", points)
		}
		if l.PlateRank > 0 {
			text += fmt.Sprintf(" plate %d", l.PlateRank)
		}
		if l.Band != "" {
			text += fmt.Sprintf(" %s %d", l.Band, l.BandRank)
		}
		for _, more := range []string{l.Exit, string(l.Status)} {
			if more != "" {
				text += " " + more
			}
		}
		if l.DecidedBy != "" && l.DecidedBy != "result" {
			text += " by " + l.DecidedBy
		}
		if slices.ContainsFunc(l.Runs, func(r programme.TimedRun) bool { return r.FarOff }) {
			text += " far off"
		}
		if len(l.TooCloseTo) > 0 {
			text += " too close to " + d.numbers(l.TooCloseTo)
		}
		d.say("%s", text)
	}
}

func (d *toldDay) winners() { d.say("winners: %s", d.numbers(programme.Winners(d.s, d.division()))) }

// tellOrder tells a heat's result.
func (d *toldDay) tellOrder(heat day.HeatID) {
	h := d.s.Heats[heat]
	order, tied := programme.FinishOf(d.s, h)
	var all []string
	for _, r := range order {
		text := d.hash(r.Entry)
		switch {
		case r.Valued:
			text += " " + metres(r.DistanceUM)
			if r.FactorPPM > 0 {
				text += fmt.Sprintf(" (read %s)", metres(r.AsReadUM))
			}
		case r.Out:
			text += " out"
		}
		if r.Status != "" {
			text += " " + string(r.Status)
		}
		all = append(all, text)
	}
	if tied {
		all = append(all, "tied")
	}
	d.say("%s %s: %s", heat, h.Phase, strings.Join(all, ", "))
}

// tellHeat tells a heat lane by lane.
func (d *toldDay) tellHeat() {
	h := d.s.Heats[d.heat()]
	text := string(h.Phase)
	if h.DeadlineUS > 0 {
		text += " deadline " + clock(h.DeadlineUS)
	}
	if h.ProtestUntilUS > 0 {
		text += " protest until " + clock(h.ProtestUntilUS)
	}
	d.say("%s", text)
	for _, l := range h.Lanes {
		text := fmt.Sprintf("%s %s", d.hash(l.Entry), l.State)
		for _, part := range []struct{ name, value string }{
			{"status", string(l.Status)},
			{"planned", string(l.Planned)},
			{"bench", string(l.Bench)},
			{"armed", string(l.Armed)},
			{"counts", string(l.Counts)},
			{"better", string(l.Better)},
		} {
			if part.value != "" {
				text += " " + part.name + "=" + part.value
			}
		}
		if l.PenaltyUM > 0 {
			text += " penalty=" + metres(l.PenaltyUM)
		}
		d.say("%s", text)
	}
}

func (d *toldDay) board() {
	b := board.CallBoardOf(d.s)
	for _, part := range []struct {
		name  string
		heats []day.HeatID
	}{{"racing", b.Racing}, {"called", b.Called}, {"next", b.Next}, {"posted", b.Posted}} {
		if len(part.heats) > 0 {
			d.say("%s: %s", part.name, strings.Trim(fmt.Sprint(part.heats), "[]"))
		}
	}
}

func (d *toldDay) benchOrders() {
	for _, b := range d.s.SortedBenches() {
		o, err := board.AssignmentOf(d.s, b.ID)
		if err != nil {
			d.t.Fatal(err)
		}
		switch {
		case o.OutOfService:
			d.say("%s out of service", b.ID)
		case o.Heat == "":
			d.say("%s practice", b.ID)
		default:
			d.say("%s %s %s %s %d s as %s", b.ID, o.Heat, d.hash(o.Entry), o.State, o.RaceUS/1_000_000, o.Run)
		}
	}
}

func (d *toldDay) decisions() {
	for _, x := range board.Tasks(d.s, d.now) {
		text := string(x.Kind)
		for _, part := range []string{string(x.Division), string(x.Heat), string(x.Run), string(x.Protest), string(x.Bench)} {
			if part != "" {
				text += " " + part
			}
		}
		if x.Entry != "" {
			text += " " + d.hash(x.Entry)
		}
		for _, few := range x.Few {
			text += fmt.Sprintf(" %s: %d", d.hash(few.Entry), few.Runs)
		}
		if x.Incident != "" {
			text += fmt.Sprintf(", %s: %s", x.Incident, x.Consequence)
		}
		if x.Kind == board.TaskNarrow {
			text += fmt.Sprintf(": %d cars, %d benches, redraw %v", x.Lanes, x.Benches, x.Redraw)
		}
		text += toldAdvice(x)
		d.say("%s", text)
	}
	if d.out.Len() == 0 {
		d.say("nothing to decide")
	}
}

func (d *toldDay) waitingRuns() {
	for _, r := range d.s.SortedRuns() {
		switch {
		case r.Void:
			d.say("%s void", r.ID)
		case r.Waiting != day.WaitsNot:
			d.say("%s %s m waits: %s", r.ID, metres(r.Figures.DistanceUM), r.Waiting)
		}
	}
}

func (d *toldDay) rulings() {
	for _, r := range d.s.Rulings {
		text := fmt.Sprintf("%d %s %s by %s", r.Number, r.Kind, r.Reason.Code, r.By)
		if r.Heat != "" {
			text += " " + string(r.Heat)
		}
		if r.Entry != "" {
			text += " " + d.hash(r.Entry)
		}
		if r.Correction > 0 {
			text += fmt.Sprintf(" correction %d", r.Correction)
		}
		d.say("%s", text)
	}
}

func (d *toldDay) published() {
	for _, p := range d.s.Programmes[d.division()].Published {
		text := fmt.Sprintf("%d:", p.Number)
		for _, l := range p.Ranks {
			text += fmt.Sprintf(" %d %s", l.Rank, d.hash(l.Entry))
		}
		d.say("%s", text)
	}
}

// programme tells the rounds of a division, those to come in brackets.
func (d *toldDay) programme() {
	p := programme.ProgressOf(d.s, d.division())
	d.say("stage %d, round %d of %d, closed %v, over %v", p.Stage, p.Round, p.Rounds, p.Closed, programme.Over(d.s))
	for _, r := range programme.Rounds(d.s, d.division()) {
		var heats []string
		for _, h := range r.Heats {
			var slots []string
			for _, s := range h.Slots {
				switch {
				case s.Nobody:
					slots = append(slots, "nobody")
				case s.WinnerOf != "":
					slots = append(slots, "winner of "+string(s.WinnerOf))
				case s.PlaceOf != "":
					slots = append(slots, fmt.Sprintf("place %d of %s", s.Place, s.PlaceOf))
				case s.NextBest > 0:
					slots = append(slots, fmt.Sprintf("next best %d of round %d", s.NextBest, s.Round))
				case s.LoserOf != "":
					slots = append(slots, "loser of "+string(s.LoserOf))
				default:
					slots = append(slots, d.hash(s.Entry))
				}
			}
			text := string(h.ID) + " " + strings.Join(slots, ", ")
			if h.Third {
				text += " for the third place"
			}
			if h.Group != "" {
				text = h.Group + " " + text
			}
			if h.Purpose == bracket.BFinal {
				text += " for the B-final"
			}
			for _, reason := range h.Reasons {
				text += " " + string(reason)
			}
			if h.IfNeeded {
				text += " if needed"
			}
			heats = append(heats, text)
		}
		text := fmt.Sprintf("%d.%d: %s", r.Stage, r.Number, strings.Join(heats, " | "))
		if part := programme.PartOf(d.s, d.division(), r.Stage, r.Number); part.Part == bracket.PlatePart {
			text = "plate " + text
		}
		if len(r.Byes) > 0 {
			text += " | byes " + d.numbers(r.Byes)
			for _, reason := range r.ByeReasons {
				text += " " + string(reason)
			}
		}
		if !r.Drawn {
			text = "(" + text + ")"
		}
		d.say("%s", text)
	}
}

// places tells the places of a posted heat in lane order.
func (d *toldDay) places() {
	h := d.s.Heats[d.heat()]
	at := programme.Places(d.s, h)
	for _, l := range h.Lanes {
		if place, has := at[l.Entry]; has {
			d.say("%s %d", d.hash(l.Entry), place)
		}
	}
	if len(at) == 0 {
		d.say("no places")
	}
}

// runsBefore tells of counts by hand what was said before they were corrected.
func (d *toldDay) runsBefore() {
	for _, r := range d.s.SortedRuns() {
		for _, b := range r.Before {
			d.say("%s was %s m until %s, ruling %d", r.ID, metres(b.DistanceUM), clock(b.UntilUS), b.Ruling)
		}
	}
}
