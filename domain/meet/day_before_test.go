package meet_test

import (
	"encoding/json"
	"maps"
	"strconv"
	"strings"
	"time"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

func init() {
	verbs["plan"] = (*toldDay).plan
	verbs["replan"] = (*toldDay).replan
	verbs["rules"] = (*toldDay).changeRules
	verbs["division"] = (*toldDay).addDivision
	verbs["benches"] = (*toldDay).addBenches
	verbs["bench-out"] = (*toldDay).benchOut
	verbs["bench-in"] = (*toldDay).benchIn
	verbs["take"] = (*toldDay).take
	verbs["change"] = (*toldDay).change
	verbs["check-in"] = (*toldDay).checkIn
	verbs["close-entries"] = (*toldDay).closeEntries
	verbs["open-entries"] = (*toldDay).openEntries
	verbs["wait"] = (*toldDay).wait
	verbs["seed"] = (*toldDay).setSeed
	verbs["as"] = (*toldDay).as
}

func (d *toldDay) plan() {
	d.must(meet.PlanMeet{
		Plan:  day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06", Opens: "09:00", Closes: "17:00"},
		Rules: d.rules(),
	})
	d.say("ok")
}

// replan date=2027-03-07 closes=18:00: what is not named stays.
func (d *toldDay) replan() {
	plan := d.s.Plan
	for name, field := range map[string]*string{"date": &plan.Date, "age-date": &plan.AgeDate, "closes": &plan.Closes} {
		*field = d.text(name, *field)
	}
	d.do(meet.ChangePlan{Plan: plan})
}

// rules late=no ...: changes them before the first call; what is not named is as
// usual.
func (d *toldDay) changeRules() {
	if d.do(meet.ChangeRules{Rules: d.rules()}) {
		d.out.Reset()
		d.say("ok")
	}
}

func (d *toldDay) rules() day.Rules {
	rules := day.UsualRules()
	rules.RerunsPerEntry = d.whole("reruns", rules.RerunsPerEntry)
	rules.RunsAtLeast = d.whole("runs-at-least", 0)
	rules.Tie = day.TieRule(d.text("tie", string(rules.Tie)))
	rules.Close = day.CloseRule(d.text("close", ""))
	rules.DidNotFinish = day.DidNotFinishRule(d.text("dnf", string(rules.DidNotFinish)))
	rules.HandCounts = day.HandRule(d.text("hand", string(rules.HandCounts)))
	rules.BatteryGate = day.GateRule(d.text("battery", ""))
	rules.InspectionGate = day.GateRule(d.text("inspection", ""))
	rules.Benches = day.BenchPolicy(d.text("benches", string(rules.Benches)))
	rules.Late = day.LateRule(d.text("late", string(rules.Late)))
	return rules
}

// division junior from=8 to=11, then one stage a line:
// "timed rounds=2 lanes=4 rule=best", "knockout entries=8 third" or
// "round-robin cycles=2 points=3/1/0 tie-breaks=direct,wins".
func (d *toldDay) addDivision() {
	v := day.Division{
		ID: d.division(), Name: d.first(), AgeFrom: d.whole("from", 8), AgeTo: d.whole("to", 11),
		Class: day.CarClass{Name: "club class", LapUM: 20_000_000},
	}
	for line := range strings.Lines(d.td.Input) {
		if rule, is := strings.CutPrefix(strings.TrimSpace(line), "incident "); is { // incident off-rollers=rerun-lane
			what, follows, _ := strings.Cut(rule, "=")
			v.Class.Incidents = append(v.Class.Incidents, day.IncidentRule{Incident: day.Incident(what), Consequence: day.Consequence(follows)})
			continue
		}
		st, err := d.stage(line, len(v.Stages)+1)
		if err != nil {
			no, is := refusal.As(err)
			if !is {
				d.t.Fatalf("%s: %v", d.td.Pos, err)
			}
			d.now += 1_000_000 // asking takes as long as any command
			d.say("refused %s: %s", no.Code, no)
			return
		}
		v.Stages = append(v.Stages, st)
	}
	if d.do(meet.AddDivision{Division: v}) {
		d.out.Reset()
		d.say("ok")
	}
}

// stage reads a stage's line as the program reads a plan.
func (d *toldDay) stage(line string, number int) (day.Stage, error) {
	set := programmetest.Set{"kind": "knockout", "lanes": 2, "race_us": 60_000_000}
	for i, word := range strings.Fields(line) {
		key, value, _ := strings.Cut(word, "=")
		name := strings.ReplaceAll(key, "-", "_")
		switch {
		case i == 0 && word == "timed":
			maps.Copy(set, programmetest.Set{"kind": "timed-rounds", "lanes": 4, "rounds": 1, "rule": "best"})
		case i == 0 && word == "points-rounds":
			maps.Copy(set, programmetest.Set{"kind": word, "lanes": 4, "rounds": 1})
		case i == 0:
			set["kind"] = word
		case key == "points": // win/draw/loss
			p := strings.Split(value, "/")
			set[name] = map[string]int{"win": d.number(p[0]), "draw": d.number(p[1]), "loss": d.number(p[2])}
		case key == "tie-breaks":
			set[name] = strings.Split(value, ",")
		case key == "place-points":
			var points []int
			for _, p := range strings.Split(value, "/") {
				points = append(points, d.number(p))
			}
			set[name] = points
		case key == "third":
			set["third_place"] = true
		case key == "order":
			set["heat_order"] = value
		case value == "":
			set[name] = true
		case day.OneOf(key, "rule", "seeding", "late"):
			set[name] = value
		default:
			set[name] = d.number(value)
		}
	}
	text, err := json.Marshal(set)
	if err != nil {
		d.t.Fatal(err)
	}
	return programme.ReadStage(d.division(), number, text)
}

func (d *toldDay) addBenches() {
	for n := range d.number(d.first()) {
		d.must(meet.AddBench{Bench: day.Bench{
			ID: day.BenchID("b" + strconv.Itoa(n+1)), Number: n + 1, CircumferenceUM: 94_248, UCircumUM: 20,
			Marks: 1, StampNS: 1000, ClockPPB: 20_000,
		}})
	}
	d.say("ok")
}

func (d *toldDay) benchOut() {
	d.do(meet.ChangeBenchService{Bench: day.BenchID(d.first()), Out: true, Reason: d.reason(day.ReasonBenchFault)})
}

func (d *toldDay) benchIn() {
	d.do(meet.ChangeBenchService{Bench: day.BenchID(d.first())})
}

// take junior 1-12 age=9 car=c7: takes entries of a division; an absent car is
// one of their own, club=north the club that they come for. With "absent" they are not checked in.
func (d *toldDay) take() {
	from, to := d.span()
	for n := from; n <= to; n++ {
		text := strconv.Itoa(n)
		took := d.do(meet.TakeEntry{
			ID: day.EntryID("e" + text), Division: d.division(), StartNumber: n, Entrant: day.EntrantID("p" + text),
			Car: day.CarID(d.text("car", "c"+text)), Age: d.whole("age", 9), Team: d.text("club", ""),
		})
		if took && !d.td.HasArg("absent") {
			d.must(meet.CheckIn{Entry: day.EntryID("e" + text), There: true})
		}
	}
	if from < to {
		d.out.Reset()
		d.say("ok")
	}
}

// span reads the second argument, "1-12" or "7".
func (d *toldDay) span() (from, to int) {
	if len(d.td.CmdArgs) < 2 {
		d.t.Fatalf("%s: which start numbers?", d.td.Pos)
	}
	a, b, several := strings.Cut(d.td.CmdArgs[1].Key, "-")
	if !several {
		b = a
	}
	return d.number(a), d.number(b)
}

func (d *toldDay) change() {
	id := day.EntryID("e" + d.first())
	e := d.s.Entries[id]
	team := d.text("club", e.Team)
	d.do(meet.ChangeEntry{
		Team: &team,
		ID:   id, Division: day.DivisionID(d.text("division", string(e.Division))),
		StartNumber: d.whole("number", e.StartNumber), Car: day.CarID(d.text("car", string(e.Car))), Age: d.whole("age", -1),
	})
}

func (d *toldDay) checkIn() {
	d.do(meet.CheckIn{Entry: day.EntryID("e" + d.first()), There: !d.td.HasArg("gone")})
}

func (d *toldDay) closeEntries() {
	d.do(meet.CloseEntries{Division: d.division(), Sure: d.td.HasArg("sure")})
}

func (d *toldDay) openEntries() { d.do(meet.CloseEntries{Division: d.division(), Open: true}) }

func (d *toldDay) wait() {
	by, err := time.ParseDuration(d.first())
	if err != nil {
		d.t.Fatalf("%s: %v", d.td.Pos, err)
	}
	d.now += by.Microseconds()
	d.say("%s", clock(d.now))
}

func (d *toldDay) setSeed() { d.seed = uint64(d.number(d.first())); d.say("ok") }
func (d *toldDay) as()      { d.actor = d.first(); d.say("ok") }
