package bracket_test

import (
	"fmt"

	"benchmeet/bracket"
)

// A knockout of five: the caller keeps the plan and the results and asks who stands where.
func ExampleDraw_Follow() {
	names := []string{"Ada", "Bo", "Cy", "Di", "Ed"} // in seed order
	plan, err := bracket.Knockout(len(names), bracket.KnockoutOptions{Seeds: len(names)})
	if err != nil {
		fmt.Println(err)
		return
	}
	results := bracket.Results{Heats: map[string][]int{"1.1": {4, 3}}} // Ed beat Di
	for _, heat := range plan.Follow(results) {
		fmt.Print(heat.ID, " ", heat.State)
		for _, e := range heat.Lanes {
			if e >= 0 {
				fmt.Print(" ", names[e])
			}
		}
		fmt.Println()
	}
	// Output:
	// 1.1 decided Di Ed
	// 2.1 ready Ada Ed
	// 2.2 ready Bo Cy
	// 3.1 waiting
}

// Anyone can repeat a draw from its seed.
func ExampleLot() {
	fmt.Println(bracket.NewLot(42).Perm(10))
	// Output: [6 1 2 9 0 7 5 4 8 3]
}

// Seven cars share three benches: everyone runs three times, meets everyone once and has every bench once.
func ExampleShareOut() {
	plan, design, balance, err := bracket.ShareOut(7, 0, bracket.TimedOptions{Lanes: 3})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(design, plan.HeatsTotal(), "heats, meetings from", balance.MeetsLeast, "to", balance.MeetsMost)
	// Output: youden 7 heats, meetings from 1 to 1
}

// Round three of five: what the two rounds before made of the entries decides who meets whom, and why.
func ExampleNextSwissRound() {
	names := []string{"Ada", "Bo", "Cy", "Di", "Ed"} // by their first ranking
	heat := func(left, right int, points int64) bracket.SwissOutcome {
		return bracket.SwissOutcome{First: left, Second: right, FirstPoints: points, SecondPoints: 2 - points, Played: true}
	}
	bye := func(e int) bracket.SwissOutcome { return bracket.SwissOutcome{First: e, Second: -1, FirstPoints: 2} }
	entries, err := bracket.SwissHistory(len(names), [][]bracket.SwissOutcome{
		{heat(0, 2, 2), heat(3, 1, 0), bye(4)},
		{heat(1, 0, 1), heat(2, 4, 2), bye(3)},
	})
	if err != nil {
		fmt.Println(err)
		return
	}
	round, err := bracket.NextSwissRound(entries, bracket.SwissOptions{Round: 3, Rounds: 5, Win: 2})
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, p := range round.Pairs {
		fmt.Println(names[p.First], "left,", names[p.Second], "right:", p.Reasons)
	}
	fmt.Println(names[round.Bye], "has a bye:", round.ByeReasons)
	// Output:
	// Ada left, Di right: [floats-down sides-wished]
	// Ed left, Bo right: [floats-down sides-wished]
	// Cy has a bye: [bye-lowest]
}
