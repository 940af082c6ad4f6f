// Package timetable plans a day: heats and tasks onto benches and times, so that the
// day is as short as it can be, and says how short that is and what holds it up.
//
// # What it plans
//
// A [Problem] has resources of which activities use whole units while they run
// (benches, referees), activities with a duration, an order, a release and a due
// time, entries that never race twice at once and rest between, outages of a number
// of units or of a named one, and starts that are fixed. [Solve] answers with a
// [Plan]: every start, which bench for whom (use evened out), a length below which no
// plan can come, and the [Reason] for it. In the words of the trade this is the
// project scheduling problem with limited resources, time windows and one further
// resource of one unit, with a set-up, for every entry.
//
// # How
//
// First plans come from priority rules by the serial and the parallel schedule
// generation scheme (Kolisch, Serial and parallel resource-constrained project
// scheduling methods revisited, 1996) and from the standing plan. Each is justified to
// the right and to the left (Valls, Ballestín and Quintanilla, Justification and RCPSP:
// a technique that pays, 2005), which never makes it longer. Then lists are crossed as
// in Hartmann, A competitive genetic algorithm for resource-constrained project
// scheduling, 1998, and Valls, Ballestín and Quintanilla, A hybrid genetic algorithm
// for the resource-constrained project scheduling problem, 2008; and walks go on from
// good plans: an activity without slack overtakes one that it waited for (after Van
// Laarhoven, Aarts and Lenstra, Job shop scheduling by simulated annealing, 1992), or a
// part of the plan is taken out and put back otherwise (Shaw, Using constraint
// programming and local search methods to solve vehicle routing problems, 1998). Days of
// up to forty activities are also looked through as a whole, instant by instant (after
// Demeulemeester and Herroelen, A branch-and-bound procedure for the multiple
// resource-constrained project scheduling problem, 1992): that finds what walks miss, or
// shows that nothing is shorter.
//
// Bounds are the longest chain, with rests; the rests and runs of one entry; and the
// work that falls between two instants, for each resource, reckoned in three ways that
// plain work does not see: weights under which four of six benches count as all of them
// (Fekete and Schepers, New classes of fast lower bounds for bin packing problems,
// 2001), whole waves of heats in place of their sum, and both from what an activity
// waits for and to what waits for it. Entries that rest long have to run early and late: what
// they must do within some stretch of time is counted against what there is. Lengths that remain are refuted by windows that
// contradict one another (Klein and Scholl, Computing lower bounds by destructive
// improvement, 1999): order, pairs that cannot overlap, what is sure to be used.
//
// # What may be relied on
//
// A plan keeps every rule; the tests check it by code of their own. The same problem,
// seed and rounds give the same plan, in this version; a later one may find another.
// Planned again from a standing plan that can still be kept or moved to the left, a day
// is never longer: more benches or shorter heats alone make simple rules worse at times
// (Graham, Bounds on multiprocessing timing anomalies, 1969). What cannot be planned is
// refused with the activity and the rule; dues that contradict one another are named as
// a set of which none can be left out, where that is proved, and else it is said that
// no plan was found.
//
// A round costs three passes through the activities; each looks through the pieces of
// the resources' use, so a pass is quadratic at worst. Memory is quadratic in bits, for
// the order of activities. [Options.Stop] is asked once a round, and not while bounds
// are reckoned before it.
//
// # What it does not do
//
// It knows no clock, no chance but its seed, and nothing of how long heats really take:
// durations are what they are told to be. It splits no activity, counts no stock that
// is used up, plans no change-over that depends on what came before, and makes the day
// short, not the waits of children.
package timetable
