package ledger

import (
	"benchmeet/domain/club"
	"benchmeet/domain/day"
	"benchmeet/domain/meet"
)

// The two kinds of streams.
type (
	// OfMeets is the ledger of meets; its model is [Meets].
	OfMeets = Ledger[day.State, meet.Command, day.Event]
	// OfClubs is the ledger of clubs; its model is [Clubs].
	OfClubs = Ledger[club.State, club.Command, club.Event]
)
