package fairness_test

import (
	"fmt"

	"benchmeet/domain/fairness"
)

// Three cars on three benches; bench b1 shows more than the others.
func ExampleFitBenches() {
	f, err := fairness.FitBenches([]fairness.Run{
		{Bench: "b1", Car: "A", Value: 230.1, At: 1},
		{Bench: "b2", Car: "A", Value: 225.4, At: 2},
		{Bench: "b3", Car: "A", Value: 225.9, At: 3},
		{Bench: "b1", Car: "B", Value: 241.3, At: 2},
		{Bench: "b2", Car: "B", Value: 236.0, At: 3},
		{Bench: "b3", Car: "B", Value: 236.8, At: 1},
		{Bench: "b1", Car: "C", Value: 219.0, At: 3},
		{Bench: "b2", Car: "C", Value: 214.9, At: 1},
		{Bench: "b3", Car: "C", Value: 214.6, At: 2},
	}, fairness.Rounds)
	if err != nil {
		fmt.Println(err)
		return
	}
	for _, b := range f.Benches {
		fmt.Printf("%s %.4f (%.4f to %.4f): %s\n", b.Name, b.Factor, b.Low, b.High, fairness.Join(b.Says))
	}
	// Output:
	// b1 1.0133 (1.0116 to 1.0150): Bench b1 reads 1.9 % high: for the same car it shows that much more than the middle bench.
	// b2 0.9927 (0.9910 to 0.9944): Bench b2 agrees with the middle of the benches.
	// b3 0.9941 (0.9924 to 0.9958): Bench b3 agrees with the middle of the benches.
}
