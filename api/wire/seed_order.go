package wire

import (
	"benchmeet/api/gen"
	"benchmeet/domain/day"
	"benchmeet/domain/programme"
)

// ReadSeedOrder reads a seed order, without the ratings that it may go by.
func ReadSeedOrder(b gen.SeedOrderBody) programme.SeedOrder {
	return programme.SeedOrder{Method: day.SeedMethod(b.Method), Order: ReadEntryIDs(Deref(b.Order))}
}

// ReadEntryIDs reads a list of entries.
func ReadEntryIDs(texts []string) []day.EntryID {
	out := make([]day.EntryID, len(texts))
	for i, text := range texts {
		out[i] = day.EntryID(text)
	}
	return out
}
