// Package simulate makes the stamps that a bench would send, together with the
// truth behind them.
//
// It is for rehearsals and for tests of the measurement, and therefore shares no
// code with the package measure. A Train follows a roller from rest through its
// rise, the sag of the battery and its wander, and then spoils the passes as
// sensors, clocks and tape do. The plausible ranges of the parameters are
// engineering judgement, not measurements.
//
// The same Params give the same Train, whatever else is simulated before or at
// the same time: all noise comes from a generator that is made from Params.Key.
// Use Key to make one from what identifies a run. The package is pure: it reads
// no clock and no global random source.
package simulate
