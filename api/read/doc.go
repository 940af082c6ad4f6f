// Package read keeps what topics and pages of meets show, so that it is computed once
// for a position of a log and shared by all who ask, by REST and over the live feed.
//
// What an event cannot have changed is not computed again. The state says when each
// part of the day changed last (day.State.Changed): the table and the bracket of a
// division hold until the division changes, and within them a line of the table holds
// as long as the line is the same, and a heat until that heat changes. The page of the
// meet, the call board and the orders of benches are put together after every event,
// of parts that hold. What is kept are bytes of JSON, and they are those that package
// view gives when it computes everything; a test holds them equal over random days.
//
// All that is kept is of one edition of the club's names: where a name or a consent has
// changed nothing of before is given out any more.
package read
