package evidence

import (
	"fmt"

	"benchmeet/domain/measure"
	"benchmeet/domain/trace"
)

// Curve is a run measured again, with its speed over time.
type Curve struct {
	Setup    measure.Setup
	Measured measure.Measurement
	// Samples are about EveryUS apart.
	Samples []measure.Sample
	EveryUS int64
	// StartSource says where its start was stamped.
	StartSource trace.StartSource
}

// A curve has about so many samples, and none closer than a twentieth of a second:
// enough for any screen, and each over several turns.
const (
	curveSamples = 300
	leastEveryUS = 50_000
)

// Curve measures a run again and reads off its speed over time.
func (c Conditions) Curve(train trace.Train, disagree bool) (Curve, error) {
	setup, m, err := c.measured(train, disagree)
	if err != nil {
		return Curve{}, err
	}
	out := Curve{Setup: setup, Measured: m, StartSource: train.Totals.StartSource, EveryUS: max(leastEveryUS, (m.ToUS-m.FromUS)/curveSamples)}
	if out.Samples, err = measure.Curve(setup, train.Stamps, out.EveryUS); err != nil {
		return Curve{}, fmt.Errorf("run %s gives no curve: %w", train.Run, err)
	}
	return out, nil
}

// SettingsChanged says that a run's figures are not those that it is measured by now:
// its bench or its class were set otherwise when it was recorded.
func (c Curve) SettingsChanged(was measure.Figures) bool {
	// Processors may round the last digit to the other side.
	apart := c.Measured.Figures().DistanceUM - was.DistanceUM
	return apart > 1 || apart < -1
}
