// Package lesson reports on a practice session: what each car did and guessed, for the
// leader and for awards, and what the class found out, without saying whose car it was.
//
// It is a report over the state of the club: pure, and part of no fold.
package lesson
