package measure

import (
	_ "embed"
	"encoding/json"
	"math"
	"testing"
)

// trainsJSON holds seven small trains with answers that follow from the stated
// speed alone; each names its source.
//
//go:embed testdata/pulses.json
var trainsJSON []byte

// knownTrain is one of them. Of the pointers only those that the train answers are set.
type knownTrain struct {
	ID              string  `json:"id"`
	CircumferenceMM float64 `json:"circumference_mm"`
	LapM            float64 `json:"lap_m"`
	Raw             []int64 `json:"raw_us"`
	Expected        struct {
		Turns     float64  `json:"true_turns"`
		First     int64    `json:"first_us"`
		Last      int64    `json:"last_us"`
		DistanceM float64  `json:"distance_m"`
		Laps      int64    `json:"full_laps"`
		MeanRPM   float64  `json:"mean_rpm"`
		MaxRPM    *float64 `json:"max_rpm"`
		RPMAt1S   *float64 `json:"rpm_at_1s"`
		Extra     int      `json:"extra"`
		Missing   int      `json:"missing"`
		Wraps     int      `json:"wraps"`
		Now       *int64   `json:"now_us"`
		BoundRPM  float64  `json:"upper_bound_rpm_at_now"`
	} `json:"expected"`
}

func knownTrains(t testing.TB) []knownTrain {
	t.Helper()
	var trains []knownTrain
	if err := json.Unmarshal(trainsJSON, &trains); err != nil {
		t.Fatal(err)
	}
	if len(trains) != 7 {
		t.Fatalf("%d trains, want 7", len(trains))
	}
	return trains
}

func (k knownTrain) setup() Setup {
	return Setup{Bench: Bench{CircumferenceMM: k.CircumferenceMM, MarksPerTurn: 1}, Race: Race{LapM: k.LapM}}
}

func closeTo(got, want, relative float64) bool {
	return math.Abs(got-want) <= relative*math.Abs(want)
}

func TestKnownTrains(t *testing.T) {
	for _, k := range knownTrains(t) {
		t.Run(k.ID, func(t *testing.T) {
			m, err := Measure(k.setup(), k.Raw)
			if err != nil {
				t.Fatal(err)
			}
			want := k.Expected
			if m.Turns != want.Turns || m.Laps != want.Laps || m.Extra != want.Extra ||
				m.Bridged != want.Missing || m.Wraps != want.Wraps || m.FromUS != want.First || m.ToUS != want.Last {
				t.Errorf("got %+v\nwant %+v", m, want)
			}
			if !closeTo(m.DistanceM, want.DistanceM, 1e-12) || !closeTo(m.MeanRPM, want.MeanRPM, 1e-12) {
				t.Errorf("distance %v m, mean %v rpm; want %v, %v", m.DistanceM, m.MeanRPM, want.DistanceM, want.MeanRPM)
			}
			if want.MaxRPM != nil && !closeTo(m.MaxRPM, *want.MaxRPM, 1e-12) {
				t.Errorf("top speed %v rpm, want %v", m.MaxRPM, *want.MaxRPM)
			}
			if len(m.Corrections) != want.Extra+want.Missing {
				t.Errorf("%d corrections listed, want %d", len(m.Corrections), want.Extra+want.Missing)
			}
		})
	}
}

func TestKnownTrainsLive(t *testing.T) {
	for _, k := range knownTrains(t) {
		t.Run(k.ID, func(t *testing.T) {
			tracker, err := New(k.setup())
			if err != nil {
				t.Fatal(err)
			}
			for _, at := range k.Raw {
				tracker.Add(at)
				if k.Expected.RPMAt1S != nil && at > 1_000_000 {
					// The live speed lags by half its window, in which this train still gains.
					if got := tracker.Live(at).RPM; !closeTo(got, *k.Expected.RPMAt1S, 0.03) {
						t.Errorf("%v rpm at 1 s, want %v", got, *k.Expected.RPMAt1S)
					}
					break
				}
			}
			if k.Expected.Now != nil {
				live := tracker.Live(*k.Expected.Now)
				if live.RPM > k.Expected.BoundRPM || live.RPM <= 0 || !live.Stalled {
					t.Errorf("live %+v, want a stall and at most %v rpm", live, k.Expected.BoundRPM)
				}
				m := tracker.Finish(*k.Expected.Now)
				if len(m.Flags) != 1 || m.Flags[0].Code != Stalled || m.Turns != k.Expected.Turns {
					t.Errorf("finished as %+v, want the stall flagged and %v turns", m, k.Expected.Turns)
				}
			}
		})
	}
}
