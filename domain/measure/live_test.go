package measure

import "testing"

func TestLive(t *testing.T) {
	start := int64(100_000)
	tracker, err := New(Setup{Bench: Bench{CircumferenceMM: 100}, Race: Race{LapM: 1, StartUS: &start}})
	if err != nil {
		t.Fatal(err)
	}
	if l := tracker.Live(50_000); l != (Live{}) {
		t.Errorf("before any stamp: %+v", l)
	}
	stamps := steady(106_000, 300)
	for i, at := range stamps {
		tracker.Add(at)
		l := tracker.Live(at)
		// From the second stamp on, long before the search has settled, there is a speed.
		if i > 0 && !closeTo(l.RPM, 10_000, 1e-9) {
			t.Fatalf("stamp %d: %v rpm", i, l.RPM)
		}
		if l.Turns != float64(i) || !closeTo(l.DistanceM, float64(i)/10, 1e-12) || l.Laps != int64(i/10) {
			t.Fatalf("stamp %d: %+v", i, l)
		}
	}
	last := stamps[len(stamps)-1]
	before := tracker.Live(last).RPM
	for since := int64(6000); since < 3_000_000; since += 50_000 {
		l := tracker.Live(last + since)
		// Less than a turn has passed since the last stamp.
		if bound := 60e6 / float64(since); l.RPM > bound*(1+1e-12) || l.RPM > before {
			t.Fatalf("%d µs after the last stamp: %v rpm, at most %v", since, l.RPM, bound)
		}
		if l.Stalled != (since > 500_000) {
			t.Fatalf("%d µs after the last stamp: stalled is %v", since, l.Stalled)
		}
		before = l.RPM
	}
}

func TestCompareWithOthers(t *testing.T) {
	tests := []struct {
		name   string
		own    float64
		others []float64
		want   Code
	}{
		{"alike", 10_100, []float64{9900, 10_000, 10_300}, ""},
		{"half", 5000, []float64{9900, 10_000, 10_300}, HalfOfOthers},
		{"double", 20_300, []float64{9900, 10_000, 10_300}, DoubleOfOthers},
		{"slow, not half", 6000, []float64{9900, 10_000, 10_300}, ""},
		{"one other is no witness", 5000, []float64{10_000}, ""},
		{"the others differ", 5000, []float64{5000, 10_000, 15_000}, ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			f, ok := CompareWithOthers(tt.own, tt.others)
			if f.Code != tt.want || ok != (tt.want != "") {
				t.Errorf("got %v %v, want %q", f, ok, tt.want)
			}
		})
	}
}
