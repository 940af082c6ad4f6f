package programme

import (
	"fmt"

	"benchmeet/domain/day"
)

// treeHeat is the meet's id of a heat of a stage's tree, whose ids are
// "round.number".
func treeHeat(d day.DivisionID, stage int, id string) day.HeatID {
	return day.HeatID(fmt.Sprintf("%s-%d.%s", d, stage, id))
}

func seedAt(seeds []day.EntryID, at int) day.EntryID {
	if at < 0 || at >= len(seeds) {
		return ""
	}
	return seeds[at]
}
