package signal

// Fault is what is wrong with a signal.
type Fault string

// The faults. Each asks for one thing to do.
const (
	// Silent: no passes came.
	Silent Fault = "silent"
	// TooShort: so few passes came that nothing can be said.
	TooShort Fault = "too-short"
	// Lamp: the stamps are those of a lamp on the mains.
	Lamp Fault = "lamp"
	// Echo: marks are seen twice, at an edge that is not clean or at both of them.
	Echo Fault = "echo"
	// Missed: marks go by unseen.
	Missed Fault = "missed"
	// Stray: something else than marks is seen.
	Stray Fault = "stray"
	// Bursts: many stamps at once, faster than any roller, as from a remote control.
	Bursts Fault = "bursts"
	// Marks: there are not as many marks as stated, or not where they should be.
	Marks Fault = "marks"
	// Unsteady: stamps scatter about their passes.
	Unsteady Fault = "unsteady"
	// Breaks: the signal stopped and came back, or stopped at full speed.
	Breaks Fault = "breaks"
)
