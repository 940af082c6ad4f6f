package programme

import "benchmeet/domain/day"

// What a file of a form in this package can use, for a form of the tests' own.
type Dealt = dealt

func Enter[F Form]() { enter[F]() }

var RankLines = rankLines

// StageLines are the lines of a stage in the order of its seeds.
func StageLines(s *day.State, d day.Division, stage int) []Standing {
	return stageLines(s, d, stage).all
}
