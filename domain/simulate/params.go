package simulate

// Params describe one run. The zero value of every field but RPM and DurationS
// means that the thing does not happen; Usual fills in what is usual.
type Params struct {
	// Key chooses the noise; see the function Key.
	Key uint64

	// StartUS is the bench's clock at the start signal.
	StartUS int64
	// DurationS is the time from the start to the end of the race, in s.
	DurationS float64
	// TailS is for how long the bench goes on to stamp after the end, in s.
	TailS float64
	// ReactionS is the time from the signal to the first movement, in s; a
	// negative one is a false start.
	ReactionS float64

	// CircumferenceMM is the true way of the surface in one turn, in mm.
	CircumferenceMM float64
	// Marks a turn; 0 means 1.
	Marks int
	// MarkAngles in degrees, ascending from 0, where the marks are unequal.
	MarkAngles []float64
	// Phase of the roller at rest, in turns from 0 to 1; negative draws one.
	Phase float64

	// RPM is the steady speed before any sag, in turns a minute.
	RPM float64
	// TauS is the time constant of the rise, in s.
	TauS float64
	// SagFast is the part of the speed that is lost with a time constant of 15 s.
	SagFast float64
	// SagPerS is the part of the speed that is lost in each second.
	SagPerS float64
	// Wander is the relative standard deviation of the slow noise of the speed,
	// WanderS its correlation time in s (0 means 0.5).
	Wander, WanderS float64
	// Ripple is the relative amplitude of the once-per-wheel-turn speed change,
	// WheelRatio the wheel's turns per turn of the roller (0 means 1.25).
	Ripple, WheelRatio float64

	// JitterUS and JitterPart make the scatter of a stamp: JitterUS plus that
	// part of the turn's time, as a standard deviation in µs.
	JitterUS, JitterPart float64
	// DelayRate is the chance that a stamp comes late by 100 to DelayUS µs.
	DelayRate, DelayUS float64
	// StepUS is the step of the clock in µs; 0 means 1.
	StepUS float64
	// ClockPPM is by how much the clock runs fast, in 1e-6.
	ClockPPM float64

	// DoubleRate is the chance a pass of 1 to 3 extra stamps 5 to 300 µs later.
	DoubleRate float64
	// TrailRate is the chance a pass that the tape's far edge triggers too;
	// TapePart is its width in turns (0 means 0.053, 5 mm on a 30 mm roller).
	TrailRate, TapePart float64
	// MissRate is the chance that a pass is missed; never two in a row.
	MissRate float64
	// BurstRate is the chance a pass that it and 1 to 19 more are missed.
	BurstRate float64
	// StrayPerS is the mean number of stray stamps in a second.
	StrayPerS float64

	// FailAtS, StallAtS and OffAtS are the times in s from the start at which
	// the sensor falls silent, the car stops, and the car leaves the rollers; 0
	// means never. BackAtS is when it is put back.
	FailAtS, StallAtS, OffAtS, BackAtS float64
	// StopTauS makes the stop at StallAtS an abrupt one: an exponential fall with this
	// time constant, which ends for good at a hundredth of the speed. 0 means a
	// straight fall in 0.2 s.
	StopTauS float64
	// HalfFromS and DoubleFromS are the times from which every second pass is
	// lost and every pass is seen twice, half a step apart; 0 means never.
	HalfFromS, DoubleFromS float64
	// RemoteAtS and RemoteS are the begin and the length in s of a burst of a remote
	// control: a stamp at each edge of a carrier of RemoteHz (0 means 38,000), in
	// which the passes are lost. RemoteS 0 means none.
	RemoteAtS, RemoteS, RemoteHz float64
	// FlickerHz adds a lamp's steady stamps, with the roller hidden; 0 means none.
	FlickerHz float64
}

// Usual returns the parameters of a run as a usual bench gives it: a rise in
// half a second, a battery that sags, a little noise and few faults.
func Usual(key uint64, rpm, durationS float64) Params {
	return Params{
		Key: key, StartUS: 2_000_000, DurationS: durationS, ReactionS: 0.05,
		CircumferenceMM: 94.25, Phase: -1,
		RPM: rpm, TauS: 0.4, SagFast: 0.02, SagPerS: 0.0002,
		Wander: 0.004, Ripple: 0.004,
		JitterUS: 20, JitterPart: 0.002, StepUS: 1,
		DoubleRate: 0.01, MissRate: 0.002,
	}
}
