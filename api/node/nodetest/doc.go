// Package nodetest plays a counter box in a hall, from the description of its lines
// and the physics, and judges what a node made of it. It shares no code with the
// node: a fault of the node must not be one of its judge too.
package nodetest
