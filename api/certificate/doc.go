// Package certificate gives the server its certificates for TLS: those of an authority
// of its own, which phones of the hall may trust and which can speak for nobody else, or
// those that somebody brings as files. It also is how a node tells whom it talks to.
package certificate
