package signal_test

import (
	"slices"
	"testing"

	"benchmeet/domain/signal"
)

// TestDraw: where steps stand that are reckoned by hand. Steps of 10 ms make the plot 25 ms
// high, so a row of ten is 2.5 ms: 10 ms stand in row 4, 20 ms in row 8, 60 ms at the top,
// 1 ms in row 0.
func TestDraw(t *testing.T) {
	steps := []int64{10, 10, 10, 10, 20, 10, 1, 9, 60, 10, 10, 10} // ms
	stamps := []int64{5_000_000}
	for _, ms := range steps {
		stamps = append(stamps, stamps[len(stamps)-1]+ms*1000)
	}
	// 170 ms, of which the steps up to 10 ms fill more than half; the look went on for 30 more:
	// ten columns of 20 ms.
	p := signal.Draw(stamps, 5_200_000, 10, 10)
	want := []signal.Dot{
		{0, 4}, {1, 4}, {2, 4}, // the ends of the first four are at 10, 20, 30, 40 ms
		{3, 4}, {3, 8}, // 20 ms up to 60 are one column further, and 70
		{3, 0}, {4, 3}, // 1 ms up to 71, 9 ms up to 80
		{7, 4}, {7, 9}, // 60 ms up to 140, and 150
		{8, 4},
	}
	slices.SortFunc(want, func(a, b signal.Dot) int { return (a.Column-b.Column)*100 + a.Row - b.Row })
	if !slices.Equal(p.Dots, want) || p.TopUS != 25_000 || p.Seconds != 0.2 || p.Columns != 10 || p.Rows != 10 {
		t.Errorf("%+v, want the dots %v", p, want)
	}
	for _, few := range [][]int64{nil, {1}, {1, 2}} {
		if p := signal.Draw(few, 9, 10, 10); len(p.Dots) > 0 {
			t.Errorf("%v make a plot: %+v", few, p)
		}
	}
	// A clock that says the same time again and again divides nothing by nothing.
	if p := signal.Draw([]int64{7, 7, 7, 7}, 0, 4, 4); len(p.Dots) != 1 {
		t.Errorf("all at once: %+v", p)
	}
}
