package day

// Stage kinds.
const (
	TimedRounds       StageKind = "timed-rounds"
	Knockout          StageKind = "knockout"
	DoubleElimination StageKind = "double-elimination"
	RoundRobin        StageKind = "round-robin"
	Swiss             StageKind = "swiss"
	Groups            StageKind = "groups"
	Heats             StageKind = "heats"
	PointsRounds      StageKind = "points-rounds"
)
