package measure

// Figures is a measurement as integers in fixed units, fit for an event: the
// same to the byte on every platform. Each is rounded once, half away from zero.
type Figures struct {
	Method        string `json:"method"`
	TurnsE6       int64  `json:"turns_e6"`        // millionths of a turn
	DistanceUM    int64  `json:"distance_um"`     // µm
	UDistanceUM   int64  `json:"u_distance_um"`   // standard uncertainty, µm
	U95DistanceUM int64  `json:"u95_distance_um"` // half of the 95 % interval, µm
	// LowUM and HighUM are the ends of the 95 % interval in µm where it does not lie
	// evenly about the distance; else both are 0.
	LowUM  int64 `json:"distance_low_um,omitempty"`
	HighUM int64 `json:"distance_high_um,omitempty"`
	// NoInterval says that no interval can be stated; a flag says why.
	NoInterval    bool   `json:"no_interval,omitempty"`
	DistanceDOF   int64  `json:"distance_dof,omitempty"` // effective degrees of freedom, if few
	Laps          int64  `json:"laps"`
	MeanMRPM      int64  `json:"mean_mrpm"`                 // thousandths of 1/min
	MaxMRPM       int64  `json:"max_mrpm"`                  // over five whole turns or 50 ms
	MeanUMPS      int64  `json:"mean_um_per_s"`             // of the surface, µm/s, over the factor
	UMeanUMPS     int64  `json:"u_mean_um_per_s"`           // standard uncertainty of the mean
	MaxUMPS       int64  `json:"max_um_per_s"`              // likewise
	WheelMeanMRPM int64  `json:"wheel_mean_mrpm,omitempty"` // without slip; 0 where no wheel is stated
	WheelMaxMRPM  int64  `json:"wheel_max_mrpm,omitempty"`
	FromUS        int64  `json:"from_us"` // on the bench's clock, wraps taken out
	ToUS          int64  `json:"to_us"`
	TimeUS        int64  `json:"time_us"`             // what the run took, µs; 0 where a distance was not reached
	UTimeUS       int64  `json:"u_time_us,omitempty"` // standard uncertainty, µs, in a race by distance
	Extra         int64  `json:"extra"`               // stamps left out
	Bridged       int64  `json:"bridged"`             // passes filled in
	Open          int64  `json:"open,omitempty"`      // gaps that could not be filled in
	Wraps         int64  `json:"wraps,omitempty"`     // how often the clock began again
	Flags         []Flag `json:"flags,omitempty"`
}

// Figures returns the measurement in integers.
func (m Measurement) Figures() Figures {
	// Very many degrees, and +Inf where no part has few, read as none.
	degrees := int64(0)
	if m.Distance.Degrees < 10_000 {
		degrees = int64(m.Distance.Degrees)
	}
	f := Figures{
		Method:        Method,
		TurnsE6:       round(m.Turns * 1e6),
		DistanceUM:    round(m.DistanceM * 1e6),
		UDistanceUM:   round(m.Distance.Standard * 1e6),
		U95DistanceUM: round(m.Distance.Half * 1e6),
		DistanceDOF:   degrees,
		Laps:          m.Laps,
		MeanMRPM:      round(m.MeanRPM * 1e3),
		MaxMRPM:       round(m.MaxRPM * 1e3),
		MeanUMPS:      round(m.MeanSpeedMPS * 1e6),
		UMeanUMPS:     round(m.UMeanSpeedMPS * 1e6),
		MaxUMPS:       round(m.MaxSpeedMPS * 1e6),
		WheelMeanMRPM: round(m.WheelMeanRPM * 1e3),
		WheelMaxMRPM:  round(m.WheelMaxRPM * 1e3),
		FromUS:        m.FromUS,
		ToUS:          m.ToUS,
		TimeUS:        round(m.TimeS * 1e6),
		UTimeUS:       round(m.Time.Standard * 1e6),
		Extra:         int64(m.Extra),
		Bridged:       int64(m.Bridged),
		Open:          int64(m.Open),
		Wraps:         int64(m.Wraps),
		Flags:         m.Flags,
		NoInterval:    m.Distance.None,
	}
	// An even interval needs no ends of its own: U95DistanceUM says it.
	if m.Distance.lopsided() {
		f.LowUM, f.HighUM = round((m.DistanceM-m.Distance.Below)*1e6), round((m.DistanceM+m.Distance.Above)*1e6)
	}
	return f
}

// Interval returns the ends of the 95 % interval in µm. It is false where none can be
// stated, and for figures of no bench, whose interval nobody reckoned.
func (f Figures) Interval() (low, high int64, ok bool) {
	switch {
	case f.NoInterval || f.HighUM == 0 && f.U95DistanceUM == 0:
		return 0, 0, false
	case f.HighUM > 0:
		return f.LowUM, f.HighUM, true
	default:
		return f.DistanceUM - f.U95DistanceUM, f.DistanceUM + f.U95DistanceUM, true
	}
}
