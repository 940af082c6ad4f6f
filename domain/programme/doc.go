// Package programme knows the forms of competition: how a stage is drawn and
// seeded, how its rounds follow from one another, who is ahead, and what each form
// promises. It reads a day.State and changes nothing; a draw is an event that it
// hands back.
//
// A form is a file with a struct of its settings that implements Form and enters
// itself; ReadStage makes a stage with it, FormOf finds it. Nobody else asks which form
// a stage has.
//
// What is not in here: what may be done (package meet), the inspector's table
// (package inspection), the lists of what is to be done (package board), and the
// draws themselves, which work on plain numbers (package bracket).
package programme
