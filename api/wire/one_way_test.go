package wire_test

import (
	"reflect"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"benchmeet/api/gen"
	"benchmeet/api/store"
	"benchmeet/api/wire"
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/fairness"
	"benchmeet/domain/measure"
	"benchmeet/domain/programme"
	"benchmeet/domain/refusal"
)

// oneWay holds of a noun that goes one way that nothing of it is left out: no field
// of the result stays empty but those in without, and every field of what comes in
// changes the result, but those in unused. Both lists say why a field is in them.
func oneWay[In, Out any](t *testing.T, noun string, convert func(In) Out, without, unused map[string]string) {
	t.Run(noun, func(t *testing.T) {
		const seed = 1
		full := convert(filled[In](seed, false))
		for _, path := range zeros(full) {
			if without[path] == "" {
				t.Errorf("nothing fills %s", path)
			}
		}
		for path := range without {
			if !slices.Contains(zeros(full), path) {
				t.Errorf("%s is filled, against the list", path)
			}
		}
		var paths []string
		whole := filled[In](seed, false)
		leaves(reflect.ValueOf(&whole).Elem(), "", func(path string, _ reflect.Value) { paths = append(paths, path) })
		for n, path := range paths {
			changed, at := filled[In](seed, false), 0
			leaves(reflect.ValueOf(&changed).Elem(), "", func(_ string, v reflect.Value) {
				if at == n {
					v.SetZero()
				}
				at++
			})
			matters := !cmp.Equal(full, convert(changed), cmpopts.EquateEmpty())
			list, _, _ := strings.Cut(path, "[")
			if used := unused[path] == "" && unused[list] == ""; matters != used {
				t.Errorf("%s: it matters: %v, wanted %v", path, matters, used)
			}
		}
	})
}

type because = map[string]string

func TestOrdersReadEveryField(t *testing.T) {
	const server = "the server finds it"
	people := because{"Person": "people live outside the log"}
	for _, field := range []string{"BirthDate", "DisplayName", "InResults", "Name", "OnScreen", "Photo", "SayAs"} {
		people["Person."+field] = "as before"
	}
	oneWay(t, "an entry", wire.ReadEntry, because{"Age": server},
		people)
	oneWay(
		t, "a changed entry", func(b gen.ChangeEntry) any { return wire.ReadEntryChange("e1", b) },
		because{"Age": server, "Edition": "it stands in the query"}, nil,
	)
	oneWay(
		t, "a battery check", func(b gen.BatteryCheckBody) any { return wire.ReadBatteryCheck("p1", b) }, because{"Reading.AtUS": server}, nil,
	)
	oneWay(t, "an inspection", func(b gen.InspectionBody) any { return wire.ReadInspection("e1", b) }, nil, nil)
	oneWay(t, "a deal of packs", wire.ReadDeal, nil, nil)
	oneWay(t, "a call", func(b gen.CallHeat) any { return wire.ReadCall("h1", b) }, because{"Sure": "it stands in the query"}, nil)
	oneWay(t, "a look at the day plan", func(b gen.LookDayPlan) any { return wire.ReadSupposed(b) }, nil, nil)
	oneWay(t, "what is told", func(b gen.TellTimes) any { return wire.ReadTelling(b) }, because{"OpensUS": "it follows from the plan"}, nil)
	oneWay(t, "a bench that is ready", func(b gen.ConfirmReady) any { return wire.ReadReady("h1", b) }, nil, nil)
	oneWay(t, "a car that is left over", func(b gen.LeaveLane) any { return wire.ReadLeave("h1", b) }, nil, nil)
	oneWay(t, "a move", func(b gen.MoveLane) any { return wire.ReadMove("h1", b) }, nil, nil)
	oneWay(t, "a hand count", func(b gen.HandCount) any { return wire.ReadHandCount("h1", b) }, because{"Sure": "it stands in the query"}, nil)
	oneWay(t, "a seed order", wire.ReadSeedOrder, because{"Ratings": server}, nil)
	oneWay(t, "an armed practice run", func(b gen.ArmPractice) any { return wire.ReadArming("b1", b) }, nil, nil)
	oneWay(t, "a changed car", func(b gen.ChangeCar) any { return wire.ReadCarChange(7, b) }, nil, nil)
	oneWay(t, "a reference check", func(b gen.BeginReferenceCheck) any { return wire.ReadCheck("spring", b) }, nil, nil)
	oneWay(t, "a wish for a token", wire.ReadWish, because{"Club": "the caller's", "Order": "it stands in a header"}, nil)
	oneWay(t, "a protest", func(b gen.LodgeProtest) any { return wire.ReadProtest(b, filled[day.Reason](1, false)) },
		because{"At": "it follows from the caller"},
		because{"Reason.Code": "the server takes the text of a reason out of it first", "Reason.Text": "as before"})
}

