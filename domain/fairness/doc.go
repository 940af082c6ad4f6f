// Package fairness finds out how far the results of a meet can be compared: it
// compares benches, and suggests re-runs.
//
// # Benches
//
// [FitBenches] fits ln(value) = car + bench + round + noise by least squares to all
// runs of a day, in whatever way cars met benches, and gives every bench a factor
// with an interval, Mandel's h and k, a verdict and a sentence in plain words.
// A result is made comparable by dividing it by the factor of its bench; what is
// stored is an [Adopted] factor in whole millionths, and [Adopted.Apply] keeps both
// values. [Fit.Difference] says how well two cars can be told apart.
//
// [LevelOf] is the one-way analysis by bench of ISO 5725-2, with the convention
// of ASTM E691 beside it; [Crossed] and [AverageAndRange] are gauge studies of
// every car on every bench; [Nested] takes repeats within heats within benches
// apart. [Mandel], [Cochran], [Grubbs] and [DoubleGrubbs] name what does not fit
// in; ISO's words are used: a straggler beyond the 5 % point, an outlier beyond
// the 1 % point. Nothing is ever left out by itself: a person rules.
//
// # Re-runs
//
// [AdviseHeat] weighs flags, bench verdicts and the neighbours in a heat, and
// suggests. It decides nothing: a named official rules.
//
// # Numbers
//
// Fits are reports over the state and never part of it, so they are float work;
// they depend on nothing but their input, not on its order among equals and not
// on the order of a map. Whatever may be adopted into an event is in whole
// millionths. Sentences are a [Note]: a code with arguments, whose English stands
// in one catalogue. The package reads no clock and draws no lot.
//
// The tests hold the arithmetic to published reference values (testdata names
// the sources) and the intervals to simulated meets with a known truth.
package fairness
