package meet_test

import (
	"fmt"

	"benchmeet/domain/day"
	"benchmeet/domain/meet"
	"benchmeet/domain/programme"
)

// A command is decided against the state, and its events make the next state. A
// refusal is a sentence, and changes nothing.
func Example() {
	s := day.New()
	give := func(c meet.Command) {
		now := int64(1_800_000_000_000_000)
		events, err := meet.Decide(s, c, meet.Meta{Actor: "organiser", NowUS: now, Seed: 7})
		if err != nil {
			fmt.Println("refused:", err)
			return
		}
		for _, e := range events {
			day.Evolve(s, e, now)
			fmt.Println(e.Type())
		}
	}
	give(meet.PlanMeet{
		Plan:  day.Plan{Name: "Harbour Hall spring meet", Date: "2027-03-06"},
		Rules: day.UsualRules(),
	})
	give(meet.CloseEntries{Division: "junior"})
	timed, err := programme.ReadStage(
		"junior", 1, []byte(`{"kind": "timed-rounds", "race_us": 60000000, "lanes": 4, "rounds": 3, "rule": "best"}`),
	)
	if err != nil {
		fmt.Println(err)
	}
	give(meet.AddDivision{Division: day.Division{
		ID: "junior", Name: "Junior", AgeFrom: 8, AgeTo: 11, Class: day.CarClass{LapUM: 20_000_000},
		Stages: []day.Stage{timed},
	}})
	give(meet.CloseEntries{Division: "junior"})
	// Output:
	// MeetPlanned
	// refused: There is no such division in this meet: look at the plan.
	// DivisionAdded
	// EntriesClosed
}
