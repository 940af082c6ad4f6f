package day

import "benchmeet/domain/refusal"

// Reason says why an official ruled. The free text stands outside the log; its
// salted hash proves that it was not changed later.
type Reason struct {
	Code     ReasonCode `json:"code"`
	Text     string     `json:"text,omitempty"`      // id of the text
	TextHash string     `json:"text_hash,omitempty"` // SHA-256 of salt and text
}

// ReasonCode is a reason in one word.
type ReasonCode string

// Reason codes (common practice).
const (
	ReasonBenchFault   ReasonCode = "bench-fault"
	ReasonMissedPulses ReasonCode = "missed-pulses"
	ReasonPower        ReasonCode = "power"
	ReasonVolunteer    ReasonCode = "volunteer-error"
	ReasonOutside      ReasonCode = "outside-interference"
	ReasonOffRollers   ReasonCode = "off-rollers"
	ReasonStalled      ReasonCode = "stalled"
	ReasonFalseStart   ReasonCode = "false-start"
	ReasonWrongCar     ReasonCode = "wrong-car"
	ReasonNotThere     ReasonCode = "not-there"
	ReasonCarNotLegal  ReasonCode = "car-not-legal"
	ReasonConduct      ReasonCode = "conduct"
	ReasonProtest      ReasonCode = "protest"
	ReasonFamily       ReasonCode = "family" // illness, leaving early
	ReasonTie          ReasonCode = "tie"
	ReasonTime         ReasonCode = "time"           // the hall closes
	ReasonBenches      ReasonCode = "benches-differ" // they do not read alike
	ReasonAlarm        ReasonCode = "alarm"
	ReasonLunch        ReasonCode = "lunch"
	ReasonCarChanged   ReasonCode = "car-changed"
	ReasonOther        ReasonCode = "other"
)

// ReasonCodes lists all reason codes in the order in which a form offers them.
func ReasonCodes() []ReasonCode {
	return []ReasonCode{
		ReasonBenchFault, ReasonMissedPulses, ReasonPower, ReasonVolunteer, ReasonOutside,
		ReasonOffRollers, ReasonStalled, ReasonFalseStart, ReasonWrongCar, ReasonNotThere,
		ReasonCarNotLegal, ReasonConduct, ReasonProtest, ReasonFamily, ReasonTie, ReasonTime,
		ReasonBenches, ReasonAlarm, ReasonLunch, ReasonCarChanged, ReasonOther,
	}
}

// Check refuses a reason without a known code.
func (r Reason) Check() error {
	if !OneOf(r.Code, ReasonCodes()...) {
		return refusal.New("reason-code", "code", r.Code)
	}
	return nil
}

// Ruling is a decision by a named official with a reason, as the list of rulings
// shows it.
type Ruling struct {
	Number int        `json:"number"` // from 1
	Kind   string     `json:"kind"`   // the event's type
	By     string     `json:"by"`     // actor
	AtUS   int64      `json:"at_us"`
	Reason Reason     `json:"reason"`
	Heat   HeatID     `json:"heat,omitempty"`
	Entry  EntryID    `json:"entry,omitempty"`
	Run    RunID      `json:"run,omitempty"`
	Div    DivisionID `json:"division,omitempty"`
	// Status is what a status ruling made of the lane; empty where it was taken back.
	Status LaneStatus `json:"status,omitempty"`
	// PenaltyUM is what a penalty takes off, in µm.
	PenaltyUM int64 `json:"penalty_um,omitempty"`
	// WasUM and IsUM are a count by hand before and after its correction, in µm.
	WasUM int64 `json:"was_um,omitempty"`
	IsUM  int64 `json:"is_um,omitempty"`
	// Factors is the number of the factor set that was adopted or withdrawn.
	Factors int `json:"factors,omitempty"`
	// Correction counts the rulings that changed an official result; 0 where
	// the result was not official yet.
	Correction int `json:"correction,omitempty"`
}

// Ruled is the part that all events of rulings share.
type Ruled struct {
	By         string `json:"by"`
	Reason     Reason `json:"reason"`
	Correction int    `json:"correction,omitempty"`
}
