package meet_test

import (
	"strconv"
	"strings"
	"time"

	"benchmeet/domain/battery"
	"benchmeet/domain/day"
	"benchmeet/domain/inspection"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme/programmetest"
	"benchmeet/domain/refusal"
)

func init() {
	verbs["table-division"] = (*toldDay).tableDivision
	verbs["rests"] = (*toldDay).rests
	verbs["battery"] = (*toldDay).battery
	verbs["packs"] = func(d *toldDay) { d.do(meet.AddPacks{Packs: d.packIDs()}) }
	verbs["issue"] = func(d *toldDay) { d.do(meet.IssuePack{Pack: day.PackID(d.first()), Entry: d.entry("n")}) }
	verbs["return"] = func(d *toldDay) { d.do(meet.ReturnPack{Pack: day.PackID(d.first()), Hurt: d.td.HasArg("hurt")}) }
	verbs["put-back"] = func(d *toldDay) {
		d.do(meet.PutPackBack{Pack: day.PackID(d.first()), Reason: d.reason(day.ReasonVolunteer)})
	}
	verbs["deal"] = (*toldDay).deal
	verbs["inspect"] = (*toldDay).inspect
	verbs["lapse"] = func(d *toldDay) {
		d.do(meet.LapseInspection{Entry: day.EntryID("e" + d.first()), Reason: d.reason(day.ReasonCarChanged)})
	}
	verbs["let-race"] = func(d *toldDay) {
		d.do(meet.LetRace{Heat: d.heat(), Entry: d.entry("n"), Reason: d.reason(day.ReasonVolunteer)})
	}
	verbs["table"] = (*toldDay).tellTable
	verbs["shelf"] = (*toldDay).shelf
}

// table-division junior [aside=3]: one timed round of 2 lanes for cars of two
// cells, alkaline or nickel-metal hydride, of at most 180 g and 60 mm.
func (d *toldDay) tableDivision() {
	alkaline, hydride := battery.FreshWindow(battery.Alkaline, 2), battery.FreshWindow(battery.NiMH, 2)
	alkaline.Load = &battery.Span{Min: 2700, Max: 3200}
	hydride.ResistanceMax = 300
	v := day.Division{
		ID: d.division(), Name: d.first(), AgeFrom: 8, AgeTo: 11,
		Class: day.CarClass{
			Name: "club class", LapUM: 20_000_000, Cells: 2,
			Battery: &day.ClassBattery{Windows: battery.Windows{alkaline, hydride}, AsideAfter: d.whole("aside", 0)},
			Checklist: []day.CheckItem{
				{ID: "mass", Name: "Weight", Unit: day.UnitMG, Max: 180_000, Instrument: "kitchen scale"},
				{ID: "width", Name: "Width", Unit: day.UnitUM, Min: 40_000, Max: 60_000, Instrument: "calliper"},
				{ID: "guard", Name: "The guard sits tight"},
			},
		},
		Stages: []day.Stage{programmetest.Stage("timed-rounds", programmetest.Set{"rounds": 1, "rule": "best"})},
	}
	if d.do(meet.AddDivision{Division: v}) {
		d.out.Reset()
		d.say("ok")
	}
}

// battery PACK n=7 v=3.05 [kind=alkaline cells=2 load=2.8 loads=5:2.97,505:2.66
// temp=21.5 hurt with=meter], or division=junior for one of the club's.
func (d *toldDay) battery() {
	c := meet.CheckBattery{
		Pack: day.PackID(d.first()), Division: day.DivisionID(d.text("division", "")), Instrument: d.text("with", "meter"),
		Reading: battery.Reading{
			Chemistry: battery.Chemistry(d.text("kind", "alkaline")), Cells: d.whole("cells", 2), OpenMV: d.milli(d.text("v", "0")),
			Hurt: d.td.HasArg("hurt"),
		},
	}
	if d.td.HasArg("n") {
		c.Entry = d.entry("n")
	}
	for key, field := range map[string]**int64{"load": &c.Reading.LoadMV, "temp": &c.Reading.TemperatureMC, "ohm": &c.Reading.ResistanceMOhm} {
		if text := d.text(key, ""); text != "" {
			v := d.milli(text)
			*field = &v
		}
	}
	if arg, there := d.td.Arg("loads"); there {
		for _, point := range arg.Vals {
			ma, v, _ := strings.Cut(point, "/")
			c.Loads = append(c.Loads, battery.LoadPoint{MA: int64(d.number(ma)), MV: d.milli(v)})
		}
	}
	d.do(c)
}

