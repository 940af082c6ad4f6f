// Package naming gives the things of a race day the names that people know: a heat is
// "Juniors, round 1, heat 2", a bench the number on its plate, an entry its start number.
//
// Refusals carry ids for machines. Before one is worded, whoever has the state names them
// here, all at once and by their type, so that no sentence needs to think of it. The names
// of heats are those of the pages (web/src/desk/day/names.ts), within a sentence; a table that both
// sides test (api/view/testdata/heat_names.json) holds them together.
package naming
