// Package auth says who may do what: roles, tokens and the caller of a request.
//
// A token is a random secret that an organiser hands out, on paper, as a QR code
// or in a counter box's settings. Only its SHA-256 is kept, and every token ends
// some day.
//
// Browsers read it from the fragment of a link and exchange it at once for a
// session: an HttpOnly cookie with a secret of its own, so that what stays in a
// browser's history opens nothing. The link of an organiser, a referee or an
// inspector can be exchanged once; the code of a bench opens many phones. A
// session ends when somebody signs out or ends it, and with its token.
//
// Programs and counter boxes send the token itself as a bearer header. A link
// that a browser exchanged before any program used it is no bearer any more.
//
// An organiser who came by a link may give their key a name and a password, and signs in
// by those from then on. Wrong tries make whoever makes them wait, and nobody else.
//
// The package knows no HTTP; api/rest and api/live read the headers.
package auth
