package measure

import "fmt"

// Code names something that a reader of a measurement must know. Codes never
// change their meaning, as they stand in events.
type Code string

// The codes of flags, in the order in which a measurement lists them.
const (
	NoSignal       Code = "no-signal"
	CutShort       Code = "cut-short"
	NotReached     Code = "distance-not-reached"
	EarlyStart     Code = "early-start"
	NoRise         Code = "no-rise"
	StartMissed    Code = "start-missed"
	Bridged        Code = "bridged"
	ManyBridged    Code = "many-bridged"
	ManyExtra      Code = "many-extra"
	Burst          Code = "burst"
	RowFilled      Code = "row-filled"
	StrayStamps    Code = "stray-stamps"
	OpenGap        Code = "open-gap"
	Stalled        Code = "stalled"
	WentSilent     Code = "went-silent"
	LateEnd        Code = "late-end"
	SilentEnd      Code = "silent-end"
	Coasting       Code = "off-rollers"
	MainsFlicker   Code = "mains-flicker"
	HalfSpeed      Code = "half-speed"
	DoubleSpeed    Code = "double-speed"
	MarkSilent     Code = "mark-silent"
	HalfOfOthers   Code = "half-of-others"
	DoubleOfOthers Code = "double-of-others"
	TooFast        Code = "too-fast"
	Noise          Code = "noise"
	Backwards      Code = "backwards"
	Impossible     Code = "impossible-stamp"
	Restarted      Code = "restarted"
	ClockAmbiguous Code = "clock-ambiguous"
	TotalsDisagree Code = "totals-disagree"
	PassesLost     Code = "passes-lost"
	ListCut        Code = "list-cut"
	FactorApplied  Code = "bench-factor"
	NoSlipAssumed  Code = "no-slip-assumed"
	NoInterval     Code = "no-interval"
)

// catalogue holds the English sentence of every code; %[n]d stands for
// argument n. It is the only place where these sentences are written.
var catalogue = []struct {
	code Code
	says string
}{
	{NoSignal, "There are fewer than two genuine stamps, so there is nothing to measure: check sensor, mark and battery."},
	{CutShort, "The stamps were ended %[1]d ms before the race was over."},
	{NotReached, "The set distance was not reached."},
	{EarlyStart, "The roller was turning before the start signal (%[1]d turns); only what came after it counts."},
	{NoRise, "The first stamps after the start come at full speed with no rise: was the car started early, or is it a lamp?"},
	{StartMissed, "The first passes were missed: about %[1]d turns before the first stamp were reckoned from how the roller sped up."},
	{Bridged, "Missed passes were filled in: %[1]d."},
	{ManyBridged, "More than 2 %% of the passes were missed (%[1]d of %[2]d): clean the mark, check the sensor, consider a re-run."},
	{ManyExtra, "More than 5 %% of the stamps were extra ones (%[1]d of %[2]d): check the mark's edges and stray light."},
	{
		Burst,
		"Stamps came faster than any roller turns (%[1]d times), as from a remote control: the passes in between were reckoned from both sides.",
	},
	{RowFilled, "Rows of missed passes were reckoned from the speed on both sides of them: %[1]d."},
	{StrayStamps, "Stray stamps were left out (%[1]d), and one may have been counted or a pass left out instead: shade the sensor."},
	{OpenGap, "Gaps that could not be filled in: %[1]d, the longest %[2]d ms. The distance is a lower bound."},
	{Stalled, "No pass was seen in the last %[1]d ms: the roller stood still, unless the sensor failed."},
	{
		WentSilent,
		"The stamps ended at full speed, and no roller stops within a turn: sensor or cable failed. Nothing is known of the last %[1]d ms.",
	},
	{LateEnd, "The very last stamp came late: the roller was stopping, or passes were missed just before it."},
	{SilentEnd, "No stamp came in the last %[1]d ms, though one was due: passes were missed there, or the roller stopped at once."},
	{Coasting, "The roller ran down slowly to less than half of its top speed: did the car leave the rollers?"},
	{MainsFlicker, "A steady %[1]d stamps a second is what a mains lamp gives: shade the sensor and turn the roller by hand to check."},
	{HalfSpeed, "Every second pass was lost for %[1]d turns: half the speed would have been read."},
	{DoubleSpeed, "Every pass was seen twice for %[1]d turns: double the speed would have been read."},
	{MarkSilent, "One of the %[1]d marks is never seen: the turns are counted by the others. Clean the marks."},
	{HalfOfOthers, "This is half of what the other benches read: are half of the passes lost, or are the marks of a turn stated wrongly?"},
	{DoubleOfOthers, "This is double of what the other benches read: is every pass seen twice, or are the marks of a turn stated wrongly?"},
	{TooFast, "The top speed is above 25,000 rpm, which no such car reaches: check the number of marks."},
	{Noise, "Stamps without any order were left out: %[1]d."},
	{Backwards, "Stamps that ran backwards were left out: %[1]d."},
	{Impossible, "Stamps that no clock gives were left out: %[1]d."},
	{Restarted, "The counter box restarted during the run (%[1]d times); the way in between is not counted."},
	{
		ClockAmbiguous,
		"The counter has so few bits that it may wrap unseen between two stamps (%[1]d gaps came near to that): have the counter box count its wraps.",
	},
	{TotalsDisagree, "The counter box says that it sent another number of stamps than came here: consider a re-run."},
	{PassesLost, "The counter box counted passes that did not come over its cable: %[1]d. Check cable and plug."},
	{ListCut, "The list of corrections is cut after %[1]d; the counts are complete."},
	{FactorApplied, "Distance and speeds are divided by the bench factor."},
	{NoSlipAssumed, "Wheel rpm assumes that the wheel does not slip on the roller: a roller cannot see slip."},
	{NoInterval, "How far this may be from the truth cannot be stated: see what else is said of the run. Do not decide by this number."},
}

// Flag is a code with its arguments, integers in the unit that the sentence names.
type Flag struct {
	Code Code    `json:"code"`
	Args []int64 `json:"args,omitempty"`
}

// Says returns the English sentence of the flag. A code from a later version,
// which the catalogue does not hold, is returned as it is.
func (f Flag) Says() string {
	for _, entry := range catalogue {
		if entry.code == f.Code {
			args := make([]any, 4)
			for i := range args[:3] {
				args[i] = int64(0)
				if i < len(f.Args) {
					args[i] = f.Args[i]
				}
			}
			// The last verb takes the empty string, so that none of the arguments
			// counts as too many.
			args[3] = ""
			return fmt.Sprintf(entry.says+"%[4]s", args...)
		}
	}
	return string(f.Code)
}

// Codes returns every code with its sentence (arguments as "N"), in order.
func Codes() []struct{ Code, Says string } {
	list := make([]struct{ Code, Says string }, 0, len(catalogue))
	for _, entry := range catalogue {
		list = append(list, struct{ Code, Says string }{string(entry.code), withPlaceholders(entry.says)})
	}
	return list
}

// withPlaceholders shows a sentence without its arguments.
func withPlaceholders(says string) string {
	out := make([]byte, 0, len(says))
	for i := 0; i < len(says); i++ {
		switch {
		case says[i] != '%':
			out = append(out, says[i])
		case says[i+1] == '%':
			out, i = append(out, '%'), i+1
		default: // %[n]d
			out, i = append(out, 'N'), i+4
		}
	}
	return string(out)
}