func TestNounsShowEveryField(t *testing.T) {
	const meet = "the meet knows it"
	const list = "the list of what to decide has it"
	racer := &gen.Racer{Entry: "e1", StartNumber: 1, DisplayName: new("Comet")}
	hidden := because{"Reason.TextHash": "it is for whoever checks the log"}
	oneWay(t, "a ruling", func(r day.Ruling) gen.Ruling { return wire.ShowRuling(r, "ran onto the bench", racer) }, nil,
		with(hidden, because{"Entry": "shown as a racer"}))
	oneWay(t, "a protest", func(p day.Protest) gen.Protest { return wire.ShowProtest(p, "ran onto the bench", racer) }, nil,
		with(hidden, because{"Entry": "shown as a racer", "ClaimedUS": "the server's instant counts", "RuledUS": list, "Ruling": list}))
	oneWay(t, "an entry", wire.ShowEntry, because{
		"Age": meet, "AgeMark": meet, "DisplayName": meet, "Name": meet, "SayAs": meet,
	}, nil)
	oneWay(t, "changed consents", func(c club.ConsentChange) any {
		return wire.ShowPerson(store.Person{}, []club.ConsentChange{c}).ConsentChanges
	}, nil, nil)
	oneWay(t, "a token", wire.ShowToken, nil, because{
		"Club": "the caller's own", "Hash": "it opens nothing, and is nobody's business",
		"UsedUS": "it says what a link is still good for, to the server", "RenewUS": "it says what moves the end, to the server",
	})
	oneWay(t, "a session", wire.ShowSession, nil, because{"Club": "who calls knows it", "Key": "it is for limits and ends", "Session": "as before"})
	oneWay(t, "a rating", wire.ShowRating, because{"DisplayName": "the directory knows it", "Name": "the directory knows it"}, nil)
	oneWay(
		t, "a factor", func(f fairness.Adopted) gen.BenchFactor { return wire.ShowFactor(f, 3) }, nil,
		because{"Degrees": "the doubt about a factor is U alone"},
	)
	oneWay(t, "a difference", wire.ShowApart, nil, nil)
	oneWay(t, "a trace", wire.ShowTrace, nil, nil)
	oneWay(t, "notes", wire.ShowNotes, nil, nil)
	oneWay(t, "says", func(r refusal.Refusal) []gen.Says { return wire.ShowSays([]*refusal.Refusal{&r}) }, nil, nil)
	oneWay(t, "totals", wire.ShowTotals, nil, nil)
	const kept = "for whoever checks or measures again"
	oneWay(t, "an inspection", wire.ShowInspectionTry, because{"Passed": "this one failed"}, nil)
	oneWay(t, "a check of a pack", func(c day.PackCheck) gen.PackCheck {
		return wire.ShowPackCheck(
			c, racer,
		)
	}, because{"Accepted": "this one was refused"},
		because{"Entry": "shown as a racer", "Loads": "the resistance was made of them"})
	figures := because{
		"DistanceDOF": kept, "UMeanUMPS": kept, "FromUS": kept, "ToUS": kept, "UTimeUS": kept, "Open": kept, "Wraps": kept,
		"NoInterval": "TestNoIntervalIsShownAsNone asks",
	}
	oneWay(t, "figures", wire.ShowFigures, nil, figures)
	oneWay(t, "a run", wire.ShowRun, because{"Battery": meet, "BenchNumber": meet, "Counts": meet, "Racer": meet},
		with(under("Figures.", figures), because{"Entry": "shown as a racer", "Boot": kept, "Sent": kept, "Old": kept}))
	oneWay(
		t, "a run of a table", func(r programme.TimedRun) []gen.StandingRun { return wire.ShowTimedRuns([]programme.TimedRun{r}) }, nil, nil,
	)
	oneWay(t, "a practice run", func(r club.Practice) gen.PracticeRun { return wire.ShowPracticeRun(r, 3, 12) }, nil,
		with(
			under("Figures.", figures),
			because{"Boot": kept, "Trace": kept, "Meet": "there is no such meet", "Reference.Check": "the page of the benches shows it", "Restated": "the page of its car shows it"},
		))
}

// Without an interval nothing is claimed of one, and an uncertainty would claim it.
func TestNoIntervalIsShownAsNone(t *testing.T) {
	f := filled[measure.Figures](1, false)
	f.NoInterval = true
	shown := wire.ShowFigures(f)
	if shown.UDistanceM != nil || shown.U95DistanceM != nil || shown.DistanceLowM != nil || shown.DistanceHighM != nil {
		t.Errorf("an interval that nobody knows is shown: %+v", shown)
	}
}

func under(prefix string, of because) because {
	out := because{}
	for path, why := range of {
		out[prefix+path] = why
	}
	return out
}

func with(a, b because) because {
	out := because{}
	for _, m := range []because{a, b} {
		for k, v := range m {
			out[k] = v
		}
	}
	return out
}
