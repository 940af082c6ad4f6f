package sheet

import (
	"math"
	"strings"

	"benchmeet/domain/measure"
)

const measureHelp = `
Measures one run from the stamps of its bench.

  {"bench": {"circumference_mm": 94.25, "marks_per_turn": 1, "stamp_us": 1, "clock_ppm": 50,
             "circumference_u_mm": 0.05},
   "car":   {"wheel_diameter_mm": 24},
   "race":  {"lap_m": 0.2, "start_us": null, "duration_s": null},
   "stamps_us": [1000, 7000, 13000, 19000, 25000, 31000, 31300, 37000, 43000, 49000]}

  bench.circumference_mm    way of the roller's surface in one turn; it is the only field that must be there
  bench.circumference_u_mm  its standard uncertainty
  bench.marks_per_turn      marks that pass the sensor in one turn (1)
  bench.mark_angles         places of the marks in degrees, ascending, the first at 0; those of 2 to 4 marks are learnt from
                            the run where they are left out
  bench.stamp_us            step of the stamps (1)
  bench.clock_ppm           standard uncertainty of the clock's rate, in millionths
  bench.clock_bits          width of the counter: 16 (counts steps of stamp_us; it may wrap unseen, so no interval is given),
                            32 or 64 (count µs) (32)
  bench.factor              what the bench reads over what is true: distance and speeds are divided by it (1)
  bench.factor_u, factor_dof  its standard uncertainty and the degrees of freedom of that
  car.wheel_diameter_mm     for wheel rpm, which assumes no slip
  race.lap_m                length of a lap
  race.start_us             stamp of the start signal; start_delay_us bounds how late that stamp may be
  race.duration_s           length of a race by time: the distance counts
  race.distance_m           length of a race by distance: time_s counts
  stamps_us                 µs as the counter box sends them, in their order

Without start_us and duration_s the run reaches from the first to the last genuine stamp and turns are whole;
with them the parts of a turn at both ends are interpolated. u_distance_m is the combined standard uncertainty,
u95_distance_m half the width of the interval that covers 95 %; where that is lopsided its ends stand too, as
distance_low_m and distance_high_m; where none can be stated honestly all three are null and a flag says why.
max_rpm rests on five whole turns or 50 ms, whichever is longer. Corrections are listed with their times, wraps of the clock taken out.

Flag codes (N stands for a number):
`

// MeasureHelp shows the format of a run, and all flags.
func MeasureHelp() string { return measureHelp + flagList() }

// flagList shows every flag code with its sentence.
func flagList() string {
	var b strings.Builder
	for _, entry := range measure.Codes() {
		b.WriteString("  " + entry.Code + strings.Repeat(" ", max(1, 22-len(entry.Code))) + entry.Says + "\n")
	}
	return b.String()
}

// MeasureInput is a bench, a car, a race and the stamps of a run.
type MeasureInput struct {
	measure.Setup
	Stamps []int64 `json:"stamps_us"`
}

// MeasureOutput is a run as it was measured, to six decimal places.
type MeasureOutput struct {
	Method       string               `json:"method"`
	Turns        float64              `json:"turns"`
	Extra        int                  `json:"extra"`
	Bridged      int                  `json:"bridged"`
	DistanceM    float64              `json:"distance_m"`
	RawDistanceM *float64             `json:"raw_distance_m,omitempty"`
	Laps         int64                `json:"laps"`
	TimeS        *float64             `json:"time_s,omitempty"`
	UTimeS       *float64             `json:"u_time_s,omitempty"`
	MeanRPM      float64              `json:"mean_rpm"`
	MaxRPM       float64              `json:"max_rpm"`
	MeanSpeed    float64              `json:"mean_speed_mps"`
	MaxSpeed     float64              `json:"max_speed_mps"`
	WheelMean    *float64             `json:"wheel_rpm_mean"`
	WheelMax     *float64             `json:"wheel_rpm_max"`
	UDistance    float64              `json:"u_distance_m"`
	U95Distance  *float64             `json:"u95_distance_m"`
	Low          *float64             `json:"distance_low_m,omitempty"`
	High         *float64             `json:"distance_high_m,omitempty"`
	Degrees      *float64             `json:"dof,omitempty"`
	FromUS       int64                `json:"from_us"`
	ToUS         int64                `json:"to_us"`
	Wraps        int                  `json:"wraps"`
	Flags        []MeasureFlag        `json:"flags"`
	Corrections  []measure.Correction `json:"corrections"`
}

// MeasureFlag is a flag of a run with its sentence.
type MeasureFlag struct {
	Code measure.Code `json:"code"`
	Says string       `json:"says"`
}

// Measure measures one run.
func Measure(in MeasureInput) (any, error) {
	m, err := measure.Measure(in.Setup, in.Stamps)
	if err != nil {
		return nil, Refuse("%w", err)
	}
	out := MeasureOutput{
		Method: measure.Method, Turns: decimals(m.Turns), Extra: m.Extra, Bridged: m.Bridged,
		DistanceM: decimals(m.DistanceM), Laps: m.Laps,
		MeanRPM: decimals(m.MeanRPM), MaxRPM: decimals(m.MaxRPM),
		MeanSpeed: decimals(m.MeanSpeedMPS), MaxSpeed: decimals(m.MaxSpeedMPS),
		UDistance: decimals(m.Distance.Standard),
		FromUS:    m.FromUS, ToUS: m.ToUS, Wraps: m.Wraps,
		Flags: []MeasureFlag{}, Corrections: m.Corrections,
	}
	// The same rounded figures as the server's.
	f := m.Figures()
	if low, high, there := f.Interval(); there {
		out.U95Distance = some(float64(f.U95DistanceUM) / 1e6)
		if f.HighUM > 0 {
			out.Low, out.High = some(float64(low)/1e6), some(float64(high)/1e6)
		}
	} else if !m.Distance.None {
		out.U95Distance = some(0)
	}
	if in.Bench.Factor != 0 && in.Bench.Factor != 1 {
		out.RawDistanceM = some(m.RawDistanceM)
	}
	if in.Race.DistanceM != nil && m.TimeS > 0 {
		out.TimeS, out.UTimeS = some(m.TimeS), some(m.Time.Standard)
	}
	if in.Car.WheelDiameterMM > 0 {
		out.WheelMean, out.WheelMax = some(m.WheelMeanRPM), some(m.WheelMaxRPM)
	}
	if m.Distance.Degrees > 0 && !math.IsInf(m.Distance.Degrees, 0) {
		out.Degrees = some(m.Distance.Degrees)
	}
	for _, f := range m.Flags {
		out.Flags = append(out.Flags, MeasureFlag{f.Code, f.Says()})
	}
	return out, nil
}

// decimals rounds to the six places that are printed.
func decimals(x float64) float64 {
	return math.Round(x*1e6) / 1e6
}

// some is a number that is there.
func some(x float64) *float64 {
	x = decimals(x)
	return &x
}
