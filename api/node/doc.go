// Package node is the agent beside a bench: it reads the counter box, asks the
// server what the bench has to do, and hands in the stamps of each run until they
// are acknowledged.
//
// Protocol is what a counter box writes, whole, as people read it; ParseLine reads
// one line of it and knows nothing of the lines before. A box then follows the
// clock over wraps, spoiled lines and restarts, and Node makes runs of what
// is left.
//
// Every chunk is on the node's disk before it is sent, and leaves it only when the
// server has named it in its receipt: the network may go, a portal may answer in
// the server's place, the server may be unplugged, the node may lose power. Chunks
// carry the box's stamps, never corrected; speed is never computed from arrival
// times. Arrivals serve three ends, all of them told: they tell a spoiled line from
// a restart, place what came after a restart behind what came before (a flag of the
// run), and compare the box's clock with the computer's (a word in the log, and the
// figures in the totals of the run).
//
// Where the box has no start signal, the start is the arrival of the server's word
// at the node, with a bound of the delay that the measurement takes into its
// uncertainty.
package node

import _ "embed"

// Protocol is the text that describes the lines of a counter box: grammar, meaning,
// and what becomes of spoiled ones.
//
//go:embed protocol.txt
var Protocol string
