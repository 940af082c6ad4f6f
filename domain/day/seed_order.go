package day

// SeedMethod says how the entries of a stage come into their seed order.
type SeedMethod string

// Rated is an entry's rating as an order by rating took it, in thousandths.
type Rated struct {
	Entry  EntryID `json:"entry"`
	Rating int64   `json:"rating_milli"`
}

// SeedList is the seed order that stands for the draw of a stage. Entries that
// leave fall out of it, and those that come later go behind.
type SeedList struct {
	Stage  int        `json:"stage"`
	Method SeedMethod `json:"method"`
	Order  []EntryID  `json:"order"`
	// LotSeed is the lot of the order; the stage's lot is drawn once, so nobody
	// draws until the lots please.
	LotSeed uint64 `json:"lot_seed"`
	AtUS    int64  `json:"at_us"`
}
