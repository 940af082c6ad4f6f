// Package rest serves the API that api/openapi.yaml describes: a handler decodes
// a request into a command, gives it to a ledger, and encodes the receipt; or it
// reads a state and encodes a view.
//
// There is one file a resource. roles.go says who may do what, problem.go which
// HTTP status an error has, both as one table. Requests are validated against
// the contract before a handler sees them; chunks of stamps have a strict
// decoder of their own.
package rest
