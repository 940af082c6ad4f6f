package measure

// Edge is the part of a turn at the start or at the end of a run, which no stamp
// counts and which is found from the stamps beside it.
type Edge struct {
	// Turns of the roller; 0 where the run begins or ends with a stamp.
	Turns float64
	// How the part was found.
	How EdgeHow
}

// EdgeHow says how the part of a turn at one end of a run was found.
type EdgeHow string

// The ways, from the surest to the least sure. They stand in the API and never
// change their meaning.
const (
	EdgeNone      EdgeHow = "none"      // the run begins or ends with a stamp
	EdgeBetween   EdgeHow = "between"   // between the stamps on both sides
	EdgePredicted EdgeHow = "predicted" // from the speed on the inner side
	EdgeBridged   EdgeHow = "bridged"   // likewise, with missed passes in it
	EdgeDue       EdgeHow = "due"       // a mark was due and did not come: a whole step
	EdgeUnknown   EdgeHow = "unknown"   // anything from nothing to one step: half of it
)
