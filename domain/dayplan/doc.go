// Package dayplan says what is left of a race day: which heats, when each is likely
// called, and when the last one is over.
//
// # How
//
// [RestOf] brings the rest of a day into one form: the heats that are drawn, in the order
// of the call board, and the rounds that are not, as the forms of competition say what they
// will be (programme.Ahead). [Seen] learns from the heats of the day how long things take.
// [Order] then plays the rest once, with every length as likely as it is: heats are called in
// their order as benches fall free, cars are never in two heats and rest between, and a
// round that waits for results is drawn when those before it are closed.
//
// [Likely] plays it some hundred times instead, so that it can be said how sure the end is.
// Each play is of a day that is possible by what was seen: how quick people are, at each kind
// of work and in each division, how that scatters, and how often races are repeated are
// learned on three levels beside what is usual. Pauses that nobody planned, benches that fail
// and benches that come back are drawn, too, children who go home, and times that are told
// again. It is calibrated on days of the tests' own, whose truths are drawn in another way and
// which a hall plays by its commands.
//
// [Improve] looks for an order of the heats that wait in which the day ends earlier: that of
// a timetable (package timetable), or one that brings a division forward. Each is judged by
// the play of Order, so what it finds is never worse than the order that stands; of those
// that save about as much it takes the one that moves the fewest heats.
//
// [Cuts] says what the rest of the day can do without, a division's round or stage at a time,
// and what that takes from whom. Each is judged by the same play, on the state as the command
// of the desk would make it.
//
// [Rehearse] plays a day that has not begun with what usually goes wrong, and says which of it
// costs most.
//
// A heat that finds too few benches is not overtaken by one that would keep them from it:
// only such heats go before it as are over when its benches are free, or leave it enough
// (Lifka, The ANL/IBM SP scheduling system, 1995).
//
// # What may be relied on
//
// The same day gives the same plan. No plan has a bench or a car in two heats, a car
// without its rest, a later leg before an earlier one, a heat before its promised time, or
// a round before those that it waits for; the tests check it by code of their own. Nothing
// of a plan is an event: it is a report over the state, computed anew after each event. The
// cost of Order is about that of one pass through the heats that wait for each heat called.
//
// # What it does not do
//
// It knows no clock and no time zone: instants are handed in. Of adults it knows how many there
// are and nothing of who they are ([Crowd]); who tires shows in the pace of the day.
package dayplan
