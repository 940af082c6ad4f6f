// Package node is the agent beside a bench: it reads the counter box, asks the
// server what the bench has to do, and hands in the stamps of each run until they
// are acknowledged.
//
// A counter box writes lines of text:
//
//	123456        a mark passed the sensor at 123456 µs of the box's clock
//	now 123456    the box's clock, sent now and then while nothing turns
//	start 123456  the start signal, stamped by the box itself
//
// Every chunk is on the node's disk before it is sent, and leaves it only when the
// server has acknowledged it: the network may go, the server may be unplugged, the
// node may lose power. Chunks carry the box's stamps and a boot id that is drawn
// when the node starts or the box's clock falls back; speed is never computed from
// arrival times.
//
// Where the box has no start signal, the start is the arrival of the server's word
// at the node, with a bound of the delay that the measurement takes into its
// uncertainty.
package node
