package meet

import (
	"slices"

	"benchmeet/domain/measure"
)

// doubts are the flags after which an official should look at a run before it
// becomes official. What was only corrected or noted is not among them.
var doubts = []measure.Code{
	measure.NoSignal, measure.CutShort, measure.EarlyStart, measure.NoRise, measure.ManyBridged,
	measure.ManyExtra, measure.OpenGap, measure.Stalled, measure.Coasting, measure.MainsFlicker,
	measure.HalfSpeed, measure.DoubleSpeed, measure.TooFast, measure.Restarted,
	measure.ClockAmbiguous, measure.Backwards, measure.Impossible, measure.TotalsDisagree,
}

// Doubtful says whether the figures' own flags suggest a look and perhaps a
// re-run. It suggests; a named official rules.
func Doubtful(f measure.Figures) bool {
	return slices.ContainsFunc(f.Flags, func(flag measure.Flag) bool { return slices.Contains(doubts, flag.Code) })
}
