package day

import (
	"fmt"

	"benchmeet/domain/measure"
	"benchmeet/domain/refusal"
	"benchmeet/domain/roller"
)

// Bench is one measuring station with the settings that the meet runs with: a
// copy of the club's, so that a later change there does not touch this day.
type Bench struct {
	ID              BenchID `json:"id"`
	Number          int     `json:"number"`                       // on its plate
	CircumferenceUM int64   `json:"circumference_um"`             // of the roller
	UCircumUM       int64   `json:"u_circumference_um"`           // its standard uncertainty
	Marks           int     `json:"marks_per_turn"`               // seen by the sensor in one turn
	StampNS         int64   `json:"stamp_ns"`                     // resolution of the stamp clock
	ClockPPB        int64   `json:"clock_ppb"`                    // standard uncertainty of the clock's rate, 10^-9
	FactorPPM       int64   `json:"factor_ppm,omitempty"`         // measured value / true value - 1, 10^-6
	OutOfService    bool    `json:"out_of_service,omitempty"`     // takes no heats
	OutReason       string  `json:"out_of_service_why,omitempty"` // reason code
	OutSinceUS      int64   `json:"-"`                            // since when it is out; 0 where it is in service
	BackUS          int64   `json:"-"`                            // since when it is in service again; 0 where it never was out

	// How the circumference was measured, in at most one way; with neither somebody knew it.
	Rolled  roller.Rolled  `json:"rolled,omitzero"`
	Caliper roller.Caliper `json:"caliper,omitzero"`
}

// Check refuses settings that no bench can have.
func (b Bench) Check() error {
	if err := CheckID("bench", string(b.ID)); err != nil {
		return err
	}
	ok := b.Number >= 1 && b.Number <= 999 &&
		b.CircumferenceUM >= 1_000 && b.CircumferenceUM <= 10_000_000 &&
		b.UCircumUM >= 0 && b.UCircumUM <= b.CircumferenceUM/10 &&
		b.Marks >= 1 && b.Marks <= measure.MostMarks &&
		b.StampNS >= 1 && b.StampNS <= 10_000_000 &&
		b.ClockPPB >= 0 && b.ClockPPB <= 100_000_000 &&
		b.FactorPPM > -500_000 && b.FactorPPM < 500_000
	if !ok {
		return refusal.New("bench-settings", "bench", b.ID)
	}
	return b.checkMeasured()
}

// checkMeasured refuses a circumference that does not follow from how it was measured.
func (b Bench) checkMeasured() error {
	rolled, across := b.Rolled != roller.Rolled{}, b.Caliper != roller.Caliper{}
	var um, u int64
	switch {
	case !rolled && !across:
		return nil
	case rolled && across:
		return refusal.New("bench-two-ways", "bench", b.ID)
	case rolled && b.Rolled.Can():
		um, u = b.Rolled.Circumference()
	case across && b.Caliper.Can():
		um, u = b.Caliper.Circumference()
	default:
		return refusal.New("bench-settings", "bench", b.ID)
	}
	// Whoever reckons elsewhere may round a half the other way.
	if um-b.CircumferenceUM < -1 || um-b.CircumferenceUM > 1 || u-b.UCircumUM < -1 || u-b.UCircumUM > 1 {
		return refusal.New("bench-measured", "mm", mm(um), "u", mm(u))
	}
	return nil
}

func mm(um int64) string { return fmt.Sprintf("%d.%03d", um/1000, um%1000) }
