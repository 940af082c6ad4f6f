// Package wire is the contract and the domain side by side: for each noun, in one
// file, what is read of a body and what is shown of a value. ReadX makes a value of
// the domain of what was sent; ShowX makes of it what is sent. Where a noun goes both
// ways, each is the inverse of the other, and tests hold it for every field.
//
// Units change here, from the contract's metres, seconds and volts to the log's whole
// µm, µs and mV and back. A value that the contract lets be left out is zero in the
// domain. Nothing here asks a state or knows a name: what a page shows of a whole day
// stands in package view, and whether an order may be is for the domain to say. What
// is read was held to the contract before.
package wire