// milli reads thousandths.
func (d *toldDay) milli(text string) int64 {
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		d.t.Fatalf("%s: %q is no value", d.td.Pos, text)
	}
	if v < 0 {
		return int64(v*1e3 - 0.5)
	}
	return int64(v*1e3 + 0.5)
}

func (d *toldDay) packIDs() []day.PackID {
	var out []day.PackID
	for _, arg := range d.td.CmdArgs {
		out = append(out, day.PackID(arg.Key))
	}
	return out
}

// deal HEAT HEAT ... mv=30 mohm=60
func (d *toldDay) deal() {
	c := meet.DealPacks{RaceMA: int64(d.whole("ma", 1000)), SpreadMV: int64(d.whole("mv", 30)), SpreadMOhm: int64(d.whole("mohm", 60))}
	for _, arg := range d.td.CmdArgs {
		if len(arg.Vals) == 0 {
			c.Heats = append(c.Heats, day.HeatID(arg.Key))
		}
	}
	d.do(c)
}

// inspect 7 mass=171.5 width=55 guard=yes [wrong fix=10m mark=green]
func (d *toldDay) inspect() {
	c := meet.InspectCar{Entry: day.EntryID("e" + d.first()), Wrong: d.td.HasArg("wrong"), Mark: d.text("mark", "")}
	for _, arg := range d.td.CmdArgs[1:] {
		switch {
		case len(arg.Vals) == 0 || arg.Key == "mark":
		case arg.Key == "fix":
			by, err := time.ParseDuration(arg.Vals[0])
			if err != nil {
				d.t.Fatalf("%s: %v", d.td.Pos, err)
			}
			c.FixUS = by.Microseconds()
		case arg.Vals[0] == "yes" || arg.Vals[0] == "no":
			yes := arg.Vals[0] == "yes"
			c.Values = append(c.Values, day.ItemValue{Item: arg.Key, Yes: &yes})
		default:
			v := d.milli(arg.Vals[0])
			c.Values = append(c.Values, day.ItemValue{Item: arg.Key, Value: &v})
		}
	}
	d.do(c)
}

// table HEAT tells what the inspector's table says of the lanes of a heat.
func (d *toldDay) tellTable() {
	h := d.s.Heats[d.heat()]
	for _, l := range h.Lanes {
		g := inspection.LaneGate(d.s, h, l, d.now)
		says, held := inspection.Shown(d.s, l, g)
		text := d.hash(l.Entry)
		if g.Pack != "" {
			text += " pack " + string(g.Pack)
		}
		if g.PackValidUS > 0 {
			text += " until " + clock(g.PackValidUS)
		}
		text += " battery " + codesOf(g.Battery) + " inspection " + codesOf(g.Inspection)
		if len(says) > 0 {
			text += " shown"
		}
		if held {
			text += " held"
		}
		d.say("%s", text)
	}
}

func codesOf(list []*refusal.Refusal) string {
	if len(list) == 0 {
		return "ok"
	}
	var all []string
	for _, r := range list {
		all = append(all, string(r.Code))
	}
	return strings.Join(all, ",")
}

// shelf tells all packs.
func (d *toldDay) shelf() {
	for _, p := range inspection.SortedPacks(d.s) {
		text := string(p.ID)
		if p.Lent {
			text += " lent"
		}
		if p.Entry != "" {
			text += " with " + d.hash(p.Entry)
		}
		d.say("%s, %d checks, %d runs%s%s", text, len(p.Checks), len(p.Runs), flagged(p.Aside, ", aside"), flagged(p.Hurt, ", hurt"))
	}
	var out []string
	for _, p := range inspection.MissingPacks(d.s) {
		out = append(out, string(p.ID))
	}
	d.say("missing: %s", strings.Join(out, " "))
}

func flagged(is bool, text string) string {
	if is {
		return text
	}
	return ""
}

// rests tells until when the cars of a heat rest for nothing but their packs.
func (d *toldDay) rests() {
	h := d.s.Heats[d.heat()]
	for _, l := range h.Lanes {
		until := "no rest"
		if us := inspection.RestsUntilUS(d.s, h, l, d.now); us > 0 {
			until = "rests until " + clock(us)
		}
		d.say("%s %s", d.hash(l.Entry), until)
	}
}
