// Package auth says who may do what: roles, tokens and the caller of a request.
//
// A token is a random secret that an organiser hands out, on paper, as a QR code
// or in a counter box's settings. Only its SHA-256 is kept. It comes back as a
// bearer header (counter boxes, scripts) or as an HttpOnly cookie (browsers,
// which read it from the fragment of a link and exchange it at once).
//
// The package knows no HTTP; api/rest and api/live read the headers.
package auth
