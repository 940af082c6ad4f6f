// Package ratings rates published results into the club: each publication of a
// division becomes one order to the club's stream, under an id that follows from
// the publication. A publication that a stop left unrated is found when the server
// starts again. Computing stands in domain/club and domain/rating.
package ratings
