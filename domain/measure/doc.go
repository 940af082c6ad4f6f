// Package measure turns the stamps of one bench into a measurement.
//
// A bench has a mark (or several) on a roller and a sensor that stamps each
// pass with a microsecond clock. The stamps are never perfect: a mark triggers
// twice, a pass is missed, a lamp flickers, the counter wraps. This package
// finds the genuine passes and computes turns, distance, laps, mean and top
// speed, the uncertainty of the distance and a list of everything that it
// corrected or doubts.
//
// There is one piece of code for the live number and for the final one: the
// Tracker takes stamps one at a time, in bounded memory and without
// allocating, and Measure merely feeds it a whole train. Any way of cutting a
// train into parts therefore gives the same measurement.
//
// How stamps are judged. The tracker predicts the next gap from the last ones
// (a level and a trend, so that a roller that speeds up is not read as missed
// passes). A stamp that comes before 0.4 of the predicted gap is an extra one.
// One that comes within 12 % is genuine. One that comes early, or so late that it
// may be one gap or two, is held until the next stamp tells how the parts add up.
// A long gap of n predicted ones, n at most 5 and within a quarter, is bridged once
// the next stamp confirms that the roller goes on. Any other gap loses the
// prediction: the speed is sought anew beyond it, and both sides together tell how
// many passes it holds (see crossing.go). Only where they cannot, it is left open
// and flagged. How the roller went before a stamp was off is kept for a few
// passes: a later stamp that comes when it was due by that shows that those
// between were held up in the box, and that the roller never changed its speed.
// While no speed is known the stamps are judged a dozen at a time, by what a
// roller under constant acceleration can do (see search). Stamps closer together
// than any roller turns are a burst and no passes. Where a bench has two to four
// marks whose places are not stated, the first turns are kept back until they
// have told the places (see lesson.go). The files follow this order: tracker.go
// (regular stamps), judge.go, schedule.go, late.go, advance.go, acquire.go,
// search.go, crossing.go.
//
// How well a distance is known follows JCGM 100:2008 (GUM) and, where a
// rectangular part dominates, JCGM 101:2008; see Uncertainty. An interval reaches
// further on one side where another reading of the stamps says more or less, and
// there is none where nobody can say how much way was hidden or feigned: the flag
// no-interval, beside one that says why. TestProveIntervals holds the intervals to
// simulated runs with a known truth, by what goes wrong on a bench.
//
// What the number is. Without a start and a duration the run reaches from the
// first to the last genuine stamp, and its turns are whole. With them the parts
// of a turn at both ends are interpolated. A roller sees the speed of its own
// surface: wheel rpm assumes that the wheel does not slip, and a flag says so.
//
// Everything here is float work that is done once. Figures holds the rounded
// result as integers in fixed units: that, and not the floats, belongs into an
// event. The package does no input or output and reads no clock.
package measure
