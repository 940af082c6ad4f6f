package battery_test

import (
	"fmt"

	"benchmeet/domain/battery"
)

// A fresh pack of two cells under the two loads of a tester, and a class that
// asks for one cell more.
func ExampleWindow_Judge() {
	r, err := battery.TwoLoads(battery.LoadPoint{MA: 5, MV: 2970}, battery.LoadPoint{MA: 505, MV: 2756})
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Println(r.MOhm, "mΩ", r.EMFMV, "mV")
	w := battery.FreshWindow(battery.Alkaline, 3)
	for _, no := range w.Judge(battery.Reading{Chemistry: battery.Alkaline, Cells: 2, OpenMV: 2970}) {
		fmt.Println(no)
	}
	// Output:
	// 428 mΩ 2972 mV
	// This pack has 2 cells, and this class races with 3: take a pack with the right number.
	// This pack holds too little: 2.97 V, it needs 4.50 V. Take another one.
}
