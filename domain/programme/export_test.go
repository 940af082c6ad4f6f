package programme

// What a file of a form in this package can use, for a form of the tests' own.
type Dealt = dealt

func Enter[F Form]() { enter[F]() }

var (
	StageLines = stageLines
	RankLines  = rankLines
)
