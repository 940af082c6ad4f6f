// Package comparison compares the benches of one race day: it gathers the runs
// that a comparison may use, has fairness fit them, and reads the reference checks.
//
// It is a report over the states of a meet and of its club and part of neither.
// Everything that a bench measured is compared as it was read: factors that were
// adopted correct results, not what the next comparison sees.
//
// Runs are compared by their mean speed, which is the distance over the race time,
// so that runs of the same length of race can be compared; a car in races of
// another length counts as another car.
package comparison
