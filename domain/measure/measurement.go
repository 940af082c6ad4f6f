package measure

// Method names the way of measuring. It changes whenever the same stamps could
// give another number, and stands beside each measurement in the log. A run keeps
// the figures of the method that it was recorded by until it is measured again.
//
//	1  gaps of more than five passes are left open, marks stand where stated or evenly
//	2  gaps are counted from both sides, marks are learnt, intervals may be lopsided
//	   or absent
const Method = "benchmeet-measure/3"

// Measurement is what a run came to. All of it is computed.
type Measurement struct {
	// Turns of the roller: whole ones between the first and the last genuine
	// stamp, with the parts at both ends where the race states them.
	Turns float64
	// Extra and Bridged count the stamps left out and the passes filled in.
	Extra, Bridged int
	// Open counts gaps that could not be filled in.
	Open int
	// DistanceM is the way of the roller's surface in m, over the bench factor.
	DistanceM float64
	// RawDistanceM is the same before the bench factor.
	RawDistanceM float64
	// Laps are full laps; 0 where no length of a lap is set.
	Laps int64
	// MeanRPM and MaxRPM are of the roller, uncorrected by the factor. The
	// maximum is over five whole turns or 50 ms, whichever is longer.
	MeanRPM, MaxRPM float64
	// MeanSpeedMPS and MaxSpeedMPS are of the roller's surface in m/s, over the factor.
	MeanSpeedMPS, MaxSpeedMPS float64
	// WheelMeanRPM and WheelMaxRPM assume no slip; 0 where no wheel is stated.
	WheelMeanRPM, WheelMaxRPM float64
	// FromUS and ToUS bound the run on the bench's clock, wraps taken out: the
	// start and the end of the race, or the first and last genuine stamp.
	FromUS, ToUS int64
	// TimeS is the time that the run took in s; in a race by distance it is the
	// result, and 0 if the distance was not reached.
	TimeS float64
	// Time is the uncertainty of TimeS in a race by distance, in s.
	Time Uncertainty
	// Start and End are the parts of a turn at both ends, which are in Turns.
	Start, End Edge
	// Wraps counts how often the clock began again.
	Wraps int
	// Distance is the uncertainty of DistanceM, in m. Of a run without start and
	// end it is that of the way between its first and its last stamp.
	Distance Uncertainty
	// UMeanSpeedMPS is the standard uncertainty of MeanSpeedMPS.
	UMeanSpeedMPS float64
	// Flags are what a reader must know, in a fixed order.
	Flags []Flag
	// Corrections are in order of time.
	Corrections []Correction
}
